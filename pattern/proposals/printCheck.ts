import { type FitToPage, recogniseFit } from '../reading/paperSizes.ts';
import { judgeSize, type SizeVerdict, TRUE_SIZE_TOLERANCE } from '../reading/trueSize.ts';

/** What a maker measured of the test square on one printed sheet; null where she didn't. */
export interface MeasuredSheet {
  readonly acrossMm: number | null;
  readonly upMm: number | null;
}

export interface PrintCheck {
  /** For each sheet, in their order; null where nothing was measured. */
  readonly verdicts: readonly (SizeVerdict | null)[];
  /** Numbers, from 1, of sheets that differ from most of the others: printed otherwise than these. */
  readonly odd: readonly number[];
  /** What all sheets but the odd ones must be multiplied by, across and up; null where none was measured. */
  readonly factors: { readonly x: number; readonly y: number } | null;
  readonly trueToSize: boolean;
  /** The paper that the page was fitted to, if the factor is that of one. */
  readonly fit: FitToPage | null;
  /** How far off a measured length may be by the ruler alone, as a share of the square. */
  readonly rulerShare: number;
}

/** A ruler is read to half a millimetre (common practice, no source). */
export const RULER_MM = 0.5;
/** Of a reading that is off by as much, half is likely. */
const LIKELY_PART = 0.5;

/**
 * Judges a print by its test square, measured on one or more sheets: sometimes a single sheet comes out otherwise.
 * @throws RangeError for lengths that are not greater than zero
 */
export function checkPrint(
  statedMm: number,
  sheets: readonly MeasuredSheet[],
  longestMm: number | null = null,
): PrintCheck {
  if (!(statedMm > 0)) throw new RangeError(`checkPrint: ${statedMm} mm is no length of a square`);
  // A small square can't be measured as exactly as it should be: what the ruler can't tell is not held against it.
  const rulerShare = RULER_MM / statedMm;
  const tolerance = Math.max(TRUE_SIZE_TOLERANCE, LIKELY_PART * rulerShare);
  const verdicts = sheets.map(({ acrossMm, upMm }) =>
    acrossMm === null && upMm === null
      ? null
      : judgeSize({ statedMm, measuredXMm: acrossMm, measuredYMm: upMm, longestMm, tolerance }),
  );
  const measured = verdicts.flatMap((verdict, i) => (verdict ? [{ verdict, number: i + 1 }] : []));
  const middleX = median(measured.map(({ verdict }) => verdict.factorX));
  const middleY = median(measured.map(({ verdict }) => verdict.factorY));
  const odd =
    measured.length < 2
      ? []
      : measured
          .filter(
            ({ verdict }) =>
              Math.abs(verdict.factorX / middleX - 1) > 2 * tolerance ||
              Math.abs(verdict.factorY / middleY - 1) > 2 * tolerance,
          )
          .map(({ number }) => number);
  const like = measured.filter(({ number }) => !odd.includes(number)).map(({ verdict }) => verdict);
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  const factors =
    like.length === 0
      ? null
      : { x: mean(like.map(({ factorX }) => factorX)), y: mean(like.map(({ factorY }) => factorY)) };
  const isEven = factors !== null && Math.abs(factors.x / factors.y - 1) <= tolerance;
  const trueToSize = measured.length > 0 && measured.every(({ verdict }) => verdict.trueToSize);
  return {
    verdicts,
    odd,
    factors,
    trueToSize,
    fit:
      isEven && factors && !trueToSize
        ? recogniseFit(2 / (factors.x + factors.y), LIKELY_PART * rulerShare)
        : null,
    rulerShare,
  };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor((sorted.length - 1) / 2)] ?? 1;
}
