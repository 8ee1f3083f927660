import type { Box } from '../../nesting/geometry/points.ts';
import type { Point } from '../../nesting/packing/types.ts';
import type { DrawnShape } from '../reading/walk.ts';
import { clipToBox } from './clipToBox.ts';

/** Lines cut through at a sheet's border end this near to it. Millimetres. */
export const AT_BORDER_MM = 0.3;

export type Side = 'left' | 'right' | 'bottom' | 'top';

/** Where lines leave a cell: for each side the places along it, sorted, mm. */
export type BorderEnds = Readonly<Record<Side, readonly number[]>>;

/** The side of the box an end lies on, if it lies on one. */
export function sideOf([x, y]: Point, box: Box): Side | null {
  if (Math.abs(x - box.minX) <= AT_BORDER_MM) return 'left';
  if (Math.abs(x - box.maxX) <= AT_BORDER_MM) return 'right';
  if (Math.abs(y - box.minY) <= AT_BORDER_MM) return 'bottom';
  if (Math.abs(y - box.maxY) <= AT_BORDER_MM) return 'top';
  return null;
}

/** Where the shapes of a page leave the cell. */
export function borderEnds(shapes: readonly DrawnShape[], cell: Box): BorderEnds {
  const ends: Record<Side, number[]> = { left: [], right: [], bottom: [], top: [] };
  for (const { polylines } of shapes)
    for (const { points, closed } of polylines) {
      if (isAwayFromBorder(points, cell)) continue;
      for (const part of clipToBox(points, closed, cell)) {
        if (part.closed) continue;
        for (const end of [part.points[0], part.points.at(-1)]) {
          const side = end ? sideOf(end, cell) : null;
          if (end && side) ends[side].push(side === 'left' || side === 'right' ? end[1] : end[0]);
        }
      }
    }
  for (const list of Object.values(ends)) list.sort((a, b) => a - b);
  return ends;
}

/** Whether a line lies wholly within the cell and not at its border, or wholly on one side of it: most lines do. */
function isAwayFromBorder(points: readonly Point[], { minX, minY, maxX, maxY }: Box): boolean {
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  for (const [x, y] of points) {
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
  }
  const near = AT_BORDER_MM;
  if (x0 > minX + near && x1 < maxX - near && y0 > minY + near && y1 < maxY - near) return true;
  return x1 < minX - near || x0 > maxX + near || y1 < minY - near || y0 > maxY + near;
}

/** How many of two sorted lists of places find a partner within `reach`, and how many don't. */
export function matches(
  a: readonly number[],
  b: readonly number[],
  reach: number,
): { readonly met: number; readonly loose: number } {
  let met = 0;
  let i = 0;
  let j = 0;
  while (i < a.length && j < b.length) {
    const off = (a[i] as number) - (b[j] as number);
    if (Math.abs(off) <= reach) {
      met += 1;
      i += 1;
      j += 1;
    } else if (off < 0) i += 1;
    else j += 1;
  }
  return { met, loose: a.length + b.length - 2 * met };
}
