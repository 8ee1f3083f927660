/**
 * The rules of a cloth one and all, on random cloths and pieces. Every layout passes the checker, which shares no code
 * with the engine (`solveChecked`); what a rule means is worked out here once more, from the plan alone.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { angleBetween } from '../../nesting/cloth/index.ts';
import { difference, intersection } from '../../nesting/geometry/boolean.ts';
import type { Point, Polygon } from '../../nesting/geometry/points.ts';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import type { ClothLay, Placed } from '../../pattern/exchange/project.ts';
import { projectSchema } from '../../pattern/exchange/project.ts';
import { box, layOf, smallProject } from '../support/layOf.ts';

const hook = (w: number, h: number): Point[] => [
  [0, 0],
  [w, 0],
  [w, h],
  [w / 2, h],
  [w / 2, h / 2],
  [0, h / 2],
];
const size = fc.integer({ min: 40, max: 240 });
const piece = fc.record({
  isHook: fc.boolean(),
  w: size,
  h: size,
  plain: fc.integer({ min: 1, max: 2 }),
  mirrored: fc.integer({ min: 0, max: 1 }),
  grainDeg: fc.constantFrom(90, 0, 37),
  topDeg: fc.constantFrom(90, 0, 180, 270),
});
type AnyPiece = typeof piece extends fc.Arbitrary<infer T> ? T : never;
const piecesOf = (all: readonly AnyPiece[]) =>
  all.map(({ isHook, w, h, plain, mirrored, ...directions }, i) => ({
    name: `p${i}`,
    outline: isHook ? hook(w, h) : box(w, h),
    plain,
    mirrored,
    piece: directions,
  }));
const placedIn = (lay: ClothLay): Placed[] => lay.segments.flatMap(({ placed }) => placed);
/** How far a direction is from the nearest of some. */
const off = (deg: number, from: readonly number[]): number =>
  Math.min(...from.map((one) => angleBetween(deg, one)));
const along = (deg: number): number => off(deg, [0, 180]);
const EPS = 1e-6;

const UP = { away: 0, left: 90, back: 180, right: 270 } as const;
const GRAIN = {
  grain: [0, 180],
  cross: [90, 270],
  bias: [45, 135, 225, 315],
  biasLeft: [45, 225],
  biasRight: [135, 315],
  quarter: [0, 90, 180, 270],
  free: null,
} as const;

describe('directions on a roll', () => {
  const rules = fc.record({
    turn: fc.constantFrom(...(Object.keys(GRAIN) as (keyof typeof GRAIN)[])),
    tiltDeg: fc.constantFrom(0, 2, 6),
    nap: fc.constantFrom('none', 'oneWay', 'twoWay'),
    printUp: fc.constantFrom('none', 'none', 'away', 'left', 'back', 'right'),
    stretchAlike: fc.boolean(),
  } as const);

  it('property: grain, tilt, nap, print and stretch are as the cloth asks', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(piece, { minLength: 1, maxLength: 3 }), rules, async (pieces, over) => {
        const cloth = { kind: 'roll', widthMm: 700, ...over };
        const { results } = await layOf(smallProject({ pieces: piecesOf(pieces), cloth }), { maxSteps: 3 });
        const lay = results[0]!;
        expect(lay.verdict).toBe('fits');
        const { turn, nap, printUp, stretchAlike } = over;
        const onBias = turn === 'bias' || turn === 'biasLeft' || turn === 'biasRight';
        const tilt = (turn === 'free' ? 0 : over.tiltDeg) + EPS;
        const isFree = turn === 'quarter' || turn === 'free';
        const hasUp = printUp !== 'none';
        for (const { grainDeg, topDeg } of placedIn(lay)) {
          if (hasUp && !onBias) expect(angleBetween(topDeg, UP[printUp])).toBeLessThanOrEqual(tilt);
          else if (onBias || (nap === 'none' ? turn !== 'free' : !isFree))
            expect(off(grainDeg, GRAIN[turn]!)).toBeLessThanOrEqual(tilt);
          if (hasUp) continue;
          if (nap === 'oneWay' && isFree) expect(angleBetween(topDeg, 0)).toBeLessThanOrEqual(tilt);
          if (nap === 'twoWay' && isFree) expect(along(topDeg)).toBeLessThanOrEqual(tilt);
        }
        if (stretchAlike && isFree && nap === 'none' && !hasUp) {
          const offAlong = placedIn(lay).map(({ grainDeg }) => along(grainDeg));
          const alike = over.tiltDeg + EPS;
          expect(offAlong.every((deg) => deg <= alike) || offAlong.every((deg) => 90 - deg <= alike)).toBe(
            true,
          );
        }
      }),
      { numRuns: 50 },
    );
  }, 60_000);

  it('property: with one-way nap all tops that run with the grain point the same way', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(piece, { minLength: 2, maxLength: 4 }), async (pieces) => {
        const straight = pieces.map(
          (one): AnyPiece => ({
            ...one,
            grainDeg: 90,
            topDeg: one.topDeg % 180 === 0 ? 90 : one.topDeg,
          }),
        );
        const cloth = { kind: 'roll', widthMm: 700, nap: 'oneWay' };
        const { results } = await layOf(smallProject({ pieces: piecesOf(straight), cloth }), { maxSteps: 3 });
        for (const { topDeg } of placedIn(results[0]!)) expect(angleBetween(topDeg, 0)).toBeLessThan(EPS);
      }),
      { numRuns: 20 },
    );
  }, 60_000);
});

