/** Sheets printed on at home: ISO 216, and the sizes of ANSI/ASME Y14.1 and US practice. Upright, in mm. */
export const PAPER_SIZES: Readonly<Record<string, readonly [widthMm: number, heightMm: number]>> = {
  A5: [148, 210],
  A4: [210, 297],
  A3: [297, 420],
  Letter: [215.9, 279.4],
  Legal: [215.9, 355.6],
  Tabloid: [279.4, 431.8],
};

/** A page made for one paper and printed to fit another. */
export interface FitToPage {
  readonly from: string;
  readonly to: string;
  /** What everything is multiplied by. */
  readonly factor: number;
}

/** A printer's scale is a whole per mille at best, and a square is measured to a quarter of a millimetre. */
const FIT_TOLERANCE = 0.0025;

/** Fittings of one paper to another, the commonest first: A4 and Letter are mistaken for each other daily. */
const FITTINGS: readonly FitToPage[] = [
  ['A4', 'Letter'],
  ['Letter', 'A4'],
  ['A3', 'Tabloid'],
  ['Tabloid', 'A3'],
  ['A4', 'A3'],
  ['A3', 'A4'],
  ['A4', 'A5'],
  ['A5', 'A4'],
  ['Legal', 'Letter'],
  ['Legal', 'A4'],
  ['Tabloid', 'Letter'],
  ['A3', 'Letter'],
].map(([from, to]) => ({
  from: from as string,
  to: to as string,
  factor: fitFactor(from as string, to as string),
}));

/** How much a page of one paper shrinks or grows to fill another, margins left aside. RangeError for unknown paper. */
export function fitFactor(from: string, to: string): number {
  const source = PAPER_SIZES[from];
  const target = PAPER_SIZES[to];
  if (!source || !target) throw new RangeError(`fitFactor: no such paper (${from}, ${to})`);
  return Math.min(target[0] / source[0], target[1] / source[1]);
}

/**
 * The fitting that makes things `printed` times as large as they are, or null.
 * @param within share that the measured size may be off, where it is more than usual
 */
export function recogniseFit(printed: number, within = 0): FitToPage | null {
  const off = ({ factor }: FitToPage): number => Math.abs(printed / factor - 1);
  const near = FITTINGS.filter((fit) => off(fit) <= Math.max(FIT_TOLERANCE, within));
  // Of several the nearest; the commoner first where they are equally near.
  return near.reduce<FitToPage | null>((best, fit) => (!best || off(fit) < off(best) ? fit : best), null);
}
