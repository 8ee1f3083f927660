import { orient2d } from 'robust-predicates';

/**
 * Which side of the directed line a → b the point c lies on, exactly (Shewchuk 1997, adaptive arithmetic).
 *
 * Positive: to the left, so a, b, c turn counter-clockwise (y is up). Negative: to the right. Zero: on the line.
 * The size is twice the area of the triangle, approximately. The library takes y downwards, hence the minus.
 */
export function orientation(ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number {
  return -orient2d(ax, ay, bx, by, cx, cy);
}

/** Exact sign of the turn from direction (ux, uy) to (vx, vy): positive for a left turn below 180°. */
export function turn(ux: number, uy: number, vx: number, vy: number): number {
  return orientation(0, 0, ux, uy, vx, vy);
}

/** Upper half-plane (0° ≤ angle < 180°) is 0, lower is 1. The zero vector counts as lower. */
function halfPlane(x: number, y: number): 0 | 1 {
  return y > 0 || (y === 0 && x > 0) ? 0 : 1;
}

/**
 * Compares the angles of two directions, both counted from the positive x axis in [0°, 360°), exactly.
 * Negative if u comes first, positive if v does, 0 if they are parallel and point the same way.
 */
export function compareDirections(ux: number, uy: number, vx: number, vy: number): number {
  const half = halfPlane(ux, uy) - halfPlane(vx, vy);
  return half !== 0 ? half : -turn(ux, uy, vx, vy);
}
