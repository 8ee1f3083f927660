import type { Point } from '../../nesting/packing/types.ts';
import { distanceToSegment } from './flatten.ts';

/** Distances that may still be measured, over a whole drawing; at 0 lines are kept as they are. */
export interface WorkBudget {
  left: number;
}

/**
 * The line without vertices that lie within `tolerance` of the chords left (Douglas & Peucker 1973). Its ends stay,
 * and so does an outermost point on each side, so that the box does not change.
 */
export function simplifyLine(
  points: readonly Point[],
  tolerance: number,
  budget: WorkBudget,
): readonly Point[] {
  if (points.length < 3) return points;
  const anchors = new Set([0, points.length - 1, ...outermost(points)]);
  return reduce(
    points,
    [...anchors].sort((i, j) => i - j),
    tolerance,
    budget,
  );
}

/** The same for a closed ring (first vertex not repeated). */
export function simplifyRing(
  ring: readonly Point[],
  tolerance: number,
  budget: WorkBudget,
): readonly Point[] {
  if (ring.length < 4) return ring;
  const anchors = [...new Set(outermost(ring))].sort((i, j) => i - j);
  const start = anchors[0] ?? 0;
  // Unrolled from an anchor round to itself, then the repeated point dropped and the old start restored.
  const unrolled = [...ring.slice(start), ...ring.slice(0, start), ring[start] as Point];
  const kept = reduce(unrolled, [...anchors.map((index) => index - start), ring.length], tolerance, budget);
  const open = kept.slice(0, -1);
  if (open.length < 3) return ring;
  const first = ring[0];
  const at = first ? open.indexOf(first) : -1;
  return at > 0 ? [...open.slice(at), ...open.slice(0, at)] : open;
}

function outermost(points: readonly Point[]): number[] {
  let left = 0;
  let right = 0;
  let low = 0;
  let high = 0;
  points.forEach(([x, y], i) => {
    if (x < (points[left]?.[0] ?? x)) left = i;
    if (x > (points[right]?.[0] ?? x)) right = i;
    if (y < (points[low]?.[1] ?? y)) low = i;
    if (y > (points[high]?.[1] ?? y)) high = i;
  });
  return [left, right, low, high];
}

function reduce(
  points: readonly Point[],
  anchors: readonly number[],
  tolerance: number,
  budget: WorkBudget,
): readonly Point[] {
  const keep = new Uint8Array(points.length);
  const stack: [number, number][] = [];
  for (let i = 0; i < anchors.length; i++) {
    const from = anchors[i] as number;
    keep[from] = 1;
    const to = anchors[i + 1];
    if (to !== undefined) stack.push([from, to]);
  }
  for (let pair = stack.pop(); pair; pair = stack.pop()) {
    const [from, to] = pair;
    if (to - from < 2) continue;
    budget.left -= to - from;
    if (budget.left < 0) return points;
    let farthest = -1;
    let distance = tolerance;
    for (let i = from + 1; i < to; i++) {
      const here = distanceToSegment(points[i] as Point, points[from] as Point, points[to] as Point);
      if (here > distance) {
        distance = here;
        farthest = i;
      }
    }
    if (farthest < 0) continue;
    keep[farthest] = 1;
    stack.push([from, farthest], [farthest, to]);
  }
  return points.filter((_, i) => keep[i] === 1);
}
