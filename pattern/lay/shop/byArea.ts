/** Leather and other cloth that is sold by the area of whole hides, whose outlines nobody knows before they are there. */

export interface ByArea {
  /** What is to be bought at the better and at the worse yield, mm². */
  readonly fromMm2: number;
  readonly toMm2: number;
  /** The same in whole hides. */
  readonly fromHides: number;
  readonly toHides: number;
}

/**
 * Area of hides to buy: the pieces' own area divided by the yield, at the better and the worse end of its range.
 *
 * @param netMm2 area of all pieces
 * @param hideMm2 area of one hide
 * @throws RangeError for yields outside 1 to 100 per cent, or a hide without area
 */
export function hidesToBuy(netMm2: number, lowPercent: number, highPercent: number, hideMm2: number): ByArea {
  for (const percent of [lowPercent, highPercent]) {
    if (!(percent >= 1 && percent <= 100)) throw new RangeError(`hidesToBuy: a yield of ${percent} %`);
  }
  if (!(hideMm2 > 0)) throw new RangeError(`hidesToBuy: a hide of ${hideMm2} mm²`);
  const [worse, better] = [Math.min(lowPercent, highPercent), Math.max(lowPercent, highPercent)];
  const fromMm2 = (100 * netMm2) / better;
  const toMm2 = (100 * netMm2) / worse;
  // Sums of areas round: what is a whole number of hides but for that is no hide more.
  const hides = (mm2: number): number => Math.ceil(mm2 / hideMm2 - 1e-9);
  return { fromMm2, toMm2, fromHides: hides(fromMm2), toHides: hides(toMm2) };
}
