import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../nesting/index.ts';
import { largestRectangles } from '../../pattern/shelf/largestRectangles.ts';
import { box } from '../support/layOf.ts';

const ANY = { shortMm: 0.5, longMm: 0.5 };
const area = ({ minX, maxX, minY, maxY }: { minX: number; maxX: number; minY: number; maxY: number }) =>
  (maxX - minX) * (maxY - minY);
const at = (ring: Point[], dx: number, dy: number): Point[] => ring.map(([x, y]) => [x + dx, y + dy]);

describe('largest rectangles in an outline with holes', () => {
  it('finds both arms of an L, the larger first, and none twice', () => {
    const ell: Point[] = [
      [0, 0],
      [500, 0],
      [500, 100],
      [120, 100],
      [120, 300],
      [0, 300],
    ];
    const found = largestRectangles({ outer: ell, holes: [] }, ANY, 5);
    expect(found[0]).toEqual({ minX: 0, minY: 0, maxX: 500, maxY: 100 });
    expect(found[1]).toEqual({ minX: 0, minY: 100, maxX: 120, maxY: 300 });
    expect(found).toHaveLength(2);
  });

  it('asks for both sides, either way round: an area alone is no use', () => {
    const strip = { outer: box(2000, 40), holes: [] };
    expect(largestRectangles(strip, { shortMm: 50, longMm: 100 }, 1)).toEqual([]);
    expect(largestRectangles(strip, { shortMm: 40, longMm: 100 }, 1)).toHaveLength(1);
    expect(
      largestRectangles({ outer: box(40, 2000), holes: [] }, { shortMm: 40, longMm: 100 }, 1),
    ).toHaveLength(1);
    // The largest of all is too narrow here; the one asked for is smaller.
    const outer: Point[] = [
      [0, 0],
      [2000, 0],
      [2000, 40],
      [150, 40],
      [150, 150],
      [0, 150],
    ];
    expect(largestRectangles({ outer, holes: [] }, { shortMm: 100, longMm: 100 }, 1)).toEqual([
      { minX: 0, minY: 0, maxX: 150, maxY: 150 },
    ]);
  });

  it('keeps inside slanted edges, and close to the best there is', () => {
    // Half the area of a right triangle is the most a rectangle along its sides can have: geometry.
    const triangle: Point[] = [
      [0, 0],
      [400, 0],
      [0, 300],
    ];
    const [best] = largestRectangles({ outer: triangle, holes: [] }, ANY, 1);
    expect(best!.maxX / 400 + best!.maxY / 300).toBeLessThanOrEqual(1 + 1e-9);
    expect(area(best!)).toBeGreaterThan(0.97 * 30_000);
  });

  /** A region of unit squares: a histogram as outline, with square holes that lie inside it. */
  const region = fc
    .record({
      heights: fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 9 }),
      holes: fc.array(fc.tuple(fc.integer({ min: 0, max: 8 }), fc.integer({ min: 0, max: 6 })), {
        maxLength: 3,
      }),
    })
    .map(({ heights, holes }) => {
      const outer: Point[] = [
        [0, 0],
        [heights.length, 0],
      ];
      for (let c = heights.length - 1; c >= 0; c--) outer.push([c + 1, heights[c]!], [c, heights[c]!]);
      const inside = holes.filter(([x, y]) => x < heights.length && y < heights[x]!);
      const cells = (x: number, y: number) =>
        x < heights.length && y < heights[x]! && !inside.some(([hx, hy]) => hx === x && hy === y);
      const rings = [...new Set(inside.map(String))].map((key) => {
        const [x, y] = key.split(',').map(Number);
        return at(box(1, 1), x!, y!).toReversed();
      });
      return { outer, holes: rings, cells };
    });

  it('is exact along and across: no rectangle of whole squares is larger than the one found', () => {
    fc.assert(
      fc.property(region, fc.integer({ min: 1, max: 3 }), fc.integer({ min: 1, max: 3 }), (shape, a, b) => {
        const least = { shortMm: Math.min(a, b), longMm: Math.max(a, b) };
        let most = 0;
        for (let x0 = 0; x0 < 9; x0++)
          for (let y0 = 0; y0 < 7; y0++)
            for (let x1 = x0 + 1; x1 <= 9; x1++)
              for (let y1 = y0 + 1; y1 <= 7; y1++) {
                let isFree = true;
                for (let x = x0; x < x1; x++) for (let y = y0; y < y1; y++) isFree &&= shape.cells(x, y);
                const [w, h] = [x1 - x0, y1 - y0];
                const isEnough = Math.min(w, h) >= least.shortMm && Math.max(w, h) >= least.longMm;
                if (isFree && isEnough) most = Math.max(most, w * h);
              }
        const [best] = largestRectangles(shape, least, 1);
        expect(best ? area(best) : 0).toBeCloseTo(most, 6);
      }),
    );
  });

  it('tells rectangles that lie inside and apart', () => {
    fc.assert(
      fc.property(region, (shape) => {
        const found = largestRectangles(shape, ANY, 20);
        const seen = new Set<string>();
        for (const { minX, maxX, minY, maxY } of found)
          for (let x = minX; x < maxX; x++)
            for (let y = minY; y < maxY; y++) {
              expect(shape.cells(x, y)).toBe(true);
              expect(seen.has(`${x} ${y}`)).toBe(false);
              seen.add(`${x} ${y}`);
            }
      }),
    );
  });
});
