import type { Project } from '../../pattern/exchange/project.ts';
import { duplicateIds } from '../../pattern/exchange/references.ts';
import { type Fault, Problem } from './problem.ts';

/** More than this many faults help nobody; the rest is counted. */
const SHOWN = 50;

/** 400 with the faults by path. */
export function invalid(where: 'body' | 'address', faults: readonly Fault[]): Problem {
  return new Problem({
    status: 400,
    kind: 'invalid-request',
    title: 'Invalid request',
    detail: `The ${where} has ${faults.length === 1 ? 'a fault' : `${faults.length} faults`}; see "faults".`,
    faults: faults.slice(0, SHOWN),
  });
}

/**
 * What no schema of a single part can see: two things with one id. Such a project could be stored, but not be
 * opened again.
 */
export function requireUniqueIds(project: Project): void {
  const faults = duplicateIds(project).map(({ text }) => ({ path: 'project', message: sentence(text) }));
  if (faults.length > 0) throw invalid('body', faults);
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
