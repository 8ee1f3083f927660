import { commonArea } from './commonArea.ts';
import { areaOf, boxesApart, distanceToSegment, type Shape } from './shapes.ts';
import { deepestStretch } from './stadiums.ts';

/**
 * How deep two shapes overlap, in mm; 0 if at most `tolerance`. Where boundaries cross it is the greatest depth of
 * either boundary inside the other shape; where the boundaries lie on one another, the mean width of the common area.
 */
export function overlapDepth(p: Shape, q: Shape, tolerance: number): number {
  if (boxesApart(p.box, q.box, tolerance)) return 0;
  const depth = Math.max(deepestStretch(p, q, tolerance, true), deepestStretch(q, p, tolerance, true));
  if (depth > 0) return depth;
  return meanWidth(commonArea(p, q), Math.min(p.perimeter, q.perimeter), tolerance);
}

/** How far a shape reaches out of a container's outline, in mm; 0 if at most `tolerance`. */
export function reachOutside(shape: Shape, container: Shape, tolerance: number): number {
  const out = Math.max(
    deepestStretch(shape, container, tolerance, false),
    deepestStretch(container, shape, tolerance, true), // a notch of the container cuts into the shape
  );
  if (out > 0) return out;
  return meanWidth(areaOf(shape.outline) - commonArea(shape, container), shape.perimeter, tolerance);
}

/** An area spread along a boundary as a width; 0 if no wider than touching shapes may share. */
function meanWidth(area: number, perimeter: number, tolerance: number): number {
  return area > 2 * tolerance * perimeter ? area / perimeter : 0;
}

/** Least distance between two boundaries in mm, as far as it is under `limit`; otherwise `limit`. */
export function boundaryDistance(p: Shape, q: Shape, limit: number): number {
  let least = limit;
  const near = q.edges.filter((edge) => !boxesApart(edge, p.box, limit));
  for (const e of p.edges) {
    if (boxesApart(e, q.box, limit)) continue;
    for (const f of near) {
      if (boxesApart(e, f, least)) continue;
      // Crossing boundaries were refused as an overlap before, so the least distance is at an end of one edge.
      least = Math.min(
        least,
        distanceToSegment(e.a[0], e.a[1], f),
        distanceToSegment(e.b[0], e.b[1], f),
        distanceToSegment(f.a[0], f.a[1], e),
        distanceToSegment(f.b[0], f.b[1], e),
      );
    }
  }
  return least;
}
