import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bounds, inside, type Ring } from '../../pattern/plan/intervals.ts';
import { labelPoint } from '../../pattern/plan/labelPoint.ts';

const square: Ring = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];

/** A ring around the origin with one point in each direction: simple, often far from convex. */
const star = fc
  .array(fc.double({ min: 2, max: 20, noNaN: true }), { minLength: 4, maxLength: 14 })
  .map((radii) =>
    radii.map((r, i): readonly [number, number] => {
      const angle = (2 * Math.PI * i) / radii.length;
      return [r * Math.cos(angle), r * Math.sin(angle)];
    }),
  );

/** Slow and simple: whether an upright box lies inside, by many lines across it. */
function boxIsInside(rings: readonly Ring[], x: number, y: number, width: number, height: number): boolean {
  const lines = 41;
  for (let i = 0; i <= lines; i++) {
    const at = y - height / 2 + (height * i) / lines;
    const covered = inside(rings, at).some(
      ([a, b]) => a <= x - width / 2 + 1e-6 && b >= x + width / 2 - 1e-6,
    );
    if (!covered) return false;
  }
  return true;
}

describe('labelPoint', () => {
  it('takes the middle of a square, and the largest box that fits it', () => {
    expect(labelPoint([square], 2, 1, 1, 100)).toEqual({ x: 5, y: 5, size: 5 });
  });

  it('stops at the size that is enough', () => {
    expect(labelPoint([square], 2, 1, 1, 3)?.size).toBe(3);
  });

  it('finds nothing where the least size does not fit', () => {
    expect(labelPoint([square], 11, 1, 1, 3)).toBeNull();
    expect(labelPoint([], 1, 1, 1, 3)).toBeNull();
  });

  /*
   *  ┌──┐
   *  │  │
   *  │  └────────┐      a wide box has room only in the foot of an L
   *  └───────────┘
   */
  it('goes where the shape has room for this very box', () => {
    const foot: Ring = [
      [0, 0],
      [30, 0],
      [30, 6],
      [6, 6],
      [6, 30],
      [0, 30],
    ];
    const wide = labelPoint([foot], 20, 4, 1, 1);
    expect(wide).not.toBeNull();
    expect(wide!.y).toBeLessThan(4.01);
    const tall = labelPoint([foot], 4, 20, 1, 1);
    expect(tall!.x).toBeLessThan(4.01);
  });

  it('keeps out of holes', () => {
    const hole: Ring = [
      [3, 3],
      [3, 7],
      [7, 7],
      [7, 3],
    ];
    const found = labelPoint([square, hole], 1, 1, 0.5, 100)!;
    // A frame 3 wide all around: no larger box than 3 × 3.
    expect(found.size).toBeGreaterThan(2.9);
    expect(found.size).toBeLessThanOrEqual(3);
  });

  it('gives a box that lies inside, whatever the outline', () => {
    fc.assert(
      fc.property(star, fc.double({ min: 0.3, max: 8, noNaN: true }), (ring, width) => {
        const found = labelPoint([ring], width, 1, 0.2, 3);
        if (found) {
          expect(boxIsInside([ring], found.x, found.y, width * found.size * 0.999, found.size * 0.999)).toBe(
            true,
          );
        }
      }),
      { numRuns: 300 },
    );
  });

  it('comes within a few per cent of the best of a fine grid', () => {
    fc.assert(
      fc.property(star, fc.double({ min: 0.3, max: 5, noNaN: true }), (ring, width) => {
        const box = bounds(ring);
        let best = 0;
        for (let i = 1; i < 24; i++) {
          for (let j = 1; j < 24; j++) {
            const x = box.minX + ((box.maxX - box.minX) * i) / 24;
            const y = box.minY + ((box.maxY - box.minY) * j) / 24;
            while (boxIsInside([ring], x, y, width * (best + 0.05), best + 0.05)) best += 0.05;
          }
        }
        const found = labelPoint([ring], width, 1, 0.01, 1000);
        expect(found?.size ?? 0).toBeGreaterThan(best * 0.95 - 0.06);
      }),
      { numRuns: 25 },
    );
  });
});
