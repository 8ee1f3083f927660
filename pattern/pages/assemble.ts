import { boundingBox } from '../../nesting/geometry/rings.ts';
import type { Point } from '../../nesting/packing/types.ts';
import type { DrawingText } from '../reading/drawing.ts';
import { distanceToSegment } from '../reading/flatten.ts';
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
  /** Lines that cross a border and were taken from a page that holds the whole of them. */
  readonly whole: number;
}

/** Ends at a border that lie no farther apart belong together: about what glued paper is off. Millimetres. */
const SEAM_MM = 1;

/** Two ends of one sheet this near are one point, but for what the file rounds off. Millimetres. */
const SAME_POINT_MM = 0.02;

/** The same line on two pages that both hold the whole of it lies no farther apart, mm: what files round off. */
const SAME_LINE_MM = 0.5;

/** What is narrower is a mark of the sheet, not an outline, mm. */
const LEAST_OUTLINE_MM = 30;

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
 * two pages comes once. A line that several pages hold whole, beyond their edges, is taken from the first of them as it
 * is. What repeats on the pages is taken from the first alone, and frames from none. Ends that face each other across a
 * border and are drawn alike are brought to the point between them.
 */
export function assembleSheets(scenes: readonly Scene[], layout: SheetLayout): Assembled {
  const placed = placeSheets(layout);
  const byNumber = new Map(scenes.map((scene) => [scene.number, scene]));
  const furniture = findFurniture(scenes.filter(({ number }) => placed.some(({ page }) => page === number)));
  const { window } = layout;
  const shapes: DrawnShape[] = [];
  const texts: DrawingText[] = [];
  const ends: Loose[] = [];
  const wholes = wholeLines(scenes, placed, furniture.has);
  placed.forEach((sheet, sheetIndex) => {
    const scene = byNumber.get(sheet.page);
    if (!scene) return;
    const { cell, by } = sheet;
    for (const shape of scene.shapes) {
      if (furniture.has(shape) && (sheetIndex > 0 || !liesWithin(shape, window))) continue;
      const parts = shape.polylines.flatMap((line) => {
        if (wholes.has(line)) return [];
        // What is left of a line that ends at the border, or touches it, is a dot there.
        return clipToBox(line.points, line.closed, cell).filter(
          (part) => part.points.length === line.points.length || !isDot(part.points),
        );
      });
      const kept = shape.polylines.filter((line) => wholes.get(line) === 'taken');
      for (const { points, closed } of kept) parts.push({ points: [...points], closed });
      if (parts.length === 0) continue;
      const isWhole = parts.every(({ closed }) => closed);
      const polylines = parts.map(({ points, closed }) => {
        const line = points.map(([x, y]): Point => [x + by[0], y + by[1]]);
        if (!closed) {
          const style = `${shape.groupKey} ${shape.strokeColour} ${shape.dashed}`;
          for (const index of new Set([0, line.length - 1])) {
            if (!isInner(line[index] as Point, sheetIndex, placed)) continue;
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
  const whole = [...wholes.values()].filter((value) => value === 'taken').length;
  return { scene, placed, ...joined, whole };
}

type Line = DrawnShape['polylines'][number];

/**
 * Lines that reach beyond the cells of their pages and are whole there: taken on the first page that has them, left out
 * on the others. An outline that a single page holds whole is taken too where the other sheets show nothing of it; if
 * they show it, it is cut as they are.
 */
function wholeLines(
  scenes: readonly Scene[],
  placed: readonly PlacedSheet[],
  isFurniture: (shape: DrawnShape) => boolean,
): ReadonlyMap<Line, 'taken' | 'other'> {
  const byNumber = new Map(scenes.map((scene) => [scene.number, scene]));
  const found = new Map<string, { line: Line; by: Point; others: Line[]; page: number }[]>();
  for (const { page, cell, by } of placed)
    for (const shape of byNumber.get(page)?.shapes ?? []) {
      if (isFurniture(shape)) continue;
      for (const line of shape.polylines) {
        const { points, closed } = line;
        const isWithin = points.every(
          ([x, y]) => x >= cell.minX && x <= cell.maxX && y >= cell.minY && y <= cell.maxY,
        );
        // Lines cut at the paper's edge end there: only such as pass the border in full are whole.
        if (isWithin) continue;
        const key = `${points.length} ${closed} ${shape.strokeColour} ${shape.dashed}`;
        const list = found.get(key) ?? [];
        const same = list.find((entry) => isSameLine(entry.line, entry.by, line, by));
        if (same) same.others.push(line);
        else list.push({ line, by, others: [], page });
        found.set(key, list);
      }
    }
  const wholes = new Map<Line, 'taken' | 'other'>();
  for (const { line, by, others, page } of [...found.values()].flat()) {
    const isShownElsewhere = (): boolean =>
      placed.some(
        (sheet) => sheet.page !== page && isShownOn(line, by, byNumber.get(sheet.page)?.shapes ?? [], sheet),
      );
    if (others.length === 0 && (!isOutline(line) || isShownElsewhere())) continue;
    wholes.set(line, 'taken');
    for (const other of others) wholes.set(other, 'other');
  }
  return wholes;
}

function isOutline({ points, closed }: Line): boolean {
  const { minX, minY, maxX, maxY } = boundingBox(points);
  return closed && Math.min(maxX - minX, maxY - minY) >= LEAST_OUTLINE_MM;
}

/** Whether a sheet has a line where this one would run over its cell. */
function isShownOn(line: Line, by: Point, shapes: readonly DrawnShape[], sheet: PlacedSheet): boolean {
  const { minX, minY, maxX, maxY } = sheet.cell;
  const there = line.points
    .map(([x, y]): Point => [x + by[0] - sheet.by[0], y + by[1] - sheet.by[1]])
    .filter(([x, y]) => x > minX && x < maxX && y > minY && y < maxY);
  return there.some((point) =>
    shapes.some(({ polylines }) =>
      polylines.some(({ points }) =>
        points.some((b, i) => i > 0 && distanceToSegment(point, points[i - 1] as Point, b) <= SAME_LINE_MM),
      ),
    ),
  );
}

function isSameLine(a: Line, byA: Point, b: Line, byB: Point): boolean {
  return a.points.every(([x, y], i) => {
    const [u, v] = b.points[i] as Point;
    const [dx, dy] = [x + byA[0] - u - byB[0], y + byA[1] - v - byB[1]];
    return Math.abs(dx) <= SAME_LINE_MM && Math.abs(dy) <= SAME_LINE_MM;
  });
}

/** Whether a place lies on the border of a sheet's cell where another sheet goes on. */
function isInner(at: Point, index: number, placed: readonly PlacedSheet[]): boolean {
  const { cell, by } = placed[index] as PlacedSheet;
  if (sideOf([at[0] - by[0], at[1] - by[1]], cell) === null) return false;
  return placed.some(({ cell: other, by: [dx, dy] }, i) => {
    if (i === index) return false;
    const [x, y] = [at[0] - dx, at[1] - dy];
    return (
      x >= other.minX - SEAM_MM &&
      x <= other.maxX + SEAM_MM &&
      y >= other.minY - SEAM_MM &&
      y <= other.maxY + SEAM_MM
    );
  });
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

const isDot = (points: readonly Point[]): boolean => {
  const [x, y] = points[0] as Point;
  return points.every(([px, py]) => Math.hypot(px - x, py - y) <= SAME_POINT_MM);
};

function liesWithin({ polylines }: DrawnShape, box: SheetLayout['window']): boolean {
  return polylines.every(({ points }) =>
    points.every(([x, y]) => x > box.minX && x < box.maxX && y > box.minY && y < box.maxY),
  );
}
