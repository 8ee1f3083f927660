import { expect, test } from 'vitest';
import { fitPowerLaw, growthOf } from './growth.ts';
import type { QualityRow } from './quality.ts';

test('a power law is found again from its own points', () => {
  const points = [50, 100, 200, 500, 1_000].map((n) => [n, 3 * (n / 100) ** 1.4] as const);
  expect(fitPowerLaw(points)?.exponent).toBeCloseTo(1.4, 10);
  expect(fitPowerLaw(points)?.at100).toBeCloseTo(3, 10);
});

test('points off the line by the same factor up and down leave the exponent as it is', () => {
  const points = [
    [100, 1],
    [100, 4],
    [400, 8],
    [400, 32],
  ] as const;
  expect(fitPowerLaw(points)?.exponent).toBeCloseTo(1.5, 10);
  expect(fitPowerLaw(points)?.at100).toBeCloseTo(2, 10);
});

test('one size alone, or a time of nothing, says nothing', () => {
  expect(fitPowerLaw([])).toBeNull();
  expect(
    fitPowerLaw([
      [100, 1],
      [100, 2],
    ]),
  ).toBeNull();
  expect(
    fitPowerLaw([
      [100, 0],
      [200, 2],
    ]),
  ).toBeNull();
});

test('runs that did not place everything are left out', () => {
  const row = (of: number, placed: number, to98PercentMs: number | null) =>
    ({ of, placed, to98PercentMs }) as QualityRow;
  const rows = [row(100, 100, 200), row(400, 400, 800), row(1_000, 999, 5), row(500, 500, null)];
  expect(growthOf(rows)?.exponent).toBeCloseTo(1, 10);
});
