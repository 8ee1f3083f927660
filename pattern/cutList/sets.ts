import type { BagSet, Piece, Project } from '../exchange/project.ts';
import { takeSteps } from '../variants/index.ts';

/** The sets that are of one size: what is cut for all of them is alike. */
export interface OneSize {
  readonly alongPercent: number;
  readonly acrossPercent: number;
  /** Numbers of the sets, counted through the whole project from 1. */
  readonly numbers: readonly number[];
}

/** The sets of a project by size, those as drawn first. A project without sets is one set, as drawn. */
export function sizesOf(project: Pick<Project, 'sets'>): OneSize[] {
  const sizes = new Map<string, OneSize>();
  let next = 1;
  for (const { alongPercent, acrossPercent, times } of project.sets ?? []) {
    const numbers = Array.from({ length: times }, () => next++);
    const key = `${alongPercent} ${acrossPercent}`;
    const before = sizes.get(key)?.numbers ?? [];
    sizes.set(key, { alongPercent, acrossPercent, numbers: [...before, ...numbers] });
  }
  if (sizes.size === 0) return [{ alongPercent: 100, acrossPercent: 100, numbers: [1] }];
  const isDrawn = (size: OneSize): number =>
    size.alongPercent === 100 && size.acrossPercent === 100 ? 0 : 1;
  return [...sizes.values()].sort((a, b) => isDrawn(a) - isDrawn(b));
}

/** How many sets there are of all sizes together. */
export function setsTimes(project: Pick<Project, 'sets'>): number {
  return (project.sets ?? []).reduce((sum: number, { times }: BagSet) => sum + times, 0) || 1;
}

/** The piece in the size of a set; null where it can't be made so. */
export function pieceOfSize(piece: Piece, size: OneSize): Piece | null {
  const { alongPercent, acrossPercent } = size;
  if (alongPercent === 100 && acrossPercent === 100) return piece;
  const scaled = takeSteps(piece, [{ kind: 'scale', alongPercent, acrossPercent }]);
  return scaled.ok ? scaled.piece : null;
}
