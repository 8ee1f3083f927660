import type { Point } from '../../nesting/packing/types.ts';
import type { DrawingText } from '../reading/drawing.ts';
import type { Scene } from '../reading/scenes.ts';
import type { DrawnShape } from '../reading/walk.ts';
import { sideOf } from './borders.ts';
import { clipToBox } from './clipToBox.ts';
import { findFurniture } from './furniture.ts';
import { assembledSize, type PlacedSheet, placeSheets, type SheetLayout } from './layout.ts';

/** Sheets put together. */
export interface Assembled {
  readonly scene: Scene;
  readonly placed: readonly PlacedSheet[];
  /** Lines that meet across borders; ends there that meet nothing; the widest gap that was closed, mm. */
  readonly met: number;
  readonly loose: number;
  readonly widestGapMm: number;
}

/** Ends at a border that lie no farther apart belong together: about what glued paper is off. Millimetres. */
export const SEAM_MM = 1;

/** Two ends of one sheet this near are one point, but for what the file rounds off. Millimetres. */
const SAME_POINT_MM = 0.02;

/** An end of a line at the border of its sheet, in the assembled drawing. */
interface Loose {
  readonly line: Point[];
  readonly index: number;
  readonly sheet: number;
  readonly style: string;
  mate: Loose | null;
}

/**
 * Puts sheets together into one drawing. Of every page only its cell is used, cut along its edge: so a line drawn on
 * two pages comes once, whether the pages end at the cut or hold the whole outline beyond it. What repeats on the
 * pages is taken from the first alone, and frames from none. Ends that face each other across a border and are drawn
 * alike are brought to the point between them.
 */
export function assembleSheets(scenes: readonly Scene[], layout: SheetLayout): Assembled {
  const placed = placeSheets(layout);
  const byNumber = new Map(scenes.map((scene) => [scene.number, scene]));
  const furniture = findFurniture(scenes.filter(({ number }) => placed.some(({ page }) => page === number)));
  const { window } = layout;
  const shapes: DrawnShape[] = [];
  const texts: DrawingText[] = [];
  const ends: Loose[] = [];
  placed.forEach((sheet, sheetIndex) => {
    const scene = byNumber.get(sheet.page);
    if (!scene) return;
    const { cell, by } = sheet;
    for (const shape of scene.shapes) {
      if (furniture.has(shape) && (sheetIndex > 0 || !liesWithin(shape, window))) continue;
      const parts = shape.polylines.flatMap(({ points, closed }) => clipToBox(points, closed, cell));
      if (parts.length === 0) continue;
      const isWhole = parts.every(({ closed }) => closed);
      const polylines = parts.map(({ points, closed }) => {
        const line = points.map(([x, y]): Point => [x + by[0], y + by[1]]);
        if (!closed) {
          const style = `${shape.groupKey} ${shape.strokeColour} ${shape.dashed}`;
          for (const index of new Set([0, line.length - 1])) {
            if (!isInner(points[index] as Point, sheet, layout)) continue;
            ends.push({ line, index, sheet: sheetIndex, style, mate: null });
          }
        }
        return { points: line, closed };
      });
      shapes.push({ ...shape, polylines, filled: shape.filled && isWhole });
    }
    for (const text of scene.texts) {
      const x = (text.box.minX + text.box.maxX) / 2;
      const y = (text.box.minY + text.box.maxY) / 2;
      if (x < cell.minX || x > cell.maxX || y < cell.minY || y > cell.maxY) continue;
      texts.push({
        ...text,
        at: [text.at[0] + by[0], text.at[1] + by[1]],
        box: {
          minX: text.box.minX + by[0],
          minY: text.box.minY + by[1],
          maxX: text.box.maxX + by[0],
          maxY: text.box.maxY + by[1],
        },
      });
    }
  });
  const joined = joinEnds(ends);
  const scene: Scene = { number: 1, ...assembledSize(layout), shapes, texts };
  return { scene, placed, ...joined };
}

/** Whether a point of a page lies on a border of its cell that has a neighbour. */
function isInner(point: Point, { cell, row, column }: PlacedSheet, { grid }: SheetLayout): boolean {
  const at = (r: number, c: number): boolean => typeof grid[r]?.[c] === 'number';
  switch (sideOf(point, cell)) {
    case 'left':
      return at(row, column - 1);
    case 'right':
      return at(row, column + 1);
    case 'top':
      return at(row - 1, column);
    case 'bottom':
      return at(row + 1, column);
    case null:
      return false;
  }
}

/** Brings ends of different sheets together, the nearest first. */
function joinEnds(ends: readonly Loose[]): { met: number; loose: number; widestGapMm: number } {
  const place = ({ line, index }: Loose): Point => line[index] as Point;
  const cells = new Map<string, Loose[]>();
  const cellOf = (value: number): number => Math.floor(value / SEAM_MM);
  for (const end of ends) {
    const [x, y] = place(end);
    const key = `${cellOf(x)},${cellOf(y)}`;
    const cell = cells.get(key);
    if (cell) cell.push(end);
    else cells.set(key, [end]);
  }
  const pairs: { a: Loose; b: Loose; gap: number }[] = [];
  // An end that meets another of its own sheet goes on there, however near the border that is.
  const goesOn = new Set<Loose>();
  const order = new Map(ends.map((end, index) => [end, index]));
  for (const a of ends) {
    const [x, y] = place(a);
    for (let i = -1; i <= 1; i++)
      for (let j = -1; j <= 1; j++)
        for (const b of cells.get(`${cellOf(x) + i},${cellOf(y) + j}`) ?? []) {
          if ((order.get(b) ?? 0) <= (order.get(a) ?? 0) || a.style !== b.style) continue;
          const [bx, by] = place(b);
          const gap = Math.hypot(bx - x, by - y);
          if (a.sheet !== b.sheet) {
            if (gap <= SEAM_MM) pairs.push({ a, b, gap });
          } else if (a.line !== b.line && gap <= SAME_POINT_MM) goesOn.add(a).add(b);
        }
  }
  pairs.sort((p, q) => p.gap - q.gap);
  let met = 0;
  let widestGapMm = 0;
  for (const { a, b, gap } of pairs) {
    if (a.mate || b.mate || goesOn.has(a) || goesOn.has(b)) continue;
    a.mate = b;
    b.mate = a;
    met += 1;
    widestGapMm = Math.max(widestGapMm, gap);
    const [ax, ay] = place(a);
    const [bx, by] = place(b);
    const between: Point = [(ax + bx) / 2, (ay + by) / 2];
    a.line[a.index] = between;
    b.line[b.index] = between;
  }
  return { met, loose: ends.length - 2 * met - goesOn.size, widestGapMm };
}

function liesWithin({ polylines }: DrawnShape, box: SheetLayout['window']): boolean {
  return polylines.every(({ points }) =>
    points.every(([x, y]) => x > box.minX && x < box.maxX && y > box.minY && y < box.maxY),
  );
}
