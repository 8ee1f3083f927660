import type { QualityRow } from './quality.ts';

/** How a time grows with the number of pieces: time = `at100` · (pieces / 100) ^ `exponent`. */
export interface Growth {
  readonly exponent: number;
  /** In the unit of the times. */
  readonly at100: number;
}

/**
 * The power law that fits best: least squares of the logarithms. Null with fewer than two different numbers of pieces,
 * or if a time is not above 0.
 */
export function fitPowerLaw(points: readonly (readonly [pieces: number, time: number])[]): Growth | null {
  if (points.some(([pieces, time]) => !(pieces > 0 && time > 0))) return null;
  const logs = points.map(([pieces, time]) => [Math.log(pieces / 100), Math.log(time)] as const);
  const meanX = logs.reduce((sum, [x]) => sum + x, 0) / logs.length;
  const meanY = logs.reduce((sum, [, y]) => sum + y, 0) / logs.length;
  const spread = logs.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
  if (!(spread > 0)) return null;
  const exponent = logs.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0) / spread;
  return { exponent, at100: Math.exp(meanY - exponent * meanX) };
}

/** Growth of the time until 98 % of the final density, over all seeds and sizes of one set. */
export function growthOf(rows: readonly QualityRow[]): Growth | null {
  return fitPowerLaw(
    rows.flatMap(({ placed, of, to98PercentMs }) =>
      placed === of && to98PercentMs !== null ? [[of, to98PercentMs] as const] : [],
    ),
  );
}
