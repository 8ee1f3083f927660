import fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { combine, difference, intersection, union } from '../../nesting/geometry/boolean.ts';
import { offsetRing } from '../../nesting/geometry/offset.ts';
import type { Polygon, Ring } from '../../nesting/geometry/points.ts';
import { boundingBox, perimeter, signedArea } from '../../nesting/geometry/rings.ts';
import { simplifyOutwards } from '../../nesting/geometry/simplify.ts';
import { convexRing, starRing } from './arbitraryRings.ts';

function area(polygons: readonly Polygon[]): number {
  return polygons.reduce(
    (sum, { outer, holes }) => sum + holes.reduce((rest, hole) => rest + signedArea(hole), signedArea(outer)),
    0,
  );
}

/** The same by another library with other arithmetic (Martinez et al. 2013). */
function areaBySecondOpinion(operation: 'union' | 'intersection' | 'difference', a: Ring, b: Ring): number {
  const toGeometry = (ring: Ring): [number, number][][] => [ring.map(([x, y]) => [x, y])];
  return polygonClipping[operation](toGeometry(a), toGeometry(b)).reduce(
    (sum, polygon) =>
      sum +
      polygon.reduce(
        (rest, ring, k) => rest + (k === 0 ? 1 : -1) * Math.abs(signedArea(ring.slice(0, -1))),
        0,
      ),
    0,
  );
}

const SQUARE: Ring = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];

describe('boolean operations', () => {
  it('agree with a second library', () => {
    fc.assert(
      fc.property(starRing(), starRing(), fc.integer({ min: -40, max: 40 }), (a, b0, dx) => {
        const b = b0.map(([x, y]) => [x + dx + 0.003, y + 0.007] as const);
        const size = signedArea(a) + signedArea(b);
        expect(Math.abs(area(union([a, b])) - areaBySecondOpinion('union', a, b))).toBeLessThan(1e-6 * size);
        expect(
          Math.abs(area(intersection([a], [b])) - areaBySecondOpinion('intersection', a, b)),
        ).toBeLessThan(1e-6 * size);
        expect(Math.abs(area(difference([a], [b])) - areaBySecondOpinion('difference', a, b))).toBeLessThan(
          1e-6 * size,
        );
      }),
    );
  });

  it('returns holes clockwise and nothing for nothing', () => {
    const inner: Ring = [
      [2, 2],
      [8, 2],
      [8, 8],
      [2, 8],
    ];
    const [ring, ...rest] = difference([SQUARE], [inner]);
    expect(rest).toEqual([]);
    expect(ring?.holes).toHaveLength(1);
    expect(signedArea(ring?.outer ?? [])).toBeCloseTo(100, 5);
    expect(signedArea(ring?.holes[0] ?? [])).toBeCloseTo(-36, 5);
    expect(union([])).toEqual([]);
    expect(combine('intersection', [SQUARE], [])).toEqual([]);
  });
});

describe('offset', () => {
  it('follows the Steiner formula for convex rings: A + P·d + π·d² with round corners', () => {
    // Steiner 1840; the arcs are drawn around with tangents at most 22.5° apart: tan(x)/x of the round part more.
    fc.assert(
      fc.property(convexRing(), fc.integer({ min: 1, max: 30 }), (ring, distance) => {
        const [grown] = offsetRing(ring, distance, { join: 'round' });
        const steiner = signedArea(ring) + perimeter(ring) * distance + Math.PI * distance ** 2;
        const found = signedArea(grown ?? []);
        expect(found).toBeGreaterThan(steiner * (1 - 1e-6));
        expect(found).toBeLessThan(steiner + 0.02 * Math.PI * distance ** 2 + 1e-3);
      }),
    );
  });

  it('mitres the corners of a square and bevels those sharper than the limit', () => {
    const [mitred] = offsetRing(SQUARE, 2, { join: 'miter' });
    expect(signedArea(mitred ?? [])).toBeCloseTo(196, 4);
    const dart: Ring = [
      [0, 0],
      [40, 1],
      [0, 2],
    ];
    const [bevelled] = offsetRing(dart, 2, { join: 'miter', miterLimit: 2 });
    expect(boundingBox(bevelled ?? []).maxX).toBeLessThan(43);
    const [long] = offsetRing(dart, 2, { join: 'miter', miterLimit: 100 });
    expect(boundingBox(long ?? []).maxX).toBeGreaterThan(80);
  });

  it('inwards undoes a mitred outwards on convex rings', () => {
    fc.assert(
      fc.property(convexRing(), fc.integer({ min: 1, max: 9 }), (ring, distance) => {
        const [grown] = offsetRing(ring, distance, { join: 'miter', miterLimit: 1000 });
        const [back] = offsetRing(grown ?? [], -distance, { join: 'miter', miterLimit: 1000 });
        expect(Math.abs(signedArea(back ?? []) - signedArea(ring))).toBeLessThan(1e-3 * signedArea(ring));
      }),
    );
  });

  it('vanishes or falls apart when too narrow', () => {
    expect(offsetRing(SQUARE, -5.1, { join: 'miter' })).toEqual([]);
    const dumbbell: Ring = [
      [0, 0],
      [10, 0],
      [10, 4],
      [20, 4],
      [20, 0],
      [30, 0],
      [30, 10],
      [20, 10],
      [20, 6],
      [10, 6],
      [10, 10],
      [0, 10],
    ];
    const parts = offsetRing(dumbbell, -1.5, { join: 'miter' });
    expect(parts).toHaveLength(2);
    for (const part of parts) expect(signedArea(part)).toBeCloseTo(49, 4);
  });

  it('fills a cavity whose mouth closes', () => {
    const jar: Ring = [
      [0, 0],
      [20, 0],
      [20, 20],
      [11, 20],
      [11, 10],
      [15, 10],
      [15, 5],
      [5, 5],
      [5, 10],
      [9, 10],
      [9, 20],
      [0, 20],
    ];
    const grown = offsetRing(jar, 1.2, { join: 'miter' });
    expect(grown).toHaveLength(1);
  });
});

describe('simplifying outwards', () => {
  it('contains the original, adds no more than allowed and leaves fewer vertices', () => {
    fc.assert(
      fc.property(starRing({ min: 10, max: 40 }), fc.integer({ min: 1, max: 50 }), (ring, permille) => {
        const maxAreaRatio = permille / 1000;
        const simple = simplifyOutwards(ring, { maxAreaRatio });
        expect(simple.length).toBeLessThanOrEqual(ring.length);
        expect(signedArea(simple)).toBeLessThanOrEqual(signedArea(ring) * (1 + maxAreaRatio) * (1 + 1e-9));
        expect(area(difference([ring], [simple]))).toBeLessThan(1e-5 * signedArea(ring));
      }),
    );
  });

  it('makes little of a finely drawn circle', () => {
    const circle: Ring = Array.from({ length: 2000 }, (_, i) => {
      const angle = (2 * Math.PI * i) / 2000;
      return [100 * Math.cos(angle), 100 * Math.sin(angle)] as const;
    });
    const simple = simplifyOutwards(circle, { maxAreaRatio: 0.01 });
    expect(simple.length).toBeLessThan(30);
    for (const [x, y] of simple) expect(Math.hypot(x, y)).toBeGreaterThan(100 - 1e-9);
  });
});
