import type { DrawnPoint } from './drawing.ts';
import { bounds, type Ring } from './intervals.ts';

/** Where a box fits: its centre, and by how much the asked size may be multiplied there. */
export interface LabelPoint {
  readonly x: number;
  readonly y: number;
  readonly size: number;
}

/** A box that is large enough is still given this much more room around it, where there is. */
const ELBOW_ROOM = 1.35;
/** The search stops when it can win less than this share of the size. */
const PRECISION = 0.02;
/** Cells looked at before the best so far is taken: far more than any sensible outline needs. */
const MOST_CELLS = 3_000;

interface Cell {
  readonly x: number;
  readonly y: number;
  readonly half: number;
  /** Signed distance of the centre, and the best any point of the cell can have. */
  readonly distance: number;
  readonly most: number;
}

/**
 * The place inside the rings (even-odd: holes keep it out) where a box of `width` × `height` can be largest: the
 * pole of inaccessibility, in the norm whose unit ball is that box. `null` if nothing of at least `atLeast` times
 * the box fits. No size above `enough` is given, but a place with some room to spare is looked for; the centre of
 * gravity is taken where it has that much.
 *
 * Method: quadtree search with an upper bound a cell, after Garcia-Castellanos & Lombardo (2007), "Poles of
 * inaccessibility", Scottish Geographical Journal 123; in the maximum norm a cell's bound is exact.
 */
export function labelPoint(
  rings: readonly Ring[],
  width: number,
  height: number,
  atLeast: number,
  enough: number,
): LabelPoint | null {
  const scaled = rings.map((ring) => ring.map(([x, y]): DrawnPoint => [(2 * x) / width, (2 * y) / height]));
  const { minX, minY, maxX, maxY } = bounds(scaled[0] ?? []);
  if (!(Math.min(maxX - minX, maxY - minY) / 2 >= atLeast)) return null;
  const cellAt = (x: number, y: number, half: number): Cell => {
    const distance = signedDistance(scaled, x, y);
    return { x, y, half, distance, most: distance + half };
  };
  const back = (cell: Cell): LabelPoint => ({
    x: (cell.x * width) / 2,
    y: (cell.y * height) / 2,
    size: Math.min(cell.distance, enough),
  });
  const middle = centreOfGravity(scaled[0] as Ring);
  let best = cellAt(middle[0], middle[1], 0);
  const boxMiddle = cellAt((minX + maxX) / 2, (minY + maxY) / 2, 0);
  if (boxMiddle.distance > best.distance) best = boxMiddle;
  const ample = enough * ELBOW_ROOM;
  if (best.distance >= ample) return back(best);

  const side = Math.max(Math.min(maxX - minX, maxY - minY), Math.max(maxX - minX, maxY - minY) / 60);
  const open: Cell[] = [];
  const promising = (cell: Cell) =>
    cell.most >= atLeast && cell.most > best.distance * (1 + PRECISION) && best.distance < ample;
  const consider = (cell: Cell) => {
    if (cell.distance > best.distance) best = cell;
    if (promising(cell)) open.push(cell);
  };
  for (let x = minX; x < maxX; x += side) {
    for (let y = minY; y < maxY; y += side) consider(cellAt(x + side / 2, y + side / 2, side / 2));
  }
  for (let looked = 0; open.length > 0 && looked < MOST_CELLS; looked++) {
    // Few cells are open at a time: a heap would gain nothing.
    let first = 0;
    for (let i = 1; i < open.length; i++) if ((open[i] as Cell).most > (open[first] as Cell).most) first = i;
    const cell = open[first] as Cell;
    open[first] = open[open.length - 1] as Cell;
    open.pop();
    if (!promising(cell)) continue;
    const half = cell.half / 2;
    for (const dx of [-half, half]) {
      for (const dy of [-half, half]) consider(cellAt(cell.x + dx, cell.y + dy, half));
    }
  }
  if (best.distance < atLeast) return null;
  return back(
    nearer(best, middle, Math.max(atLeast, Math.min(best.distance, enough) * (1 - PRECISION)), cellAt),
  );
}

/**
 * Where only the width limits a box, any height would do: slid towards the middle as far as it loses next to
 * nothing, so that words don't stand at an edge without need.
 */
function nearer(
  best: Cell,
  [x, y]: DrawnPoint,
  least: number,
  cellAt: (x: number, y: number, half: number) => Cell,
): Cell {
  for (let tenths = 10; tenths > 0; tenths--) {
    const dx = ((x - best.x) * tenths) / 10;
    const dy = ((y - best.y) * tenths) / 10;
    for (const [along, across] of [
      [dx, dy],
      [0, dy],
      [dx, 0],
    ] as const) {
      const moved = cellAt(best.x + along, best.y + across, 0);
      if (moved.distance >= least) return moved;
    }
  }
  return best;
}

/** Distance to the nearest boundary in the maximum norm, negative outside. */
function signedDistance(rings: readonly Ring[], x: number, y: number): number {
  let isInside = false;
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    let [ax, ay] = ring[ring.length - 1] as DrawnPoint;
    for (const [bx, by] of ring) {
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) isInside = !isInside;
      least = Math.min(least, maxNormDistance(ax - x, ay - y, bx - ax, by - ay, least));
      ax = bx;
      ay = by;
    }
  }
  return isInside ? least : -least;
}

/** Least of max(|x|, |y|) along the segment from (x, y) by (dx, dy); may stop early above `bound`. */
function maxNormDistance(x: number, y: number, dx: number, dy: number, bound: number): number {
  // The whole segment lies beyond the bound on one side.
  if (Math.min(x, x + dx) > bound || Math.max(x, x + dx) < -bound) return bound;
  if (Math.min(y, y + dy) > bound || Math.max(y, y + dy) < -bound) return bound;
  // max(|x|, |y|) is convex and piecewise linear: its least value is at an end or where a piece ends.
  const at = (t: number) => (t >= 0 && t <= 1 ? Math.max(Math.abs(x + t * dx), Math.abs(y + t * dy)) : bound);
  return Math.min(at(0), at(1), at(-x / dx), at(-y / dy), at((y - x) / (dx - dy)), at(-(x + y) / (dx + dy)));
}

function centreOfGravity(ring: Ring): DrawnPoint {
  const [ox, oy] = ring[0] as DrawnPoint;
  let sum = 0;
  let x = 0;
  let y = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i] as DrawnPoint;
    const [bx, by] = ring[i + 1] as DrawnPoint;
    const twice = (ax - ox) * (by - oy) - (ay - oy) * (bx - ox);
    sum += twice;
    x += twice * (ax + bx - 2 * ox);
    y += twice * (ay + by - 2 * oy);
  }
  return sum === 0 ? [ox, oy] : [ox + x / (3 * sum), oy + y / (3 * sum)];
}
