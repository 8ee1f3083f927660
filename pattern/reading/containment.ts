import type { Box } from '../../nesting/geometry/points.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import { distanceToSegment } from './flatten.ts';
import type { WorkBudget } from './simplify.ts';

/** Lines nearer to each other than this run on one another: above rounding, below any allowance. */
const ON_LINE_MM = 0.05;

export interface Shape {
  readonly points: readonly Point[];
  /** Whether the last point is joined to the first. */
  readonly closed: boolean;
  readonly box: Box;
  /** 0 for open lines. */
  readonly area: number;
}

/** Where a point lies: strictly inside the ring, within `ON_LINE_MM` of its line, or outside. */
export function sideOf(ring: Outline, [x, y]: Point): 'inside' | 'on' | 'outside' {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const a = ring[j] as Point;
    const b = ring[i] as Point;
    if (
      y > Math.min(a[1], b[1]) - ON_LINE_MM &&
      y < Math.max(a[1], b[1]) + ON_LINE_MM &&
      x > Math.min(a[0], b[0]) - ON_LINE_MM &&
      x < Math.max(a[0], b[0]) + ON_LINE_MM &&
      distanceToSegment([x, y], a, b) <= ON_LINE_MM
    )
      return 'on';
    if (a[1] > y !== b[1] > y && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  }
  return inside ? 'inside' : 'outside';
}

/** Whether a line or ring lies wholly in a ring; running along its line is allowed. */
export function liesIn(inner: Shape, outer: Shape, budget: WorkBudget): boolean {
  if (!boxLiesIn(inner.box, outer.box)) return false;
  budget.left -= (2 * inner.points.length + 1) * outer.points.length;
  if (budget.left < 0) return false;
  const { points } = inner;
  for (let i = 0; i < points.length; i++) {
    const a = points[i] as Point;
    if (sideOf(outer.points, a) === 'outside') return false;
    const b = points[(i + 1) % points.length] as Point;
    if (i + 1 === points.length && !inner.closed) break;
    if (sideOf(outer.points, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]) === 'outside') return false;
  }
  if (!inner.closed) return true;
  // A corner of the outer ring that pokes into the inner one shows that the lines cross between the points tested.
  budget.left -= points.length * outer.points.length;
  return !outer.points.some((point) => boxHolds(inner.box, point) && sideOf(points, point) === 'inside');
}

/**
 * For each shape the index of the smallest closed one it lies in, −1 at the top. Of two equal rings the later lies
 * in the earlier. Null if the budget runs out.
 */
export function parentsOf(shapes: readonly Shape[], budget: WorkBudget): number[] | null {
  const bySize = shapes.map((_, i) => i).sort((i, j) => areaOf(shapes, j) - areaOf(shapes, i) || i - j);
  const parents = shapes.map(() => -1);
  /** Closed ones so far, in order of size. */
  const larger: number[] = [];
  for (const inner of bySize) {
    const shape = shapes[inner] as Shape;
    // The nearest before it in order of size is the smallest that can hold it.
    for (let at = larger.length - 1; at >= 0; at--) {
      const outer = larger[at] as number;
      budget.left -= 1;
      if (budget.left < 0) return null;
      if (liesIn(shape, shapes[outer] as Shape, budget)) {
        parents[inner] = outer;
        break;
      }
    }
    if (shape.closed) larger.push(inner);
  }
  return parents;
}

const areaOf = (shapes: readonly Shape[], i: number): number => shapes[i]?.area ?? 0;

function boxLiesIn(inner: Box, outer: Box): boolean {
  return (
    inner.minX >= outer.minX - ON_LINE_MM &&
    inner.maxX <= outer.maxX + ON_LINE_MM &&
    inner.minY >= outer.minY - ON_LINE_MM &&
    inner.maxY <= outer.maxY + ON_LINE_MM
  );
}

const boxHolds = (box: Box, [x, y]: Point): boolean =>
  x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;
