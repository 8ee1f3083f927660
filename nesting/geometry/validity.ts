import type { Point, Ring } from './points.ts';
import { orientation } from './predicates.ts';
import { extent, signedArea } from './rings.ts';
import { SAME_POINT_RELATIVE } from './tolerances.ts';

/** One thing that is wrong with a ring. Edges and vertices are counted from 0; edge i runs from vertex i. */
export type RingProblem =
  | { readonly kind: 'too-few-points'; readonly count: number }
  | { readonly kind: 'not-finite'; readonly vertex: number }
  | { readonly kind: 'repeated-point'; readonly vertex: number }
  | { readonly kind: 'no-area' }
  | {
      readonly kind: 'self-intersection';
      readonly edges: readonly [number, number];
      readonly at: Point;
    };

/** Where two edges of a ring cross, overlap or touch other than at the vertex they share. */
export interface SelfIntersection {
  readonly edges: readonly [number, number];
  readonly at: Point;
}

/** Everything wrong with a ring; an empty list means a simple ring with an area (its winding is not judged). */
export function ringProblems(ring: Ring): RingProblem[] {
  if (ring.length < 3) return [{ kind: 'too-few-points', count: ring.length }];
  const problems: RingProblem[] = [];
  ring.forEach(([x, y], vertex) => {
    if (!Number.isFinite(x) || !Number.isFinite(y)) problems.push({ kind: 'not-finite', vertex });
  });
  if (problems.length > 0) return problems;
  const size = extent(ring);
  ring.forEach((p, vertex) => {
    const q = ring[(vertex + 1) % ring.length] as Point;
    if (Math.hypot(p[0] - q[0], p[1] - q[1]) <= size * SAME_POINT_RELATIVE)
      problems.push({ kind: 'repeated-point', vertex });
  });
  if (Math.abs(signedArea(ring)) <= size * size * SAME_POINT_RELATIVE) problems.push({ kind: 'no-area' });
  for (const { edges, at } of selfIntersections(ring))
    problems.push({ kind: 'self-intersection', edges, at });
  return problems;
}

/**
 * All pairs of edges that meet where they should not, at most `limit` of them. Signs are exact; the point is
 * rounded. Edges sorted by x: about n log n for ordinary outlines, n² at worst.
 */
export function selfIntersections(ring: Ring, limit = 100): SelfIntersection[] {
  const n = ring.length;
  const left = (i: number) => Math.min((ring[i] as Point)[0], (ring[(i + 1) % n] as Point)[0]);
  const right = (i: number) => Math.max((ring[i] as Point)[0], (ring[(i + 1) % n] as Point)[0]);
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => left(i) - left(j));
  const found: SelfIntersection[] = [];
  for (let s = 0; s < n; s++) {
    const i = order[s] as number;
    const end = right(i);
    for (let t = s + 1; t < n; t++) {
      const j = order[t] as number;
      if (left(j) > end) break;
      const at = meeting(ring, Math.min(i, j), Math.max(i, j));
      if (at) found.push({ edges: [Math.min(i, j), Math.max(i, j)], at });
      if (found.length >= limit) return found;
    }
  }
  return found;
}

/** Where edges i < j of the ring meet wrongly, or null. */
function meeting(ring: Ring, i: number, j: number): Point | null {
  const n = ring.length;
  const a = ring[i] as Point;
  const b = ring[(i + 1) % n] as Point;
  const c = ring[j] as Point;
  const d = ring[(j + 1) % n] as Point;
  if (j === i + 1 || (i === 0 && j === n - 1)) {
    // Neighbours share a vertex; only folding back onto each other is wrong.
    const [p, q, r] = j === i + 1 ? [a, b, d] : [c, a, b];
    if (n === 3 || orientation(p[0], p[1], q[0], q[1], r[0], r[1]) !== 0) return null;
    const back = (p[0] - q[0]) * (r[0] - q[0]) + (p[1] - q[1]) * (r[1] - q[1]);
    return back > 0 ? q : null;
  }
  const side1 = orientation(a[0], a[1], b[0], b[1], c[0], c[1]);
  const side2 = orientation(a[0], a[1], b[0], b[1], d[0], d[1]);
  const side3 = orientation(c[0], c[1], d[0], d[1], a[0], a[1]);
  const side4 = orientation(c[0], c[1], d[0], d[1], b[0], b[1]);
  if (side1 === 0 && onSegment(a, b, c)) return c;
  if (side2 === 0 && onSegment(a, b, d)) return d;
  if (side3 === 0 && onSegment(c, d, a)) return a;
  if (side4 === 0 && onSegment(c, d, b)) return b;
  if (side1 * side2 >= 0 || side3 * side4 >= 0) return null;
  const t = side1 / (side1 - side2);
  return [c[0] + t * (d[0] - c[0]), c[1] + t * (d[1] - c[1])];
}

/** Whether p, known to be on the line a b, lies between a and b. */
function onSegment(a: Point, b: Point, p: Point): boolean {
  return (
    Math.min(a[0], b[0]) <= p[0] &&
    p[0] <= Math.max(a[0], b[0]) &&
    Math.min(a[1], b[1]) <= p[1] &&
    p[1] <= Math.max(a[1], b[1])
  );
}
