import type { Cloth, Project } from '../../pattern/exchange/project.ts';
import { choiceFor } from './layChoice.ts';

/**
 * 53-bit hash of a text as 14 hex digits (two multiply–xorshift lanes mixed at the end, after the public-domain
 * "cyrb53" by bryc). Tells documents apart; it is no defence against anyone.
 */
export function hashText(text: string): string {
  let high = 0xdeadbeef;
  let low = 0x41c6ce57;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    high = Math.imul(high ^ code, 2654435761);
    low = Math.imul(low ^ code, 1597334677);
  }
  high = Math.imul(high ^ (high >>> 16), 2246822507) ^ Math.imul(low ^ (low >>> 13), 3266489909);
  low = Math.imul(low ^ (low >>> 16), 2246822507) ^ Math.imul(high ^ (high >>> 13), 3266489909);
  return (4294967296 * (2097151 & low) + (high >>> 0)).toString(16).padStart(14, '0');
}

/**
 * Mark of all that a lay of one material depends on: its counts, the pieces they name, its cloths and how they are to
 * be laid. What doesn't bear on the layout (names, notes, prices, other materials) may change without spoiling a plan.
 */
export function materialMark(project: Project, materialId: string): string {
  const rows = project.cutList
    .filter((row) => row.materialId === materialId && row.plain + row.mirrored + row.onFold > 0)
    .map((row) => [
      row.pieceId,
      row.plain,
      row.mirrored,
      row.onFold,
      ...(row.joins ? [row.joins] : []),
      ...(row.elsewhere ? [row.elsewhere] : []),
    ]);
  const sizing = project.materials.find(({ id }) => id === materialId)?.sizing;
  // Pieces of other materials that may be cut from this one.
  const guests = project.cutList
    .filter((row) => row.elsewhere?.includes(materialId))
    .map((row) => [row.pieceId, row.plain, row.mirrored, row.onFold, row.materialId]);
  const used = new Set([...rows, ...guests].map(([pieceId]) => pieceId));
  const pieces = project.pieces
    .filter((piece) => used.has(piece.id))
    .map((piece) => [
      piece.id,
      piece.outline,
      piece.holes,
      piece.grainDeg,
      piece.topDeg,
      piece.foldEdge,
      piece.line,
      piece.line === 'sew' || sizing ? piece.allowanceMm : 0,
      ...(piece.lie ? [piece.lie] : []),
      ...(piece.motif ? [piece.motif] : []),
      ...(piece.onBorder ? [piece.onBorder] : []),
      ...(piece.edgeAllowances || piece.corners
        ? [piece.edgeAllowances ?? [], piece.corners ?? 'mitred']
        : []),
    ]);
  const cloths = project.cloths.filter((cloth) => cloth.materialId === materialId).map(rulesThatCount);
  const matches = (project.matches ?? []).filter(({ a, b }) => used.has(a.pieceId) && used.has(b.pieceId));
  const { clothIds, spread, withoutRepeat } = choiceFor(project, materialId);
  const sets = project.sets?.map(({ times, alongPercent, acrossPercent }) => [
    times,
    alongPercent,
    acrossPercent,
  ]);
  // What an earlier release did not know is left out where it is not used: its plans stay fresh.
  const more = [
    ...(sizing || sets ? [sizing ?? null, sets ?? null] : []),
    ...(guests.length > 0 ? [guests] : []),
    ...(matches.length > 0 ? [matches] : []),
    ...(withoutRepeat ? [withoutRepeat] : []),
  ];
  return hashText(JSON.stringify([rows, pieces, cloths, clothIds, spread, ...more], inOrder));
}

/** Rules of a cloth that an earlier release did not know, as they are where they are not used. */
const UNUSED: Readonly<Record<string, unknown>> = {
  tiltDeg: 0,
  stretchAlike: false,
  cutFromBack: false,
  shrinkAlongPercent: 0,
  shrinkAcrossPercent: 0,
  repeat: null,
  border: null,
  usableWidthMm: null,
  squaringEndMm: 0,
  reservePercent: 0,
  reserveMm: 0,
  quantity: 1,
};

/** What of a cloth bears on the layout. */
function rulesThatCount(cloth: Cloth): object {
  const {
    name: _name,
    notes: _notes,
    priceCentsPerMetre: _price,
    preset: _preset,
    printPicture: _picture,
    shelfId: _shelf,
    ...rules
  } = cloth;
  const isUsed = ([key, value]: [string, unknown]): boolean => {
    if (key === 'fadedLines' || (key === 'flaws' && cloth.kind === 'roll')) return (value as []).length > 0;
    return !(key in UNUSED) || UNUSED[key] !== value;
  };
  const used = Object.fromEntries(Object.entries(rules).filter(isUsed));
  if (cloth.repeat?.skewDeg !== 0) return used;
  const { skewDeg: _skew, follow: _follow, ...repeat } = cloth.repeat;
  return { ...used, repeat };
}

/** Fields by name: a document read back from the server has them in the order of the schema, not in that of the page. */
function inOrder(_key: string, value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** Mark of the whole project: changes whenever pieces, cut list or cloths do in a way that bears on a layout. */
export function projectMark(project: Project): string {
  return hashText(project.materials.map((material) => materialMark(project, material.id)).join(' '));
}
