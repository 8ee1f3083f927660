import type { Outline, Point } from '../../nesting/packing/types.ts';
import { FOLD_LINE_MM, SHORT_EDGE_MM } from './tolerances.ts';

/**
 * Axes of a fold: the fold line is the level axis, s runs along it from `origin`, t away from it into the piece.
 * Mirroring about the fold is t → −t, exactly.
 */
export interface FoldFrame {
  readonly origin: Point;
  /** Unit direction of s. */
  readonly ux: number;
  readonly uy: number;
}

/** Axes of the fold from a to b, the piece on the left; null if a and b are one point. */
export function foldFrame(a: Point, b: Point): FoldFrame | null {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const length = Math.hypot(dx, dy);
  return length < SHORT_EDGE_MM ? null : { origin: a, ux: dx / length, uy: dy / length };
}

/** A point in the fold's axes; one that lies within `onLineMm` of the fold line lies on it exactly. */
export function toFold({ origin, ux, uy }: FoldFrame, [x, y]: Point, onLineMm = FOLD_LINE_MM): Point {
  const dx = x - origin[0];
  const dy = y - origin[1];
  const t = dy * ux - dx * uy;
  return [dx * ux + dy * uy, Math.abs(t) <= onLineMm ? 0 : t];
}

/** Back from the axes of the fold: the inverse of `toFold`. */
export function fromFold({ origin, ux, uy }: FoldFrame, [s, t]: Point): Point {
  return [origin[0] + s * ux - t * uy, origin[1] + s * uy + t * ux];
}

/**
 * The parts of a ring (in the fold's axes) that leave the fold line and come back to it: each begins and ends with a
 * point on the line (t = 0) and has none on it between. Edges along the line are left out. Empty if the ring never
 * touches the line.
 */
export function excursions(ring: Outline): Point[][] {
  const n = ring.length;
  const start = ring.findIndex((p) => p[1] === 0);
  if (start < 0) return [];
  const found: Point[][] = [];
  let current: Point[] = [ring[start]!];
  for (let k = 1; k <= n; k++) {
    const p = ring[(start + k) % n]!;
    current.push(p);
    if (p[1] !== 0) continue;
    if (current.length > 2) found.push(current);
    current = [p];
  }
  return found;
}
