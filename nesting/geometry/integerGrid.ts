import type { IntPoint, Path } from 'clipper-lib';
import type { Box, Ring } from './points.ts';
import { CLIPPER_RANGE } from './tolerances.ts';

/**
 * The integer grid on which the polygon clipper works: a shift that brings the figures around zero, and a scale
 * for each axis that makes the most of the range. Two scales, because a strap is long and narrow, and what is
 * negligible along it need not be so across; unions and convolutions commute with any affine map.
 */
export interface IntegerGrid {
  readonly originX: number;
  readonly originY: number;
  /** Grid units per unit of length. */
  readonly scaleX: number;
  readonly scaleY: number;
}

/** The finest grid for figures that stay inside the box. Throws on boxes that are not finite. */
export function gridFor(box: Box, coarser = 1): IntegerGrid {
  const halfX = ((box.maxX - box.minX) / 2) * coarser;
  const halfY = ((box.maxY - box.minY) / 2) * coarser;
  if (!Number.isFinite(halfX + halfY))
    throw new RangeError(`gridFor: the box is not finite (${JSON.stringify(box)})`);
  return {
    originX: (box.minX + box.maxX) / 2,
    originY: (box.minY + box.maxY) / 2,
    scaleX: CLIPPER_RANGE / (halfX || 1),
    scaleY: CLIPPER_RANGE / (halfY || 1),
  };
}

/** A ring on the grid, each vertex on the nearest point. */
export function toGrid(ring: Ring, grid: IntegerGrid): Path {
  return ring.map(([x, y]) => ({
    X: Math.round((x - grid.originX) * grid.scaleX),
    Y: Math.round((y - grid.originY) * grid.scaleY),
  }));
}

/** A path of the grid in millimetres. */
export function fromGrid(path: readonly IntPoint[], grid: IntegerGrid): [x: number, y: number][] {
  return path.map(({ X, Y }) => [X / grid.scaleX + grid.originX, Y / grid.scaleY + grid.originY]);
}
