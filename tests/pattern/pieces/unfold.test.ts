import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference } from '../../../nesting/geometry/boolean.ts';
import { signedArea } from '../../../nesting/geometry/rings.ts';
import { ringProblems } from '../../../nesting/geometry/validity.ts';
import type { Outline, Point } from '../../../nesting/packing/types.ts';
import { unfold } from '../../../pattern/pieces/index.ts';
import { areaOf, halfOutline, NOTCHED_AT_FOLD, rectangle } from './shapes.ts';

const reflect = ([x, y]: Point, [[ax, ay], [bx, by]]: readonly [Point, Point]): Point => {
  const dx = bx - ax;
  const dy = by - ay;
  const along = ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy);
  return [2 * (ax + along * dx) - x, 2 * (ay + along * dy) - y];
};

const differenceArea = (a: Outline, b: Outline): number =>
  [...difference([a], [b]), ...difference([b], [a])].reduce((sum, part) => sum + signedArea(part.outer), 0);

describe('unfold', () => {
  it('makes a whole rectangle of a half one, with four corners and no vertex on the seam', () => {
    //  +----+           +----+----+
    //  |    |  fold: |  |    :    |
    //  +----+           +----+----+
    const outline = rectangle(200, 300);
    const whole = unfold({ outline, holes: [], fold: [outline[3]!, outline[0]!] });
    expect(whole.holes).toEqual([]);
    expect(whole.outline).toHaveLength(4);
    expect([...whole.outline].sort()).toEqual([
      [-200, 0],
      [-200, 300],
      [200, 0],
      [200, 300],
    ]);
  });

  it('doubles the area, is symmetric about the fold and never crosses itself', () => {
    fc.assert(
      fc.property(halfOutline, ({ outline, fold }) => {
        fc.pre(ringProblems(outline).length === 0);
        const whole = unfold({ outline, holes: [], fold });
        expect(signedArea(whole.outline)).toBeCloseTo(2 * signedArea(outline), 4);
        expect(ringProblems(whole.outline)).toEqual([]);
        const mirrored = whole.outline.map((p) => reflect(p, fold)).reverse();
        expect(differenceArea(whole.outline, mirrored)).toBeLessThan(0.01);
        expect(differenceArea(outline, whole.outline)).toBeCloseTo(signedArea(outline), 1);
      }),
      { numRuns: 300 },
    );
  });

  it('a notch in the middle of the fold becomes a hole, and holes are kept on both sides', () => {
    const outline = NOTCHED_AT_FOLD;
    const hole = [...rectangle(20, 20, 30, 60)].reverse();
    const whole = unfold({ outline, holes: [hole], fold: [outline[0]!, outline[1]!] });
    expect(signedArea(whole.outline)).toBeCloseTo(300 * 240, 9);
    expect(whole.outline).toHaveLength(4);
    expect(whole.holes).toHaveLength(3);
    expect(whole.holes.every((ring) => signedArea(ring) < 0)).toBe(true);
    expect(areaOf(whole)).toBeCloseTo(2 * (300 * 120 - 2000 - 400), 9);
  });

  it('a hole with an edge on the fold becomes one hole', () => {
    const hole = [...rectangle(40, 15, 50, 0)].reverse();
    const outline = rectangle(200, 80);
    const whole = unfold({ outline, holes: [hole], fold: [outline[0]!, outline[1]!] });
    expect(whole.holes).toHaveLength(1);
    expect(signedArea(whole.holes[0]!)).toBeCloseTo(-40 * 30, 9);
  });

  it('takes a fold line drawn with several points, a hundredth of a millimetre off, as one', () => {
    const outline: Outline = [
      [0, 0],
      [0.01, -80],
      [0, -200],
      [90, -200],
      [90, 0],
    ];
    const whole = unfold({ outline, holes: [], fold: [outline[0]!, outline[1]!] });
    expect(whole.holes).toEqual([]);
    expect(Math.abs(signedArea(whole.outline) - 2 * 90 * 200)).toBeLessThan(200 * 0.05);
  });

  it('refuses a fold without a length', () => {
    const outline = rectangle(10, 10);
    expect(() => unfold({ outline, holes: [], fold: [outline[0]!, outline[0]!] })).toThrow(RangeError);
  });
});