describe('edges, ends and washing of a roll', () => {
  it('property: pieces lie between edges and ends, and what is bought makes up for both and for washing', async () => {
    const measures = fc.record({
      selvedgeMm: fc.integer({ min: 0, max: 20 }),
      usableWidthMm: fc.constantFrom(null, 650, 699),
      edgeMarginMm: fc.integer({ min: 0, max: 15 }),
      squaringMm: fc.integer({ min: 0, max: 60 }),
      squaringEndMm: fc.integer({ min: 0, max: 60 }),
      shrinkAlongPercent: fc.integer({ min: 0, max: 30 }),
      shrinkAcrossPercent: fc.integer({ min: 0, max: 20 }),
      reservePercent: fc.integer({ min: 0, max: 30 }),
      reserveMm: fc.integer({ min: 0, max: 300 }),
      gapMm: fc.constantFrom(0, 4),
      shopStepMm: fc.constantFrom(1, 100, 114.3),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(piece, { minLength: 1, maxLength: 3 }), measures, async (pieces, over) => {
        const cloth = { kind: 'roll', widthMm: 700, ...over };
        const { results } = await layOf(smallProject({ pieces: piecesOf(pieces), cloth }), { maxSteps: 3 });
        const lay = results[0]!;
        const washed = 1 - over.shrinkAcrossPercent / 100;
        const between = over.usableWidthMm ?? 700 - 2 * over.selvedgeMm;
        const width = between * washed - 2 * over.edgeMarginMm;
        const [segment] = lay.segments;
        expect(segment!.widthMm).toBeCloseTo(width, 6);
        const { minX, minY, maxX, maxY } = boundingBox(placedIn(lay).flatMap(({ outline }) => outline));
        expect(Math.min(minX, minY)).toBeGreaterThanOrEqual(-1e-3);
        expect(maxY).toBeLessThanOrEqual(width + 1e-3);
        const ends = over.squaringMm + over.squaringEndMm + 2 * over.edgeMarginMm;
        const used = (maxX + ends) / (1 - over.shrinkAlongPercent / 100);
        expect(lay.usedMm).toBeCloseTo(used, 3);
        const needed = used * (1 + over.reservePercent / 100) + over.reserveMm;
        expect(lay.buyMm).toBeGreaterThanOrEqual(needed - 0.02);
        expect(lay.buyMm).toBeLessThan(needed + over.shopStepMm + 1e-3);
        expect(Math.abs(lay.buyMm / over.shopStepMm - Math.round(lay.buyMm / over.shopStepMm))).toBeLessThan(
          1e-6,
        );
      }),
      { numRuns: 30 },
    );
  }, 60_000);
});

const areaOf = (polygons: readonly Polygon[]): number =>
  polygons.reduce((sum, { outer, holes }) => {
    const hollow = holes.reduce((all, ring) => all + Math.abs(signedArea(ring)), 0);
    return sum + Math.abs(signedArea(outer)) - hollow;
  }, 0);

/** Least distance of two rings that do not cross. */
function apart(a: readonly Point[], b: readonly Point[]): number {
  const toEdge = ([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number => {
    const squared = (bx - ax) ** 2 + (by - ay) ** 2;
    const t =
      squared === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / squared));
    return Math.hypot(ax + t * (bx - ax) - x, ay + t * (by - ay) - y);
  };
  const oneWay = (points: readonly Point[], ring: readonly Point[]): number =>
    Math.min(...points.flatMap((p) => ring.map((q, i) => toEdge(p, q, ring[(i + 1) % ring.length]!))));
  return Math.min(oneWay(a, b), oneWay(b, a));
}

