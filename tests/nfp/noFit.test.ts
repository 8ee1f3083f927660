import ClipperLib from 'clipper-lib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { intersection } from '../../nesting/geometry/boolean.ts';
import type { Point, Ring } from '../../nesting/geometry/points.ts';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import { DepthTables } from '../../nesting/nfp/depthTables.ts';
import { type ForbiddenRegion, noFitPolygon, outsideSheet } from '../../nesting/nfp/noFit.ts';
import { PairTables } from '../../nesting/nfp/pairTables.ts';
import { Poses } from '../../nesting/nfp/poses.ts';
import { convexRing, starRing } from '../geometry/arbitraryRings.ts';

const RUNS = { numRuns: 150 };

function moved(ring: Ring, x: number, y: number): Ring {
  return ring.map(([px, py]) => [px + x, py + y] as const);
}

/** Common area of two rings. */
function overlapArea(a: Ring, b: Ring): number {
  return intersection([a], [b]).reduce((sum, { outer }) => sum + signedArea(outer), 0);
}

function size(...rings: Ring[]): number {
  return rings.reduce((sum, ring) => {
    const box = boundingBox(ring);
    return sum + box.maxX - box.minX + box.maxY - box.minY;
  }, 0);
}

/** A point of the boundary, `t` of the way along edge `index` (taken modulo). */
function onBoundary({ rings }: ForbiddenRegion, index: number, t: number): { point: Point; inwards: Point } {
  const edges = rings.flatMap((ring) =>
    ring.map((a, i) => [a, ring[(i + 1) % ring.length] as Point] as const),
  );
  const [a, b] = edges[index % edges.length] as readonly [Point, Point];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return {
    point: [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])],
    inwards: [-(b[1] - a[1]) / length, (b[0] - a[0]) / length],
  };
}

describe('no-fit polygon', () => {
  it('of convex rings is the Minkowski sum with the reflection, as the clipper library has it', () => {
    // Clipper.MinkowskiSum (A. Johnson) unites quads of edge pairs: another way to the same figure. Whole numbers.
    fc.assert(
      fc.property(convexRing(), convexRing(), (a, b) => {
        const whole = (ring: Ring, sign: 1 | -1) =>
          ring.map(([x, y]) => ({ X: sign * Math.round(x * 100), Y: sign * Math.round(y * 100) }));
        const sums = ClipperLib.Clipper.MinkowskiSum(whole(a, 1), whole(b, -1), true);
        const outer = ClipperLib.Clipper.SimplifyPolygons(sums, ClipperLib.PolyFillType.pftNonZero);
        const expected = Math.max(...outer.map((path) => Math.abs(ClipperLib.Clipper.Area(path)))) / 1e4;
        const { rings } = noFitPolygon(a, b);
        expect(rings).toHaveLength(1);
        expect(signedArea(rings[0] ?? []) / expected).toBeCloseTo(1, 6);
      }),
      RUNS,
    );
  });

  it('touches on its boundary, overlaps inside, is clear outside', () => {
    fc.assert(
      fc.property(
        starRing(),
        starRing(),
        fc.nat(),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (a, b, edge, t) => {
          const region = noFitPolygon(a, b);
          const { point, inwards } = onBoundary(region, edge, t);
          const scale = size(a, b);
          const at = (distance: number) =>
            overlapArea(a, moved(b, point[0] + distance * inwards[0], point[1] + distance * inwards[1]));
          expect(at(0)).toBeLessThan(1e-6 * scale * scale);
          const tables = new DepthTables();
          const id = tables.add(region);
          const step = 1e-3 * scale;
          const inside = tables.depth(id, point[0] + step * inwards[0], point[1] + step * inwards[1]);
          // A step inwards may leave a thin part again; the table says so, and both must agree.
          if (inside > 1e-6 * scale) expect(at(step)).toBeGreaterThan(0);
          else expect(at(step)).toBeLessThan(1e-5 * scale * scale);
        },
      ),
      RUNS,
    );
  });

  it('agrees with clipping at random positions', () => {
    fc.assert(
      fc.property(
        starRing(),
        starRing(),
        fc.array(
          fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true })),
          {
            minLength: 1,
            maxLength: 20,
          },
        ),
        (a, b, places) => {
          const tables = new DepthTables();
          const id = tables.add(noFitPolygon(a, b));
          const [A, B] = [boundingBox(a), boundingBox(b)];
          const scale = size(a, b);
          for (const [u, v] of places) {
            const x = A.minX - B.maxX + u * (A.maxX - A.minX + B.maxX - B.minX);
            const y = A.minY - B.maxY + v * (A.maxY - A.minY + B.maxY - B.minY);
            const depth = tables.depth(id, x, y);
            const area = overlapArea(a, moved(b, x, y));
            if (depth > 1e-4 * scale) expect(area).toBeGreaterThan(0);
            if (depth === 0) expect(area).toBeLessThan(1e-6 * scale * scale);
          }
        },
      ),
      RUNS,
    );
  });

  it('of (B, A) is the reflection of that of (A, B)', () => {
    fc.assert(
      fc.property(starRing(), starRing(), (a, b) => {
        const area = ({ rings }: ForbiddenRegion) => rings.reduce((sum, ring) => sum + signedArea(ring), 0);
        const ab = noFitPolygon(a, b);
        const ba = noFitPolygon(b, a);
        expect(area(ab) / area(ba)).toBeCloseTo(1, 5);
        const [p, q] = [boundingBox(ab.rings.flat()), boundingBox(ba.rings.flat())];
        expect(p.minX).toBeCloseTo(-q.maxX, 4);
        expect(p.maxY).toBeCloseTo(-q.minY, 4);
      }),
      RUNS,
    );
  });

  it('keeps the position of a peg that fits its hole exactly, and the way of a slide without play', () => {
    const peg: Ring = [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ];
    // A frame with a closed cavity of the peg's size, cut open by a slit of no width: two L shapes would do as well.
    const keyhole: Ring = [
      [0, 0],
      [30, 0],
      [30, 30],
      [0, 30],
      [0, 20],
      [20, 20],
      [20, 10],
      [10, 10],
      [10, 19.9],
      [0, 19.9],
    ];
    const tables = new DepthTables();
    const hole = tables.add(noFitPolygon(keyhole, peg));
    expect(tables.depth(hole, 10, 10)).toBeLessThan(1e-5);
    expect(tables.depth(hole, 10.01, 10)).toBeGreaterThan(0.005);
    const channel: Ring = [
      [0, 0],
      [40, 0],
      [40, 10],
      [20, 10],
      [20, 20],
      [40, 20],
      [40, 30],
      [0, 30],
    ];
    const slide = tables.add(noFitPolygon(channel, peg));
    for (const x of [20, 25.5, 30, 39]) expect(tables.depth(slide, x, 10)).toBeLessThan(1e-5);
    expect(tables.depth(slide, 30, 10.02)).toBeGreaterThan(0.01);
  });
});

