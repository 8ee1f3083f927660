import fc from 'fast-check';
import { convexHull } from '../../../nesting/geometry/convexHull.ts';
import { signedArea } from '../../../nesting/geometry/rings.ts';
import { placeRing } from '../../../nesting/geometry/transforms.ts';
import type { Outline, Point } from '../../../nesting/packing/types.ts';
import type { Piece } from '../../../pattern/exchange/project.ts';

/** Shapes to try things on. */

export function rectangle(width: number, height: number, x = 0, y = 0): Outline {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}

/** A frame open by a slit of 6 mm. */
export const SLIT_FRAME: Outline = [
  [0, 0],
  [47, 0],
  [47, 20],
  [20, 20],
  [20, 80],
  [80, 80],
  [80, 20],
  [53, 20],
  [53, 0],
  [100, 0],
  [100, 100],
  [0, 100],
];

/** Its fold runs along y = 0 from 0 to 300, interrupted by a triangle from 100 to 200. */
export const NOTCHED_AT_FOLD: Outline = [
  [0, 0],
  [100, 0],
  [150, 40],
  [200, 0],
  [300, 0],
  [300, 120],
  [0, 120],
];

export function pieceOf(outline: Outline, more: Partial<Piece> = {}): Piece {
  return {
    id: 'p',
    name: 'Piece',
    outline,
    holes: [],
    marks: [],
    grainDeg: 90,
    topDeg: 90,
    foldEdge: null,
    line: 'cut',
    allowanceMm: 0,
    notes: '',
    ...more,
  };
}

export function areaOf(shape: { outline: Outline; holes: readonly Outline[] }): number {
  return signedArea(shape.outline) - shape.holes.reduce((sum, hole) => sum + Math.abs(signedArea(hole)), 0);
}

const coordinate = fc.integer({ min: -500, max: 500 });

/** Convex outlines of 3 to about 12 corners, 50 mm across at least. */
export const convexOutline: fc.Arbitrary<Outline> = fc
  .array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 24 })
  .map((points): Outline => convexHull(points))
  .filter((hull) => hull.length >= 3 && signedArea(hull) > 2_500);

/** Star-shaped outlines around the origin, concave as a rule: never crossing themselves. */
export const starOutline: fc.Arbitrary<Outline> = fc
  .array(fc.tuple(fc.integer({ min: 40, max: 300 }), fc.integer({ min: 1, max: 9 })), {
    minLength: 4,
    maxLength: 20,
  })
  .map((arms): Outline => {
    const sum = arms.reduce((total, [, share]) => total + share, 0);
    let at = 0;
    return arms.map(([radius, share]): Point => {
      at += (share / sum) * 2 * Math.PI;
      return [radius * Math.cos(at), radius * Math.sin(at)];
    });
  })
  .filter((ring) => ring.every((p, i) => angleTo(p, ring[(i + 1) % ring.length]!) < Math.PI * 0.9));

function angleTo(a: Point, b: Point): number {
  return Math.abs(Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]));
}

/**
 * Half pieces: a height over each of some steps along the fold, at least 5 mm, the fold edge being edge 0; then turned and shifted.
 */
export const halfOutline: fc.Arbitrary<{ outline: Outline; fold: readonly [Point, Point] }> = fc
  .record({
    heights: fc.array(fc.tuple(fc.integer({ min: 5, max: 200 }), fc.integer({ min: 1, max: 80 })), {
      minLength: 2,
      maxLength: 12,
    }),
    overhang: fc.tuple(fc.integer({ min: -3, max: 60 }), fc.integer({ min: -3, max: 60 })),
    turn: fc.constantFrom(0, 90, 180, 270, 30, 123.4, 301),
    x: coordinate,
    y: coordinate,
  })
  .map(({ heights, overhang, turn, x, y }) => {
    const top: Point[] = [];
    let s = 0;
    for (const [height, step] of heights) {
      top.push([s, height]);
      s += step;
    }
    const last = top.at(-1)![0];
    const foldEnd: Point = [last + overhang[0] + 4, 0];
    const foldStart: Point = [-overhang[1] - 4, 0];
    const outline = placeRing([foldStart, foldEnd, ...top.reverse()], turn, false, x, y);
    return { outline, fold: [outline[0]!, outline[1]!] as const };
  });
