import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexHull, diameter, leastWidth } from '../../nesting/geometry/convexHull.ts';
import type { Ring } from '../../nesting/geometry/points.ts';
import { compareDirections, orientation } from '../../nesting/geometry/predicates.ts';
import {
  centroid,
  cleanRing,
  counterClockwise,
  perimeter,
  signedArea,
} from '../../nesting/geometry/rings.ts';
import { placeRing, turnBy } from '../../nesting/geometry/transforms.ts';
import { ringProblems, selfIntersections } from '../../nesting/geometry/validity.ts';
import { starRing } from './arbitraryRings.ts';

const SQUARE: Ring = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];

describe('predicates', () => {
  it('calls a left turn positive, with y up', () => {
    expect(orientation(0, 0, 1, 0, 0, 1)).toBeGreaterThan(0);
    expect(orientation(0, 0, 1, 0, 0, -1)).toBeLessThan(0);
  });

  it('is exact where plain arithmetic is not', () => {
    // Points on the diagonal, moved by one unit in the last place: Kettner et al. 2008, "Classroom examples of
    // robustness problems", figure 2.
    const ulp = 2 ** -53;
    expect(orientation(0.5, 0.5, 12, 12, 24, 24)).toBe(0);
    expect(orientation(0.5, 0.5 + ulp, 12, 12, 24, 24)).toBeGreaterThan(0);
    expect(orientation(0.5 + ulp, 0.5, 12, 12, 24, 24)).toBeLessThan(0);
  });

  it('orders directions by angle', () => {
    const angles = [0, 30, 90, 135, 180, 200, 270, 300];
    const directions = angles.map((angle) => turnBy(angle));
    for (let i = 0; i < angles.length; i++)
      for (let j = 0; j < angles.length; j++) {
        const [u, v] = [directions[i], directions[j]];
        if (!u || !v) continue;
        expect(Math.sign(compareDirections(u.cos, u.sin, 2 * v.cos, 2 * v.sin)) + 0).toBe(
          Math.sign(i - j) + 0,
        );
      }
  });
});

describe('rings', () => {
  it('measures a square', () => {
    expect(signedArea(SQUARE)).toBe(100);
    expect(signedArea([...SQUARE].reverse())).toBe(-100);
    expect(perimeter(SQUARE)).toBe(40);
    expect(centroid(SQUARE)).toEqual([5, 5]);
    expect(diameter(SQUARE)).toBeCloseTo(Math.SQRT2 * 10);
  });

  it('cleans repeated points, straight corners and spikes, also across the seam', () => {
    const messy: Ring = [
      [0, 0],
      [5, 0],
      [10, 0],
      [10, 0],
      [10, 10],
      [10, 15],
      [10, 10],
      [0, 10],
      [0, 0],
    ];
    const clean = cleanRing(messy);
    expect(clean).toHaveLength(4);
    expect(signedArea(clean)).toBe(100);
  });

  it('keeps the area of an outline whose last point repeats the first', () => {
    const closed: Ring = [
      [3, 1],
      [9, 2],
      [7, 8],
      [2, 5],
      [3, 1],
    ];
    expect(signedArea(cleanRing(closed))).toBeCloseTo(signedArea(closed), 12);
    expect(cleanRing(closed)).toHaveLength(4);
  });

  it('has nothing left of a ring without area', () => {
    expect(
      cleanRing([
        [0, 0],
        [5, 5],
        [9, 9],
      ]),
    ).toEqual([]);
    expect(
      cleanRing([
        [1, 1],
        [1, 1],
        [1, 1],
      ]),
    ).toEqual([]);
    expect(cleanRing([])).toEqual([]);
  });

  it('keeps area and perimeter under any pose, and quarter turns exact', () => {
    fc.assert(
      fc.property(starRing(), fc.integer({ min: 0, max: 359 }), fc.boolean(), (ring, rotation, mirrored) => {
        const placed = placeRing(ring, rotation, mirrored, 17, -4);
        expect(signedArea(placed)).toBeCloseTo(signedArea(ring), 6);
        expect(perimeter(placed)).toBeCloseTo(perimeter(ring), 6);
        placeRing(placeRing(ring, 90), 270).forEach(([x, y], i) => {
          // Equal, not close; −0 and 0 are equal.
          expect(x === ring[i]?.[0] && y === ring[i]?.[1]).toBe(true);
        });
      }),
    );
  });
});

describe('convex hull', () => {
  it('contains every point and is convex', () => {
    fc.assert(
      fc.property(starRing(), (ring) => {
        const hull = convexHull(ring);
        expect(signedArea(hull)).toBeGreaterThanOrEqual(signedArea(ring) - 1e-9);
        hull.forEach((a, i) => {
          const b = hull[(i + 1) % hull.length] ?? a;
          for (const p of ring)
            expect(orientation(a[0], a[1], b[0], b[1], p[0], p[1])).toBeGreaterThanOrEqual(0);
        });
      }),
    );
  });

  it('finds the least width of a turned rectangle and the turn that shows it', () => {
    const turned = placeRing(
      [
        [0, 0],
        [30, 0],
        [30, 7],
        [0, 7],
      ],
      33,
    );
    const { width, degrees } = leastWidth(convexHull(turned));
    expect(width).toBeCloseTo(7, 9);
    const ys = placeRing(turned, degrees).map(([, y]) => y);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(7, 9);
  });
});

describe('validity', () => {
  it('accepts simple rings', () => {
    fc.assert(
      fc.property(starRing(), (ring) => {
        expect(ringProblems(ring)).toEqual([]);
        expect(ringProblems(counterClockwise([...ring].reverse()))).toEqual([]);
      }),
    );
  });

  it('names what is wrong', () => {
    expect(
      ringProblems([
        [0, 0],
        [1, 1],
      ]),
    ).toEqual([{ kind: 'too-few-points', count: 2 }]);
    expect(
      ringProblems([
        [0, 0],
        [1, Number.NaN],
        [2, 2],
      ]),
    ).toEqual([{ kind: 'not-finite', vertex: 1 }]);
    expect(
      ringProblems([
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ]),
    ).toContainEqual({
      kind: 'self-intersection',
      edges: [0, 2],
      at: [5, 5],
    });
    expect(
      ringProblems([
        [0, 0],
        [5, 0],
        [5, 0],
        [5, 5],
      ]),
    ).toContainEqual({ kind: 'repeated-point', vertex: 1 });
  });

  it('sees a ring that touches itself at a vertex and one that folds back', () => {
    expect(
      selfIntersections([
        [0, 0],
        [10, 0],
        [10, 10],
        [5, 0],
        [0, 10],
      ]),
    ).not.toEqual([]);
    expect(
      selfIntersections([
        [0, 0],
        [10, 0],
        [5, 0],
        [5, 8],
      ]),
    ).not.toEqual([]);
  });
});
