import { describe, expect, test } from 'vitest';
import { checkPrint } from '../../pattern/proposals/printCheck.ts';
import { fitFactor } from '../../pattern/reading/index.ts';

const sheet = (acrossMm: number | null, upMm: number | null) => ({ acrossMm, upMm });

describe('a print is judged by its test square', () => {
  // A4 on Letter: 279.4 / 297; Letter on A4: 210 / 215.9 (paper sizes of ISO 216 and ANSI/ASME Y14.1).
  test.each([
    ['A4', 'Letter', 94.1, 0.9407],
    ['Letter', 'A4', 97.3, 0.9727],
  ] as const)('%s fitted to %s is recognised', (from, to, measuredMm, factor) => {
    expect(fitFactor(from, to)).toBeCloseTo(factor, 4);
    const { fit, trueToSize, factors } = checkPrint(100, [sheet(measuredMm, measuredMm)]);
    expect(fit).toMatchObject({ from, to });
    expect(trueToSize).toBe(false);
    expect(factors?.x).toBeCloseTo(100 / measuredMm, 9);
  });

  // 50 mm printed as 47: print again at 106.4 % (Mystical Thread, "Sizing patterns", mysticalthread.tripod.com).
  test('what it must be printed at again', () => {
    const { factors } = checkPrint(50, [sheet(47, 47)]);
    expect((100 * (factors?.x ?? 0)).toFixed(1)).toBe('106.4');
  });

  // 175 mm measured as 173 one way while the other was right: the same page.
  test('across and up are told apart', () => {
    const { factors, fit, trueToSize } = checkPrint(175, [sheet(173, 175)]);
    expect(trueToSize).toBe(false);
    expect(fit).toBeNull();
    expect(100 / (factors?.x ?? 1)).toBeCloseTo(98.9, 1);
    expect(factors?.y).toBe(1);
  });

  // Of three sheets a single one was wrong: 2 in printed as 1⅞ (Sunshine Quilting Addiction, 16 January 2016).
  test('a sheet that came out otherwise is named, and leaves the others alone', () => {
    const inch = 25.4;
    const good = sheet(2 * inch, 2 * inch);
    const { odd, factors, trueToSize } = checkPrint(2 * inch, [
      good,
      good,
      sheet(1.875 * inch, 1.875 * inch),
    ]);
    expect(odd).toEqual([3]);
    expect(factors).toEqual({ x: 1, y: 1 });
    expect(trueToSize).toBe(false);
  });

  test('what a ruler can’t tell on a small square is not held against it', () => {
    expect(checkPrint(25.4, [sheet(25.2, 25.4)]).trueToSize).toBe(true);
    expect(checkPrint(25.4, [sheet(24, 24)]).fit).toMatchObject({ from: 'A4', to: 'Letter' });
    expect(checkPrint(25.4, []).rulerShare).toBeCloseTo(0.0197, 4);
    expect(checkPrint(100, [sheet(99.4, 100)]).trueToSize).toBe(false);
  });

  test('a side that was not measured, and sheets that were not, are left out', () => {
    const { verdicts, factors, trueToSize } = checkPrint(100, [sheet(null, null), sheet(100.2, null)]);
    expect(verdicts[0]).toBeNull();
    expect(factors?.x).toBeCloseTo(100 / 100.2, 9);
    expect(trueToSize).toBe(true);
    expect(checkPrint(100, [sheet(null, null)])).toMatchObject({ factors: null, trueToSize: false, odd: [] });
    expect(() => checkPrint(0, [])).toThrow(RangeError);
  });
});
