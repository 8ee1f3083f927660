import type { Box } from '../../../nesting/geometry/points.ts';
import type { Point } from '../../../nesting/packing/types.ts';
import type { Matrix } from '../matrix.ts';

/** What two boxes share; empty (its minima above its maxima) if they don't meet. */
export const shared = (a: Box, b: Box): Box => ({
  minX: Math.max(a.minX, b.minX),
  minY: Math.max(a.minY, b.minY),
  maxX: Math.min(a.maxX, b.maxX),
  maxY: Math.min(a.maxY, b.maxY),
});

export const isEmpty = (box: Box): boolean => !(box.minX <= box.maxX && box.minY <= box.maxY);

/** Whether two boxes touch or overlap, the first widened by `slack` on every side. */
export const meets = (a: Box, b: Box, slack: number): boolean =>
  a.minX - slack <= b.maxX &&
  a.maxX + slack >= b.minX &&
  a.minY - slack <= b.maxY &&
  a.maxY + slack >= b.minY;

export const holds = (outer: Box, inner: Box, slack: number): boolean =>
  inner.minX >= outer.minX - slack &&
  inner.minY >= outer.minY - slack &&
  inner.maxX <= outer.maxX + slack &&
  inner.maxY <= outer.maxY + slack;

/** The box around points; empty if there are none. */
export function boxOf(points: Iterable<Point>): Box {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const [x, y] of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return { minX, minY, maxX, maxY };
}

/** The box around a box that was mapped. */
export function mappedBox([x0, y0, x1, y1]: readonly number[], matrix: Matrix): Box {
  const corners = [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ] as [number, number][];
  return boxOf(corners.map((corner) => mapped(corner, matrix)));
}

export const mapped = ([x, y]: Point, [a, b, c, d, e, f]: Matrix): Point => [
  a * x + c * y + e,
  b * x + d * y + f,
];
