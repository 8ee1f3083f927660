import type { Point, Ring } from './points.ts';
import { orientation } from './predicates.ts';
import { cleanRing, counterClockwise, signedArea } from './rings.ts';

export interface SimplifyOptions {
  /** Area that may be added in all, as a part of the ring's area. */
  readonly maxAreaRatio: number;
  /** Stop when no more than so many vertices are left. */
  readonly targetVertices?: number;
}

/**
 * A ring with fewer vertices that contains the given one: wherever the result fits, the original fits too.
 *
 * Two steps, the cheapest in added area first: a concave vertex is cut off (the notch is filled), and an edge
 * between two convex vertices is removed by prolonging its neighbours until they meet. A step that would make
 * the ring cross itself is not taken. About n² for n vertices.
 */
export function simplifyOutwards(ring: Ring, options: SimplifyOptions): Ring {
  return simplified(cleanRing(counterClockwise(ring)), options);
}

/** A ring with fewer vertices inside the given one: whatever fits into the result fits into the original. */
export function simplifyInwards(ring: Ring, options: SimplifyOptions): Ring {
  // Run backwards, the outside is to the left, and the outside is what grows.
  return simplified([...cleanRing(counterClockwise(ring))].reverse(), options).reverse();
}

/** Grows what is to the left of the ring. */
function simplified(outline: Ring, { maxAreaRatio, targetVertices = 3 }: SimplifyOptions): Point[] {
  let budget = Math.abs(signedArea(outline)) * maxAreaRatio;
  const points: Point[] = [...outline];
  const steps = points.map((_, i) => cheapestStep(points, i));
  while (points.length > Math.max(3, targetVertices)) {
    let best = -1;
    let least = budget;
    for (let i = 0; i < steps.length; i++) {
      const step = steps[i];
      if (step && step.area <= least) {
        least = step.area;
        best = i;
      }
    }
    const step = steps[best];
    if (!step) break;
    if (!isClear(points, best, step)) {
      steps[best] = null;
      continue;
    }
    budget -= step.area;
    if (step.apex) {
      points[best] = step.apex;
      const next = (best + 1) % points.length;
      points.splice(next, 1);
      steps.splice(next, 1);
      if (next < best) best--;
    } else {
      points.splice(best, 1);
      steps.splice(best, 1);
    }
    for (let k = -2; k <= 2; k++) {
      const i = (best + k + 2 * points.length) % points.length;
      steps[i] = cheapestStep(points, i);
    }
  }
  return points;
}

/** A step at vertex i: cut it off (`apex` null), or merge it with the next vertex into `apex`. */
interface Step {
  readonly area: number;
  readonly apex: Point | null;
}

function at(points: readonly Point[], i: number): Point {
  const n = points.length;
  return points[((i % n) + n) % n] as Point;
}

function cheapestStep(points: readonly Point[], i: number): Step | null {
  const a = at(points, i - 1);
  const b = at(points, i);
  const c = at(points, i + 1);
  const corner = orientation(a[0], a[1], b[0], b[1], c[0], c[1]);
  if (corner <= 0) return { area: -corner / 2, apex: null };
  const d = at(points, i + 2);
  if (orientation(b[0], b[1], c[0], c[1], d[0], d[1]) <= 0) return null;
  // Prolong a → b beyond b and d → c beyond c until they meet.
  const ux = b[0] - a[0];
  const uy = b[1] - a[1];
  const vx = c[0] - d[0];
  const vy = c[1] - d[1];
  const cross = ux * vy - uy * vx;
  // Both corners together must turn by less than 180°, or the prolonged sides never meet.
  if (cross >= 0) return null;
  const t = ((c[0] - b[0]) * vy - (c[1] - b[1]) * vx) / cross;
  const apex: Point = [b[0] + t * ux, b[1] + t * uy];
  const area = Math.abs(orientation(b[0], b[1], c[0], c[1], apex[0], apex[1])) / 2;
  return Number.isFinite(area) ? { area, apex } : null;
}

/** Whether the triangle that a step adds is free of other vertices and not crossed by other edges. */
function isClear(points: readonly Point[], i: number, step: Step): boolean {
  const n = points.length;
  const [p, q, r] = step.apex
    ? [at(points, i), step.apex, at(points, i + 1)]
    : [at(points, i + 1), at(points, i), at(points, i - 1)];
  const minX = Math.min(p[0], q[0], r[0]);
  const minY = Math.min(p[1], q[1], r[1]);
  const maxX = Math.max(p[0], q[0], r[0]);
  const maxY = Math.max(p[1], q[1], r[1]);
  const own = step.apex ? [i, (i + 1) % n] : [(i + n - 1) % n, i, (i + 1) % n];
  for (let k = 0; k < n; k++) {
    const v = points[k] as Point;
    const w = points[k + 1 === n ? 0 : k + 1] as Point;
    if (
      (v[0] < minX && w[0] < minX) ||
      (v[0] > maxX && w[0] > maxX) ||
      (v[1] < minY && w[1] < minY) ||
      (v[1] > maxY && w[1] > maxY)
    )
      continue;
    if (!own.includes(k) && insideTriangle(p, q, r, v)) return false;
    if (own.includes(k) || own.includes((k + 1) % n)) continue;
    if (crosses(v, w, p, q) || crosses(v, w, q, r)) return false;
  }
  return true;
}

/** Triangle in either winding, border included. */
function insideTriangle(p: Point, q: Point, r: Point, v: Point): boolean {
  const a = orientation(p[0], p[1], q[0], q[1], v[0], v[1]);
  const b = orientation(q[0], q[1], r[0], r[1], v[0], v[1]);
  const c = orientation(r[0], r[1], p[0], p[1], v[0], v[1]);
  return (a >= 0 && b >= 0 && c >= 0) || (a <= 0 && b <= 0 && c <= 0);
}

function crosses(a: Point, b: Point, c: Point, d: Point): boolean {
  return (
    orientation(a[0], a[1], b[0], b[1], c[0], c[1]) * orientation(a[0], a[1], b[0], b[1], d[0], d[1]) < 0 &&
    orientation(c[0], c[1], d[0], d[1], a[0], a[1]) * orientation(c[0], c[1], d[0], d[1], b[0], b[1]) < 0
  );
}
