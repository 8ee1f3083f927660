import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Ring } from '../../nesting/geometry/points.ts';
import { outsideSheet } from '../../nesting/nfp/noFit.ts';
import { Field } from '../../nesting/nfp/overlapField.ts';
import { PairTables } from '../../nesting/nfp/pairTables.ts';
import { Poses } from '../../nesting/nfp/poses.ts';
import { starRing } from '../geometry/arbitraryRings.ts';

const RUNS = { numRuns: 200 };
const angle = fc.constantFrom(0, 30, 90, 180, 271.5);
const share = fc.double({ min: -0.9, max: 0.9, noNaN: true });

/** A field with figures of one shape as another shape meets them, both in poses of their own. */
function fieldOf(
  standing: Ring,
  moving: Ring,
  turns: readonly [number, number],
  mirrored: boolean,
  places: readonly (readonly [x: number, y: number, factor: number])[],
) {
  const shapes = [standing, moving].map((ring) => ({ outline: ring, body: ring, spaced: ring }));
  const poses = new Poses(shapes);
  const p = poses.add(0, turns[0], mirrored);
  const q = poses.add(1, turns[1], false);
  const pairs = new PairTables(poses);
  const field = new Field(pairs, places.length);
  for (const [x, y, factor] of places) field.add(pairs, pairs.column(q), q, p, x, y, factor);
  return { field, pairs, p, q };
}

describe('the way out of an overlap', () => {
  it('property: leads out of a single figure, and is as long as the overlap is deep', () => {
    fc.assert(
      fc.property(
        starRing(),
        starRing(),
        fc.tuple(angle, angle),
        fc.boolean(),
        share,
        share,
        (a, b, turns, m, sx, sy) => {
          const { field, pairs, p, q } = fieldOf(a, b, turns, m, [[7, -3, 1]]);
          const box = field.box;
          const x =
            ((box[0] as number) + (box[2] as number)) / 2 +
            (sx * ((box[2] as number) - (box[0] as number))) / 2;
          const y =
            ((box[1] as number) + (box[3] as number)) / 2 +
            (sy * ((box[3] as number) - (box[1] as number))) / 2;
          const depth = field.value(x, y, Number.POSITIVE_INFINITY);
          expect(depth).toBe(pairs.depth(p, 7, -3, q, x, y));
          field.findExit();
          expect(Math.hypot(field.exitX, field.exitY)).toBeCloseTo(depth, 9);
          expect(field.value(x + field.exitX, y + field.exitY, Number.POSITIVE_INFINITY)).toBeLessThan(1e-7);
        },
      ),
      RUNS,
    );
  });

  it('is that of the figure whose overlap counts most', () => {
    const square: Ring = [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ];
    // One square 1 deep from the left, one 2 deep from below.
    const places = (left: number, below: number) =>
      [
        [-9, 0, left],
        [0, -8, below],
      ] as const;
    const byLeft = fieldOf(square, square, [0, 0], false, places(3, 1)).field;
    expect(byLeft.value(0, 0, 100)).toBeCloseTo(5, 12);
    byLeft.findExit();
    expect([byLeft.exitX, byLeft.exitY]).toEqual([1, 0]);
    const byBelow = fieldOf(square, square, [0, 0], false, places(1, 1)).field;
    byBelow.value(0, 0, 100);
    byBelow.findExit();
    expect([byBelow.exitX, byBelow.exitY]).toEqual([0, 2]);
    byBelow.value(50, 50, 100);
    byBelow.findExit();
    expect([byBelow.exitX, byBelow.exitY]).toEqual([0, 0]);
  });

  it('leads back onto a sheet', () => {
    const square: Ring = [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ];
    // A sheet in the shape of an L, and a square that lies 2 deep in its missing corner.
    const sheet: Ring = [
      [0, 0],
      [40, 0],
      [40, 20],
      [20, 20],
      [20, 40],
      [0, 40],
    ];
    const { field, pairs } = fieldOf(square, square, [0, 0], false, []);
    field.sheet = pairs.tables.add(outsideSheet(sheet, [], square), 64);
    field.sheetFactor = 3;
    expect(field.value(12, 25, 100)).toBeCloseTo(6, 4);
    field.findExit();
    expect(field.exitX).toBeCloseTo(-2, 4);
    expect(field.exitY).toBeCloseTo(0, 4);
    // On the border of the positions' box, which is the border of the sheet, it touches.
    expect(field.value(0, 0, 100)).toBeLessThan(1e-4);
    expect(field.value(0, 30, 100)).toBeLessThan(1e-4);
  });
});
