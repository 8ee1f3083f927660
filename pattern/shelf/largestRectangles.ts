import type { Box } from '../../nesting/geometry/points.ts';
import type { Outline } from '../../nesting/packing/types.ts';

/** A rectangle must hold one of these sides in one direction and the other in the other, either way round, mm. */
export interface LeastRectangle {
  readonly shortMm: number;
  readonly longMm: number;
}

/** With more lines than this in one direction the vertices are no longer followed one by one. */
const MOST_LINES = 400;
/** Where edges slant, lines are added until they are no farther apart than this share of the extent. */
const SLANT_SHARE = 1 / 120;
/** What an edge may reach into a cell, mm: less than the clipper's rounding is seen on cloth. */
const TOUCH_MM = 1e-4;

/**
 * The largest rectangles along and across the cloth inside a region with holes, largest first, none over another, each
 * at least `least`. Exact for outlines whose edges run along and across; where edges slant, what is told lies inside
 * the region and is at most a few lines of a fine grid smaller than what there is.
 *
 * Method: lines through all vertices cut the plane into cells that are free as a whole or not; in each row of cells the
 * largest rectangle under the skyline of free cells is found with a stack.
 */
export function largestRectangles(
  region: { readonly outer: Outline; readonly holes: readonly Outline[] },
  least: LeastRectangle,
  most: number,
): Box[] {
  const rings = [region.outer, ...region.holes];
  const xs = linesOf(rings, 0);
  const ys = linesOf(rings, 1);
  const columns = xs.length - 1;
  const rows = ys.length - 1;
  if (columns < 1 || rows < 1) return [];
  const free = freeCells(rings, xs, ys);
  const found: Box[] = [];
  while (found.length < most) {
    const best = largestFree(free, xs, ys, least);
    if (!best) break;
    found.push({
      minX: xs[best.fromColumn] as number,
      maxX: xs[best.toColumn] as number,
      minY: ys[best.fromRow] as number,
      maxY: ys[best.toRow] as number,
    });
    for (let r = best.fromRow; r < best.toRow; r++)
      free.fill(0, r * columns + best.fromColumn, r * columns + best.toColumn);
  }
  return found;
}

/** Coordinates of the lines across one axis, ascending. */
function linesOf(rings: readonly Outline[], axis: 0 | 1): Float64Array {
  const values = rings.flatMap((ring) => ring.map((point) => point[axis])).sort((a, b) => a - b);
  const [low, high] = [values[0] as number, values.at(-1) as number];
  const isSlanted = rings.some((ring) =>
    ring.some((p, i) => {
      const q = ring[(i + 1) % ring.length] as typeof p;
      return Math.abs(p[0] - q[0]) > TOUCH_MM && Math.abs(p[1] - q[1]) > TOUCH_MM;
    }),
  );
  const distinct = values.filter((value, i) => i === 0 || value - (values[i - 1] as number) > TOUCH_MM);
  const own = distinct.length <= MOST_LINES ? distinct : [low, high];
  if (!isSlanted && distinct.length <= MOST_LINES) return Float64Array.from(own);
  const step = (high - low) * SLANT_SHARE;
  const lines: number[] = [];
  own.forEach((value, i) => {
    const next = own[i + 1];
    lines.push(value);
    const parts = next === undefined ? 1 : Math.ceil((next - value) / step - 1e-9);
    for (let k = 1; k < parts; k++) lines.push(value + ((next as number) - value) * (k / parts));
  });
  return Float64Array.from(lines);
}

/** 1 for each cell inside the outer ring, outside the holes, that no edge enters. Row by row. */
function freeCells(rings: readonly Outline[], xs: Float64Array, ys: Float64Array): Uint8Array {
  const columns = xs.length - 1;
  const rows = ys.length - 1;
  const free = new Uint8Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    const y = ((ys[r] as number) + (ys[r + 1] as number)) / 2;
    const crossings = rings
      .flatMap((ring) =>
        ring.flatMap((p, i) => {
          const q = ring[(i + 1) % ring.length] as typeof p;
          return p[1] > y === q[1] > y ? [] : [p[0] + ((y - p[1]) / (q[1] - p[1])) * (q[0] - p[0])];
        }),
      )
      .sort((a, b) => a - b);
    let at = 0;
    for (let c = 0; c < columns; c++) {
      const x = ((xs[c] as number) + (xs[c + 1] as number)) / 2;
      while (at < crossings.length && (crossings[at] as number) < x) at++;
      if (at % 2 === 1) free[r * columns + c] = 1;
    }
  }
  for (const ring of rings) {
    for (const [i, p] of ring.entries()) clearAlong(free, xs, ys, p, ring[(i + 1) % ring.length] as typeof p);
  }
  return free;
}

/** Takes the cells that an edge enters. */
function clearAlong(
  free: Uint8Array,
  xs: Float64Array,
  ys: Float64Array,
  [ax, ay]: readonly [number, number],
  [bx, by]: readonly [number, number],
): void {
  const columns = xs.length - 1;
  const rows = ys.length - 1;
  const [left, right] = ax <= bx ? [ax, bx] : [bx, ax];
  // An edge along a line enters no cell.
  if (right - left <= TOUCH_MM) return;
  for (let c = 0; c < columns; c++) {
    const from = Math.max(left, xs[c] as number);
    const to = Math.min(right, xs[c + 1] as number);
    if (to - from <= TOUCH_MM) continue;
    const yAt = (x: number): number => ay + ((x - ax) / (bx - ax)) * (by - ay);
    const [y0, y1] = [yAt(from), yAt(to)];
    const [low, high] = y0 <= y1 ? [y0, y1] : [y1, y0];
    for (let r = 0; r < rows; r++) {
      if ((ys[r] as number) < high - TOUCH_MM && (ys[r + 1] as number) > low + TOUCH_MM)
        free[r * columns + c] = 0;
    }
  }
}

interface CellRange {
  readonly fromColumn: number;
  readonly toColumn: number;
  readonly fromRow: number;
  readonly toRow: number;
}

function largestFree(
  free: Uint8Array,
  xs: Float64Array,
  ys: Float64Array,
  { shortMm, longMm }: LeastRectangle,
): CellRange | null {
  const columns = xs.length - 1;
  const rows = ys.length - 1;
  /** For each column the row at which the free cells above (down to this row) begin. */
  const begins = new Int32Array(columns + 1);
  const stack = new Int32Array(columns + 1);
  let best: CellRange | null = null;
  let bestArea = 0;
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) if (!free[r * columns + c]) begins[c] = r + 1;
    begins[columns] = r + 1;
    let top = 0;
    for (let c = 0; c <= columns; c++) {
      while (top > 0 && (begins[stack[top - 1] as number] as number) <= (begins[c] as number)) {
        const fromRow = begins[stack[--top] as number] as number;
        const fromColumn = top > 0 ? (stack[top - 1] as number) + 1 : 0;
        const width = (xs[c] as number) - (xs[fromColumn] as number);
        const height = (ys[r + 1] as number) - (ys[fromRow] as number);
        const area = width * height;
        // A hair of rounding must not cost the maker a remnant of exactly the size she asked for.
        const isEnough =
          Math.min(width, height) >= shortMm - TOUCH_MM && Math.max(width, height) >= longMm - TOUCH_MM;
        if (area > bestArea && isEnough && fromRow <= r) {
          bestArea = area;
          best = { fromColumn, toColumn: c, fromRow, toRow: r + 1 };
        }
      }
      stack[top++] = c;
    }
  }
  return best;
}
