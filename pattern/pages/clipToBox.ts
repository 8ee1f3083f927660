import type { Box } from '../../nesting/geometry/points.ts';
import type { Point } from '../../nesting/packing/types.ts';

/** A line after clipping. */
export interface ClippedLine {
  readonly points: Point[];
  /** The whole ring lies in the box; the first point is not repeated. */
  readonly closed: boolean;
}

/** Parts of a line or ring that lie in a box, edge included, in the order they are drawn. */
export function clipToBox(points: readonly Point[], closed: boolean, box: Box): ClippedLine[] {
  const isIn = ([x, y]: Point): boolean => x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;
  if (points.every(isIn)) return [{ points: [...points], closed }];
  if (liesBeside(points, box)) return [];
  // A ring starts at a vertex outside, so that no part of it is cut in two at its first vertex.
  const first = closed ? points.findIndex((point) => !isIn(point)) : 0;
  const line = closed ? [...points.slice(first), ...points.slice(0, first), points[first] as Point] : points;
  const parts: ClippedLine[] = [];
  let current: Point[] = [];
  const end = (): void => {
    if (current.length > 1) parts.push({ points: current, closed: false });
    current = [];
  };
  for (let i = 1; i < line.length; i++) {
    const from = line[i - 1] as Point;
    const to = line[i] as Point;
    const span = segmentInBox(from, to, box);
    if (!span) {
      end();
      continue;
    }
    const at = (t: number): Point =>
      t === 0 ? from : t === 1 ? to : [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
    if (current.length === 0 || span[0] > 0) {
      end();
      current.push(at(span[0]));
    }
    if (span[1] > span[0]) current.push(at(span[1]));
    if (span[1] < 1) end();
  }
  end();
  return parts;
}

/** Whether a line lies wholly on one side of the box: on a page that holds the whole drawing most of it does. */
function liesBeside(points: readonly Point[], box: Box): boolean {
  let left = true;
  let right = true;
  let below = true;
  let above = true;
  for (const [x, y] of points) {
    left &&= x < box.minX;
    right &&= x > box.maxX;
    below &&= y < box.minY;
    above &&= y > box.maxY;
    if (!left && !right && !below && !above) return false;
  }
  return true;
}

/** The share of a segment in a box, from … to; null if it misses it (Liang & Barsky 1984). */
function segmentInBox(from: Point, to: Point, box: Box): [number, number] | null {
  const [x0, y0] = from;
  const [x1, y1] = to;
  // Most miss it on one side.
  if (x0 < box.minX && x1 < box.minX) return null;
  if (x0 > box.maxX && x1 > box.maxX) return null;
  if (y0 < box.minY && y1 < box.minY) return null;
  if (y0 > box.maxY && y1 > box.maxY) return null;
  let enter = 0;
  let leave = 1;
  for (let side = 0; side < 4; side++) {
    const p = side === 0 ? x0 - x1 : side === 1 ? x1 - x0 : side === 2 ? y0 - y1 : y1 - y0;
    const q =
      side === 0 ? x0 - box.minX : side === 1 ? box.maxX - x0 : side === 2 ? y0 - box.minY : box.maxY - y0;
    if (p === 0) continue;
    const t = q / p;
    if (p < 0) enter = Math.max(enter, t);
    else leave = Math.min(leave, t);
    if (enter > leave) return null;
  }
  return [enter, leave];
}
