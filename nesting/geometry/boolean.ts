import ClipperLib from 'clipper-lib';
import { fromGrid, gridFor, toGrid } from './integerGrid.ts';
import type { Box, Point, Polygon, Ring } from './points.ts';
import { boundingBox } from './rings.ts';

/** The clipper could not work something out. Says which operation; never carries user text. */
export class GeometryError extends Error {
  override readonly name = 'GeometryError';
}

/** How overlapping rings of one operand add up; see `combine`. */
export type FillRule = 'nonzero' | 'evenodd' | 'positive';

const FILL = {
  nonzero: ClipperLib.PolyFillType.pftNonZero,
  evenodd: ClipperLib.PolyFillType.pftEvenOdd,
  positive: ClipperLib.PolyFillType.pftPositive,
} as const;

const CLIP = {
  union: ClipperLib.ClipType.ctUnion,
  difference: ClipperLib.ClipType.ctDifference,
  intersection: ClipperLib.ClipType.ctIntersection,
} as const;

/**
 * Runs one operation of the clipper (Vatti 1992) on a fine integer grid; if it throws, once more on a grid
 * four times coarser, where other roundings happen.
 */
export function combine(
  operation: 'union' | 'difference' | 'intersection',
  subject: readonly Ring[],
  clip: readonly Ring[],
  fill: FillRule = 'nonzero',
): Polygon[] {
  const box = joinedBox([...subject, ...clip]);
  if (!box) return [];
  for (const coarser of [1, 4]) {
    const grid = gridFor(box, coarser);
    try {
      const clipper = new ClipperLib.Clipper();
      for (const ring of subject) clipper.AddPath(toGrid(ring, grid), ClipperLib.PolyType.ptSubject, true);
      for (const ring of clip) clipper.AddPath(toGrid(ring, grid), ClipperLib.PolyType.ptClip, true);
      const tree = new ClipperLib.PolyTree();
      clipper.Execute(CLIP[operation], tree, FILL[fill], FILL[fill]);
      return ClipperLib.JS.PolyTreeToExPolygons(tree).map((found) => ({
        outer: fromGrid(found.outer, grid),
        holes: found.holes.map((hole) => fromGrid(hole, grid)),
      }));
    } catch {
      // The next, coarser grid may do.
    }
  }
  throw new GeometryError(`${operation} of ${subject.length} and ${clip.length} rings failed`);
}

/** Everything inside any of the rings (whose winding is not zero). */
export function union(rings: readonly Ring[], fill: FillRule = 'nonzero'): Polygon[] {
  return combine('union', rings, [], fill);
}

/** What is inside `subject` but not inside `clip`. Holes of an operand are given as rings run backwards. */
export function difference(subject: readonly Ring[], clip: readonly Ring[]): Polygon[] {
  return combine('difference', subject, clip);
}

/** What is inside both. */
export function intersection(subject: readonly Ring[], clip: readonly Ring[]): Polygon[] {
  return combine('intersection', subject, clip);
}

function joinedBox(rings: readonly Ring[]): Box | null {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const ring of rings) {
    const box = boundingBox(ring as readonly Point[]);
    minX = Math.min(minX, box.minX);
    minY = Math.min(minY, box.minY);
    maxX = Math.max(maxX, box.maxX);
    maxY = Math.max(maxY, box.maxY);
  }
  return minX <= maxX ? { minX, minY, maxX, maxY } : null;
}