describe('inner fit of a sheet', () => {
  const SHEET: Ring = [
    [0, 0],
    [100, 0],
    [100, 60],
    [60, 60],
    [60, 100],
    [0, 100],
  ];

  it('is the smaller rectangle for a rectangle in a rectangle', () => {
    const { rings } = outsideSheet(
      [
        [0, 0],
        [100, 0],
        [100, 50],
        [0, 50],
      ],
      [],
      [
        [0, 0],
        [30, 0],
        [30, 20],
        [0, 20],
      ],
    );
    expect(rings).toHaveLength(1);
    const box = boundingBox(rings[0] ?? []);
    expect(box.minX).toBeCloseTo(0, 4);
    expect(box.maxX).toBeCloseTo(70, 4);
    expect(box.maxY).toBeCloseTo(30, 4);
  });

  it('agrees with clipping at random positions, flaws included', () => {
    const flaw: Ring = [
      [20, 20],
      [35, 25],
      [30, 40],
      [22, 38],
    ];
    fc.assert(
      fc.property(
        starRing(),
        fc.integer({ min: -20, max: 120 }),
        fc.integer({ min: -20, max: 120 }),
        (ring, x, y) => {
          const b = ring.map(([px, py]) => [px / 3, py / 3] as const);
          const tables = new DepthTables();
          const id = tables.add(outsideSheet(SHEET, [flaw], b));
          const there = moved(b, x, y);
          const out = signedArea(b) - overlapArea(SHEET, there) + overlapArea(flaw, there);
          const depth = tables.depth(id, x, y);
          if (depth === 0) expect(out).toBeLessThan(1e-3);
          if (depth > 0.01) expect(out).toBeGreaterThan(1e-9);
        },
      ),
      RUNS,
    );
  });

  it('leaves no place for what is too large', () => {
    const tables = new DepthTables();
    const { rings, forbiddenOutside } = outsideSheet(
      SHEET,
      [],
      [
        [0, 0],
        [90, 0],
        [90, 90],
        [0, 90],
      ],
    );
    expect(rings).toEqual([]);
    const id = tables.add({ rings, forbiddenOutside });
    expect(tables.depth(id, 5, 5)).toBe(Number.POSITIVE_INFINITY);
  });

  it('keeps the one position of a piece as large as its sheet', () => {
    const tables = new DepthTables();
    const id = tables.add(outsideSheet(SHEET, [], SHEET));
    expect(tables.depth(id, 0, 0)).toBeLessThan(1e-4);
    expect(tables.depth(id, 1, 0)).toBeGreaterThan(0.5);
  });
});

describe('tables of pairs', () => {
  it('give the depth that the no-fit polygon of the two placed outlines has, in every pose and order', () => {
    const rotations = fc.constantFrom(0, 90, 180, 270, 33);
    fc.assert(
      fc.property(
        starRing(),
        starRing(),
        fc.tuple(rotations, fc.boolean()),
        fc.tuple(rotations, fc.boolean()),
        fc.tuple(fc.integer({ min: -60, max: 60 }), fc.integer({ min: -60, max: 60 })),
        (a, b, [ra, ma], [rb, mb], [dx, dy]) => {
          const shapes = [a, b].map((ring) => ({ outline: ring, body: ring, spaced: ring }));
          const poses = new Poses(shapes);
          const pairs = new PairTables(poses);
          const p = poses.add(0, ra, ma);
          const q = poses.add(1, rb, mb);
          const direct = new DepthTables();
          const id = direct.add(noFitPolygon(placeRing(a, ra, ma), placeRing(b, rb, mb)));
          const expected = direct.depth(id, dx, dy);
          expect(pairs.depth(p, 7, 3, q, 7 + dx, 3 + dy)).toBeCloseTo(expected, 4);
          expect(pairs.depth(q, 7 + dx, 3 + dy, p, 7, 3)).toBeCloseTo(expected, 4);
        },
      ),
      RUNS,
    );
  });
});
