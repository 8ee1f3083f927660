import { describe, expect, it } from 'vitest';
import { hidesToBuy } from '../../pattern/lay/shop/byArea.ts';

const FT2 = 304.8 ** 2;

describe('leather by the area of hides', () => {
  it('is the pieces’ area divided by the yield: 143 and 200 square feet for 100', () => {
    // https://www.keleenleathers.com/leather-cutting-yield-explained/ prints 142 for 100 ÷ 0.70, which is 142.86.
    const { fromMm2, toMm2 } = hidesToBuy(100 * FT2, 50, 70, 50 * FT2);
    expect(Math.ceil(fromMm2 / FT2)).toBe(143);
    expect(toMm2 / FT2).toBeCloseTo(200, 9);
  });

  it('six pads of 24 × 24 in need 54 square feet, as traders count them: the factor of 18 for a yard under-buys', () => {
    // https://www.keleenleathers.com/how-to-buy-leather/ and http://cortinaleathers.gomediahost.com/hide-types-and-sizes/:
    // net 24 sq ft; two yards of 54 in cloth would be 36 sq ft by the factor.
    const { fromMm2, toMm2 } = hidesToBuy(24 * FT2, 24 / 0.54, 70, 50 * FT2);
    expect(toMm2 / FT2).toBeCloseTo(54, 0);
    expect(toMm2 / FT2).toBeGreaterThan(36);
    expect(fromMm2).toBeLessThan(toMm2);
  });

  it('counts whole hides, and takes the yields in either order', () => {
    const one = hidesToBuy(50 * FT2, 50, 100, 50 * FT2);
    expect([one.fromHides, one.toHides]).toEqual([1, 2]);
    expect(hidesToBuy(50 * FT2, 100, 50, 50 * FT2)).toEqual(one);
    expect(() => hidesToBuy(1, 0, 70, 1)).toThrow(RangeError);
    expect(() => hidesToBuy(1, 50, 70, 0)).toThrow(RangeError);
  });
});
