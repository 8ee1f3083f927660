import { biasStrips, continuousBiasSquare } from './bias.ts';

/** A long strip (a binding, a strap, piping) from cloth: how many lengths, how many joins, how much cloth. Millimetres. */

export interface StripsWanted {
  /** Of all strips together, joined. */
  readonly lengthMm: number;
  readonly widthMm: number;
  /** Of the cloth that can be cut from, selvedge to selvedge. */
  readonly clothWidthMm: number;
  /** Added to each of two ends that meet. */
  readonly joinMm: number;
  /** Ends joined straight across, or at 45°. */
  readonly slant: 'straight' | 'diagonal';
}

export interface StripsCut {
  readonly strips: number;
  readonly joins: number;
  /** Each as it is cut. */
  readonly eachMm: number;
  /** Along the selvedge. */
  readonly clothMm: number;
}

export interface BiasCut extends StripsCut {
  /** The same, where the corner that is cut off first is not sewn on again at the other end. */
  readonly clothWithCornerMm: number;
}

/** More lengths than anyone joins. */
const MOST_STRIPS = 1000;
/** Slack of sums of decimal measures, as a share of a strip. */
const SLACK = 1e-9;

/**
 * Strips cut straight across the cloth. A straight join takes its allowance from both ends; one at 45° also takes half
 * the strip's width from each, since the ends lie across each other there.
 * Null where an end takes more than a strip has, or there would be too many.
 *
 * @throws RangeError for measures of 0 or less (a join may take nothing)
 */
export function straightStrips(wanted: StripsWanted): StripsCut | null {
  check(wanted);
  const { lengthMm, widthMm, clothWidthMm, joinMm, slant } = wanted;
  const end = slant === 'diagonal' ? joinMm * Math.SQRT2 + widthMm / 2 : joinMm;
  const strips = howMany(lengthMm, clothWidthMm, end);
  return strips === null
    ? null
    : { strips, joins: strips - 1, eachMm: clothWidthMm, clothMm: strips * widthMm };
}

/**
 * Strips at 45°, selvedge to selvedge. Their ends lie at 45° already, so that a join takes its allowance alone, √2 times
 * as much along the strip. Null as with `straightStrips`.
 *
 * @throws RangeError for measures of 0 or less (a join may take nothing)
 */
export function stripsOnBias(wanted: StripsWanted): BiasCut | null {
  check(wanted);
  const { lengthMm, widthMm, clothWidthMm, joinMm } = wanted;
  const { eachMm } = biasStrips(clothWidthMm, clothWidthMm, widthMm, true);
  const strips = howMany(lengthMm, eachMm, joinMm * Math.SQRT2);
  if (strips === null) return null;
  const clothMm = strips * widthMm * Math.SQRT2;
  return { strips, joins: strips - 1, eachMm, clothMm, clothWithCornerMm: clothMm + clothWidthMm };
}

/** Side of the square from which the same is cut as one endless strip on the bias. */
export function squareForBias({ lengthMm, widthMm, joinMm }: StripsWanted): number {
  return continuousBiasSquare(lengthMm, widthMm, joinMm);
}

/** The fewest pieces of a length that make another, where each join takes `endMm` from both pieces. */
function howMany(lengthMm: number, eachMm: number, endMm: number): number | null {
  if (lengthMm <= eachMm * (1 + SLACK)) return 1;
  const gain = eachMm - 2 * endMm;
  if (gain <= 0) return null;
  const strips = Math.ceil((lengthMm - 2 * endMm) / gain - SLACK);
  return strips <= MOST_STRIPS ? strips : null;
}

function check({ lengthMm, widthMm, clothWidthMm, joinMm }: StripsWanted): void {
  if (!(lengthMm > 0 && widthMm > 0 && clothWidthMm > 0 && joinMm >= 0)) {
    throw new RangeError(
      `strips: measures out of range: ${lengthMm}, ${widthMm}, ${clothWidthMm}, ${joinMm}`,
    );
  }
}
