import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference, intersection } from '../../nesting/geometry/boolean.ts';
import type { Point, Polygon, Ring } from '../../nesting/geometry/points.ts';
import { signedArea } from '../../nesting/geometry/rings.ts';

const box = (x: number, y: number, w: number, h: number): Ring => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
];
const areaOf = (polygons: readonly Polygon[]): number =>
  polygons.reduce(
    (sum, { outer, holes }) =>
      sum + signedArea(outer) + holes.reduce((all, hole) => all + signedArea(hole), 0),
    0,
  );

describe('what is left of cloth around touching pieces', () => {
  // Pieces laid against each other: the clipper handed out the hole of the one in the middle as if it were cloth.
  it('has a hole where a piece lies whose neighbours only touch it', () => {
    const pieces: Point[][] = [
      [
        [0, 90],
        [0, 0],
        [259, 0],
        [247, 90],
      ],
      [
        [247, 90],
        [259, 180],
        [0, 180],
        [0, 90],
      ],
      [
        [247, 180],
        [259, 270],
        [0, 270],
        [0, 180],
      ],
      [
        [0, 385],
        [0, 270],
        [90, 270],
        [78, 385],
      ],
      [
        [168, 270],
        [180, 385],
        [90, 385],
        [90, 270],
      ],
      [
        [375, 222.5],
        [375, 412.5],
        [250, 412.5],
        [262, 222.5],
      ],
      [
        [383.368, 0],
        [383.368, 190],
        [258.368, 190],
        [270.368, 0],
      ],
      [
        [383.609, 305],
        [371.609, 190],
        [461.609, 190],
        [461.609, 305],
      ],
    ];
    const left = difference([box(0, 0, 500, 450)], pieces);
    expect(left.every(({ outer }) => signedArea(outer) > 0)).toBe(true);
    const common = left.flatMap(({ outer, holes }) => intersection([outer, ...holes], pieces));
    expect(areaOf(common)).toBeLessThan(1);
  });

  it('property: outer rings run one way, holes the other, nothing of a piece is left, and areas add up', () => {
    const even = (most: number) => fc.integer({ min: 0, max: most }).map((n) => 10 * n);
    const slanted = fc
      .tuple(
        even(16),
        even(16),
        fc.constantFrom(20, 40, 60),
        fc.constantFrom(20, 40, 60),
        fc.constantFrom(0, 10, -10),
      )
      .map(
        ([x, y, w, h, slant]): Ring => [
          [x, y],
          [x + w, y],
          [x + w + slant, y + h],
          [x + slant, y + h],
        ],
      );
    fc.assert(
      fc.property(fc.array(slanted, { minLength: 1, maxLength: 12 }), (pieces) => {
        const ground = box(-5, -5, 215, 215);
        const left = difference([ground], pieces);
        for (const { outer, holes } of left) {
          expect(signedArea(outer)).toBeGreaterThan(0);
          for (const hole of holes) expect(signedArea(hole)).toBeLessThan(0);
        }
        const rings = left.flatMap(({ outer, holes }) => [outer, ...holes]);
        if (rings.length > 0) expect(Math.abs(areaOf(intersection(rings, pieces)))).toBeLessThan(1e-2);
        expect(areaOf(left)).toBeCloseTo(signedArea(ground) - areaOf(intersection([ground], pieces)), 1);
      }),
      { numRuns: 300 },
    );
  });
});
