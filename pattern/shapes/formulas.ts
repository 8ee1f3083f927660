import type { Measures } from './shapes.ts';

/** From the finished size to the cut size, with every allowance a number one can see and change. Millimetres. */

export type FormulaName = 'strap' | 'toteBody' | 'gusset' | 'binding';

export const FORMULA_MEASURES = {
  strap: ['width', 'length', 'seam'],
  toteBody: ['width', 'height', 'depth', 'seam', 'hem'],
  gusset: ['width', 'height', 'depth', 'seam', 'hem'],
  binding: ['edge', 'width', 'reserve'],
} as const satisfies Record<FormulaName, readonly string[]>;

export const FORMULA_NAMES = Object.keys(FORMULA_MEASURES) as readonly FormulaName[];

/** Measures that may be nothing. */
export const MAY_BE_ZERO = new Set(['seam', 'hem', 'reserve']);

/** One side of the cut piece: a sum whose terms can be shown. */
export interface CutSide {
  readonly mm: number;
  /** Terms of the sum: so many times a measure. */
  readonly terms: readonly { readonly times: number; readonly measure: string }[];
}

export interface CutSize {
  readonly along: CutSide;
  readonly across: CutSide;
}

type Terms = Readonly<Record<string, number>>;

/**
 * What each formula adds up, side by side. Strap: folded in four lengthwise, so four times its width
 * (https://www.spencerogg.com/tutorials/cross-body-straps-the-easy-way/). Tote body in one piece, boxed at the bottom:
 * width + depth by twice the height + depth (http://patchworkpie.blogspot.com/2008/02/tote-bags-hidden-in-plain-site.html,
 * there with 1 in for seams and 3 in for hems). Gusset: both sides and the bottom, twice the height + width
 * (https://peschelpress.com/cutting-tote-bag-fabric). Binding: the edge with a reserve for corners and for closing
 * (shops add 0, 10 or 24 in, so it is a measure of its own).
 */
const SIDES: Readonly<Record<FormulaName, { readonly along: Terms; readonly across: Terms }>> = {
  strap: { along: { length: 1, seam: 2 }, across: { width: 4 } },
  toteBody: { along: { height: 2, depth: 1, hem: 2 }, across: { width: 1, depth: 1, seam: 2 } },
  gusset: { along: { height: 2, width: 1, hem: 2 }, across: { depth: 1, seam: 2 } },
  binding: { along: { edge: 1, reserve: 1 }, across: { width: 1 } },
};

/** The first measure that is missing; null if all are there. */
export function missingMeasure(name: FormulaName, m: Measures): string | null {
  const isMissing = (measure: string): boolean =>
    MAY_BE_ZERO.has(measure) ? !((m[measure] ?? -1) >= 0) : !((m[measure] ?? 0) > 0);
  return FORMULA_MEASURES[name].find(isMissing) ?? null;
}

/** Cut size of a piece by its finished measures. Missing measures count as nothing: ask `missingMeasure` before. */
export function cutSizeOf(name: FormulaName, m: Measures): CutSize {
  const side = (terms: Terms): CutSide => {
    const found = Object.entries(terms).map(([measure, times]) => ({ times, measure }));
    return {
      mm: found.reduce((sum, { times, measure }) => sum + times * (m[measure] ?? 0), 0),
      terms: found,
    };
  };
  return { along: side(SIDES[name].along), across: side(SIDES[name].across) };
}