describe('remnants', () => {
  it('property: pieces lie within the outline, off its edges by the margin and clear of every flaw', async () => {
    const outline = fc.constantFrom<Point[]>(box(500, 400), hook(600, 500), [
      [0, 60],
      [300, 0],
      [640, 90],
      [560, 480],
      [80, 420],
    ]);
    const flaw = fc.record({ x: fc.integer({ min: 0, max: 500 }), y: fc.integer({ min: 0, max: 400 }) });
    await fc.assert(
      fc.asyncProperty(
        fc.array(piece, { minLength: 1, maxLength: 4 }),
        outline,
        fc.array(flaw, { maxLength: 3 }),
        fc.constantFrom(0, 8),
        fc.constantFrom(1, 2),
        fc.constantFrom('grain', 'quarter', 'free'),
        async (pieces, cloth, flaws, edgeMarginMm, quantity, turn) => {
          const stains = flaws.map(({ x, y }) => box(30, 20).map(([px, py]): Point => [px + x, py + y]));
          const project = smallProject({
            pieces: piecesOf(pieces),
            cloth: { kind: 'remnant', outline: cloth, flaws: stains, edgeMarginMm, quantity, turn },
          });
          const lay = (await layOf(project, { maxSteps: 3 })).results[0]!;
          expect(lay.segments.length).toBeLessThanOrEqual(quantity);
          for (const placed of placedIn(lay)) {
            expect(areaOf(difference([placed.outline], [cloth]))).toBeLessThan(0.5);
            if (edgeMarginMm > 0) expect(apart(placed.outline, cloth)).toBeGreaterThan(edgeMarginMm - 0.01);
            for (const stain of stains)
              expect(areaOf(intersection([placed.outline], [stain]))).toBeLessThan(0.5);
          }
          const asked = pieces.reduce((sum, one) => sum + one.plain + one.mirrored, 0);
          const left = lay.unplaced.reduce((sum, one) => sum + one.plain + one.mirrored, 0);
          expect(placedIn(lay).length + left).toBe(asked);
        },
      ),
      { numRuns: 30 },
    );
  }, 60_000);
});

describe('seams that match', () => {
  it('property: bars or motifs agree at every sew line of a chain of panels, seen upright', async () => {
    const repeatMm = fc.integer({ min: 30, max: 150 });
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.integer({ min: 80, max: 260 }), fc.integer({ min: 4, max: 20 })), {
          minLength: 2,
          maxLength: 4,
        }),
        fc.record({
          alongMm: repeatMm,
          acrossMm: repeatMm,
          fromEndMm: fc.integer({ min: 0, max: 140 }),
          fromSelvedgeMm: fc.integer({ min: 0, max: 140 }),
          look: fc.constantFrom('print', 'even', 'uneven'),
        } as const),
        async (panels, repeat) => {
          const tall = 200;
          const plain = smallProject({
            pieces: panels.map(([wide, allowanceMm], i) => ({
              name: `p${i}`,
              outline: box(wide, tall),
              plain: 1,
              piece: { allowanceMm },
            })),
            cloth: { kind: 'roll', widthMm: 900, repeat },
          });
          const matches = panels.slice(1).map((_, i) => ({
            id: `m${i}`,
            a: { pieceId: `p${i}`, edge: 1 },
            b: { pieceId: `p${i + 1}`, edge: 3 },
          }));
          const lay = (await layOf(projectSchema.parse({ ...plain, matches }), { maxSteps: 3 })).results[0]!;
          expect(lay.verdict).toBe('fits');
          const byPiece = new Map(placedIn(lay).map((placed) => [placed.pieceId, placed]));
          /** Where on the repeat a point of a piece lies, as seen with the piece's top up. */
          const phase = (id: string, [px, py]: Point): Point => {
            const { rotation, x, y, topDeg } = byPiece.get(id)!;
            const turn = (rotation * Math.PI) / 180;
            const at: Point = [
              px * Math.cos(turn) - py * Math.sin(turn) + x - repeat.fromEndMm,
              px * Math.sin(turn) + py * Math.cos(turn) + y - repeat.fromSelvedgeMm,
            ];
            // An even plaid looks the same end for end, about its bars.
            const isTurned = angleBetween(topDeg, 180) < 1;
            if (repeat.look !== 'even') expect(isTurned).toBe(false);
            return isTurned ? [-at[0], -at[1]] : at;
          };
          panels.slice(1).forEach(([, allowance], i) => {
            const [wide, own] = panels[i]!;
            const a = phase(`p${i}`, [wide - own, tall / 2]);
            const b = phase(`p${i + 1}`, [allowance, tall / 2]);
            for (const [axis, step] of [repeat.alongMm, repeat.acrossMm].entries()) {
              const apartBy = (a[axis]! - b[axis]!) / step;
              expect(Math.abs(apartBy - Math.round(apartBy)) * step).toBeLessThan(1e-3);
            }
          });
        },
      ),
      { numRuns: 30 },
    );
  }, 60_000);
});
