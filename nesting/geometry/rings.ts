import type { Box, Point, Ring } from './points.ts';
import { orientation } from './predicates.ts';
import { COLLINEAR_RELATIVE, SAME_POINT_RELATIVE } from './tolerances.ts';

/** Area enclosed, positive if the ring runs counter-clockwise (shoelace formula, taken about the first vertex). */
export function signedArea(ring: Ring): number {
  const first = ring[0];
  if (!first) return 0;
  let twice = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const a = ring[i] as Point;
    const b = ring[i + 1] as Point;
    twice += (a[0] - first[0]) * (b[1] - first[1]) - (a[1] - first[1]) * (b[0] - first[0]);
  }
  return twice / 2;
}

/** Length around. */
export function perimeter(ring: Ring): number {
  let sum = 0;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i] as Point;
    const b = ring[(i + 1) % ring.length] as Point;
    sum += Math.hypot(b[0] - a[0], b[1] - a[1]);
  }
  return sum;
}

/** Smallest upright rectangle around all points; an inverted infinite box for an empty list. */
export function boundingBox(points: Ring): Box {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const [x, y] of points) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** Diagonal of the bounding box: the size that relative tolerances refer to. */
export function extent(points: Ring): number {
  if (points.length === 0) return 0;
  const box = boundingBox(points);
  return Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
}

/** The same ring, run counter-clockwise. */
export function counterClockwise(ring: Ring): Ring {
  return signedArea(ring) < 0 ? [...ring].reverse() : ring;
}

/**
 * The ring without repeated points, without vertices on the line between their neighbours and without spikes
 * (out and back on the same line). Empty if nothing with an area is left.
 */
export function cleanRing(ring: Ring): Ring {
  const size = extent(ring);
  const same = size * SAME_POINT_RELATIVE;
  const flat = size * COLLINEAR_RELATIVE;
  let points = ring.filter((p, i) => distance(p, ring[(i + 1) % ring.length] as Point) > same);
  for (;;) {
    const kept: Point[] = [];
    for (let i = 0; i < points.length; i++) {
      const a = kept[kept.length - 1] ?? (points[points.length - 1] as Point);
      const b = points[i] as Point;
      const c = points[i + 1] ?? kept[0] ?? (points[0] as Point);
      const twice = Math.abs(orientation(a[0], a[1], b[0], b[1], c[0], c[1]));
      // Height over the longest side: a spike has a short base or none.
      const over = Math.max(distance(a, c), distance(a, b), distance(b, c));
      if (twice <= flat * over) continue;
      kept.push(b);
    }
    if (kept.length < 3) return [];
    if (kept.length === points.length) return kept;
    points = kept;
  }
}

/** Distance of two points. */
export function distance(a: Point, b: Point): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** Centre of gravity of the area. */
export function centroid(ring: Ring): Point {
  const first = ring[0];
  if (!first) return [Number.NaN, Number.NaN];
  let sum = 0;
  let x = 0;
  let y = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const a = ring[i] as Point;
    const b = ring[i + 1] as Point;
    const twice = (a[0] - first[0]) * (b[1] - first[1]) - (a[1] - first[1]) * (b[0] - first[0]);
    sum += twice;
    x += twice * (a[0] + b[0] - 2 * first[0]);
    y += twice * (a[1] + b[1] - 2 * first[1]);
  }
  return sum === 0 ? first : [first[0] + x / (3 * sum), first[1] + y / (3 * sum)];
}
