import type { Piece, Project } from '../../../pattern/exchange/project.ts';
import { isFormula } from '../../../pattern/shapes/index.ts';

/** Allowance a sewn size starts with: 1 cm, or 3/8 in. */
export const USUAL_ALLOWANCE_MM = { cm: 10, mm: 10, in: 9.525 } as const;

/** What measures say about the seam allowance: it is in them (`cut`), or comes on top (`sew`). */
export interface SizesLine {
  readonly line: Piece['line'];
  /** What comes on top, mm; kept while the sizes have it in them, for going back. */
  readonly allowanceMm: number;
}

/** A pattern gives its sizes one way: as the last piece that was measured in this project, else with the allowance in them. */
export function usualLine({ pieces, units }: Pick<Project, 'pieces' | 'units'>): SizesLine {
  const last = pieces.findLast(
    ({ source }) => source?.kind === 'measured' || (source?.kind === 'shape' && !isFormula(source.shape)),
  );
  return last?.line === 'sew'
    ? { line: 'sew', allowanceMm: last.allowanceMm }
    : { line: 'cut', allowanceMm: USUAL_ALLOWANCE_MM[units] };
}
