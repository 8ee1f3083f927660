import type { Outline } from '../../../nesting/packing/types.ts';
import { type Bounds, bounds, inside } from '../../plan/intervals.ts';

/** A finer grid than this tells no one more, mm; a coarser one is taken where there would be too many cells. */
const CELL_MM = 5;
const MOST_CELLS = 400_000;

/**
 * The largest rectangles along and across the cloth in which nothing lies, largest first, none over another. Found on
 * a grid in which a cell that anything touches is taken, so what is told is never more than there is.
 * @param within outline of the cloth where it isn't the whole box
 */
export function freeRectangles(
  box: Bounds,
  taken: readonly Outline[],
  options: {
    readonly within?: Outline;
    readonly leastSideMm: number;
    readonly leastAreaMm2: number;
    readonly most: number;
  },
): Bounds[] {
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  const cell = Math.max(CELL_MM, Math.sqrt((width * height) / MOST_CELLS));
  const columns = Math.floor(width / cell);
  const rows = Math.floor(height / cell);
  if (columns < 1 || rows < 1) return [];
  const grid = new Uint8Array(columns * rows);
  for (const ring of taken) cover(grid, columns, rows, ring, box, cell);
  if (options.within) coverOutside(grid, columns, rows, options.within, box, cell);
  const found: Bounds[] = [];
  while (found.length < options.most) {
    const best = largest(grid, columns, rows);
    if (!best) break;
    const side = Math.min(best.columns, best.rows) * cell;
    if (side < options.leastSideMm || best.columns * best.rows * cell * cell < options.leastAreaMm2) break;
    found.push({
      minX: box.minX + best.column * cell,
      maxX: box.minX + (best.column + best.columns) * cell,
      minY: box.minY + best.row * cell,
      maxY: box.minY + (best.row + best.rows) * cell,
    });
    for (let r = best.row; r < best.row + best.rows; r++) {
      grid.fill(1, r * columns + best.column, r * columns + best.column + best.columns);
    }
  }
  return found;
}

/** A ring reaches into a cell by more than this, mm, or doesn't count. */
const TOUCH_MM = 0.01;

/** Marks every cell that the ring touches: along its edges, and all between them. */
function cover(
  grid: Uint8Array,
  columns: number,
  rows: number,
  ring: Outline,
  box: Bounds,
  cell: number,
): void {
  const mark = (x0: number, x1: number, y0: number, y1: number) => {
    const c0 = Math.max(0, Math.floor((Math.min(x0, x1) - box.minX + TOUCH_MM) / cell));
    const c1 = Math.min(columns - 1, Math.floor((Math.max(x0, x1) - box.minX - TOUCH_MM) / cell));
    const r0 = Math.max(0, Math.floor((Math.min(y0, y1) - box.minY + TOUCH_MM) / cell));
    const r1 = Math.min(rows - 1, Math.floor((Math.max(y0, y1) - box.minY - TOUCH_MM) / cell));
    for (let r = r0; r <= r1; r++) if (c1 >= c0) grid.fill(1, r * columns + c0, r * columns + c1 + 1);
  };
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length] as readonly [number, number];
    const steps = Math.max(1, Math.ceil(Math.max(Math.abs(bx - ax), Math.abs(by - ay)) / cell));
    for (let s = 0; s < steps; s++) {
      const [from, to] = [s / steps, (s + 1) / steps];
      mark(ax + (bx - ax) * from, ax + (bx - ax) * to, ay + (by - ay) * from, ay + (by - ay) * to);
    }
  });
  const { minY, maxY } = bounds(ring);
  const r0 = Math.max(0, Math.floor((minY - box.minY) / cell));
  const r1 = Math.min(rows - 1, Math.floor((maxY - box.minY) / cell));
  for (let r = r0; r <= r1; r++) {
    const y = box.minY + (r + 0.5) * cell;
    for (const [from, to] of inside([ring], y)) mark(from, to, y - TOUCH_MM * 2, y + TOUCH_MM * 2);
  }
}

function coverOutside(
  grid: Uint8Array,
  columns: number,
  rows: number,
  outline: Outline,
  box: Bounds,
  cell: number,
): void {
  const edge = new Uint8Array(columns * rows);
  outline.forEach((a, i) => {
    cover(
      edge,
      columns,
      rows,
      [a, outline[(i + 1) % outline.length] as readonly [number, number]],
      box,
      cell,
    );
  });
  for (let r = 0; r < rows; r++) {
    const spans = inside([outline], box.minY + (r + 0.5) * cell);
    for (let c = 0; c < columns; c++) {
      const x = box.minX + (c + 0.5) * cell;
      const isIn = spans.some(([from, to]) => x > from && x < to);
      if (!isIn || edge[r * columns + c]) grid[r * columns + c] = 1;
    }
  }
}

/** The largest free rectangle of a grid: for each row the largest under a skyline, with a stack. */
function largest(grid: Uint8Array, columns: number, rows: number) {
  const heights = new Int32Array(columns + 1);
  const stack = new Int32Array(columns + 1);
  let best: { row: number; column: number; rows: number; columns: number } | null = null;
  let bestArea = 0;
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      heights[c] = grid[r * columns + c] ? 0 : (heights[c] as number) + 1;
    }
    let top = 0;
    for (let c = 0; c <= columns; c++) {
      while (top > 0 && (heights[stack[top - 1] as number] as number) >= (heights[c] as number)) {
        const height = heights[stack[--top] as number] as number;
        const left = top > 0 ? (stack[top - 1] as number) + 1 : 0;
        const area = height * (c - left);
        if (area > bestArea) {
          bestArea = area;
          best = { row: r - height + 1, column: left, rows: height, columns: c - left };
        }
      }
      stack[top++] = c;
    }
  }
  return best;
}
