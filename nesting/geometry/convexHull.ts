import type { Point, Ring } from './points.ts';
import { orientation } from './predicates.ts';

/** Convex hull, counter-clockwise, without collinear vertices (Andrew 1979, monotone chain). */
export function convexHull(points: Ring): Ring {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  if (sorted.length < 3) return sorted;
  const half = (from: Point[]): Point[] => {
    const chain: Point[] = [];
    for (const p of from) {
      while (chain.length >= 2) {
        const b = chain[chain.length - 1] as Point;
        const a = chain[chain.length - 2] as Point;
        if (orientation(a[0], a[1], b[0], b[1], p[0], p[1]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/**
 * Least width of a convex counter-clockwise ring over all directions, and the angle in degrees by which the
 * ring must be turned so that this width stands upright (along y). One of its edges is then level
 * (Houle & Toussaint 1988).
 */
export function leastWidth(hull: Ring): { width: number; degrees: number } {
  let best = { width: Number.POSITIVE_INFINITY, degrees: 0 };
  for (let i = 0; i < hull.length; i++) {
    const a = hull[i] as Point;
    const b = hull[(i + 1) % hull.length] as Point;
    const dx = b[0] - a[0];
    const dy = b[1] - a[1];
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    let width = 0;
    for (const [x, y] of hull) width = Math.max(width, (dx * (y - a[1]) - dy * (x - a[0])) / length);
    if (width < best.width) best = { width, degrees: (-Math.atan2(dy, dx) * 180) / Math.PI };
  }
  return best;
}

/** Largest distance of two points. */
export function diameter(points: Ring): number {
  const hull = convexHull(points);
  let best = 0;
  for (let i = 0; i < hull.length; i++)
    for (let j = 0; j < i; j++) {
      const a = hull[i] as Point;
      const b = hull[j] as Point;
      best = Math.max(best, Math.hypot(a[0] - b[0], a[1] - b[1]));
    }
  return best;
}
