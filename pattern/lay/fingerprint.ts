import type { Project } from '../exchange/project.ts';

/**
 * A short mark of all that a lay depends on. Two projects with the same mark need no new lay; a plan whose
 * `madeFrom` differs is out of date. FNV-1a (Fowler, Noll & Vo) over the JSON text, twice with different starts
 * for 64 bits: enough to tell edits apart, not meant against forgery.
 */
export function fingerprint(project: Pick<Project, 'pieces' | 'materials' | 'cutList' | 'cloths'>): string {
  const text = JSON.stringify([project.pieces, project.materials, project.cutList, project.cloths]);
  return [0x811c9dc5, 0x01000193].map((start) => fnv1a(text, start).toString(16).padStart(8, '0')).join('');
}

function fnv1a(text: string, start: number): number {
  let hash = start;
  for (let i = 0; i < text.length; i++) {
    hash ^= text.charCodeAt(i);
    hash = Math.imul(hash, 0x01000193);
  }
  return hash >>> 0;
}
