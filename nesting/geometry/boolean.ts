import ClipperLib from 'clipper-lib';
import { fromGrid, gridFor, toGrid } from './integerGrid.ts';
import type { Box, Point, Polygon, Ring } from './points.ts';
import { boundingBox, counterClockwise, signedArea } from './rings.ts';

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
      const found = ClipperLib.JS.PolyTreeToExPolygons(tree).map(({ outer, holes }) => ({
        outer: fromGrid(outer, grid),
        holes: holes.map((hole) => fromGrid(hole, grid)),
      }));
      return withHolesInPlace(found);
    } catch {
      // The next, coarser grid may do.
    }
  }
  throw new GeometryError(`${operation} of ${subject.length} and ${clip.length} rings failed`);
}

/**
 * Where rings touch, the clipper may hand out a hole by itself, run backwards as holes are: it belongs to the smallest
 * polygon around it. Taken for a polygon it would turn what was cut out into what is left.
 */
function withHolesInPlace(found: readonly Polygon[]): Polygon[] {
  if (found.every(({ outer }) => signedArea(outer) >= 0)) return [...found];
  const polygons = found
    .filter(({ outer }) => signedArea(outer) >= 0)
    .map(({ outer, holes }) => ({ outer, holes: [...holes] }))
    .sort((a, b) => signedArea(a.outer) - signedArea(b.outer));
  for (const { outer: hole, holes: islands } of found) {
    if (signedArea(hole) >= 0) continue;
    const around = polygons.find(
      ({ outer }) => signedArea(outer) >= -signedArea(hole) && isMostlyWithin(hole, outer),
    );
    around?.holes.push(hole);
    polygons.push(...islands.map((outer) => ({ outer: counterClockwise(outer), holes: [] })));
  }
  return polygons;
}

/** Whether most corners and middles of edges lie within; single ones may lie on the border. */
function isMostlyWithin(ring: Ring, outer: Ring): boolean {
  const points = ring.flatMap(([x, y], i): Point[] => {
    const [u, v] = ring[(i + 1) % ring.length]!;
    return [
      [x, y],
      [(x + u) / 2, (y + v) / 2],
    ];
  });
  return 2 * points.filter((point) => isWithin(point, outer)).length > points.length;
}

/** By the edges that a ray to the right crosses; either way on the border itself. */
function isWithin([x, y]: Point, ring: Ring): boolean {
  let inside = false;
  for (const [i, [ax, ay]] of ring.entries()) {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
  }
  return inside;
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
