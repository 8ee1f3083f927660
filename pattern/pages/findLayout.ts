import type { Box } from '../../nesting/geometry/points.ts';
import type { Scene } from '../reading/scenes.ts';
import { type BorderEnds, borderEnds, matches } from './borders.ts';
import { findFurniture } from './furniture.ts';
import { type GridLayout, gridOf } from './layout.ts';

/** A layout worked out from the pages. */
export interface FoundLayout extends GridLayout {
  /** Lines that meet across the borders, and ends that meet nothing there. */
  readonly met: number;
  readonly loose: number;
  readonly by: 'frames' | 'lines';
}

/** Lines may miss each other by this at a border and still be meant for each other. Millimetres. */
const MEETING_MM = 0.5;
/** Glued strips that patterns use (common practice, no source): none, and 5 mm to an inch. */
const OVERLAPS_MM = [0, 5, 6.35, 8, 10, 12, 12.7, 15, 20, 25, 25.4];
/** More pages are put together by hand: every width of the grid would have to be tried. */
const MOST_PAGES = 300;

/**
 * How the pages of a tiled drawing lie beside each other: the frame or the page's edge as window, and of all columns,
 * orders and usual overlaps the one at which most lines meet. Null where nothing meets.
 */
export function findLayout(scenes: readonly Scene[]): FoundLayout | null {
  if (scenes.length < 2 || scenes.length > MOST_PAGES) return null;
  const furniture = findFurniture(scenes);
  let best: FoundLayout | null = null;
  const consider = (window: Box, sheets: readonly Scene[], by: FoundLayout['by']): void => {
    const width = window.maxX - window.minX;
    const height = window.maxY - window.minY;
    for (const overlapMm of OVERLAPS_MM) {
      if (overlapMm > Math.min(width, height) / 4) continue;
      // A cell without the strip on its right and below; its neighbours' cells start where it ends.
      const cell = { ...window, maxX: window.maxX - overlapMm, minY: window.minY + overlapMm };
      const ends = new Map<number, BorderEnds>(
        sheets.map(({ number, shapes }) => [
          number,
          borderEnds(
            shapes.filter((shape) => !furniture.has(shape)),
            cell,
          ),
        ]),
      );
      const pages = sheets.map(({ number }) => number);
      for (let columns = 1; columns <= pages.length; columns++)
        for (const order of ['rows', 'columns'] as const) {
          const grid = gridOf(pages, columns, order);
          const { met, loose } = scoreOf(grid, ends);
          // Lines that meet count for a layout, ends left over against it.
          const isBetter = !best || 2 * met - loose > 2 * best.met - best.loose;
          if (met > 0 && isBetter) best = { grid, window, overlapMm, met, loose, by };
        }
    }
  };
  for (const frame of furniture.frames)
    consider(
      frame.box,
      scenes.filter(({ number }) => frame.pages.has(number)),
      'frames',
    );
  const usual = usualSize(scenes);
  if (usual.sheets.length > 1) {
    consider(usual.page, usual.sheets, 'lines');
    const inked = inkedBox(usual.sheets, furniture.has, usual.page);
    if (inked) consider(inked, usual.sheets, 'lines');
  }
  return best;
}

function scoreOf(
  grid: GridLayout['grid'],
  ends: ReadonlyMap<number, BorderEnds>,
): { met: number; loose: number } {
  let met = 0;
  let loose = 0;
  const at = (row: number, column: number): BorderEnds | undefined => ends.get(grid[row]?.[column] ?? -1);
  const columns = Math.max(...grid.map((row) => row.length));
  for (let row = 0; row < grid.length; row++)
    for (let column = 0; column <= columns; column++) {
      const across = matches(at(row, column - 1)?.right ?? [], at(row, column)?.left ?? [], MEETING_MM);
      const down = matches(at(row - 1, column)?.bottom ?? [], at(row, column)?.top ?? [], MEETING_MM);
      met += across.met + down.met;
      loose += across.loose + down.loose;
    }
  const last = grid.length - 1;
  for (let column = 0; column < columns; column++) loose += at(last, column)?.bottom.length ?? 0;
  return { met, loose };
}

/** The pages of the size that most have: covers and notes may differ. */
function usualSize(scenes: readonly Scene[]): { page: Box; sheets: readonly Scene[] } {
  const bySize = new Map<string, Scene[]>();
  for (const scene of scenes) {
    if (scene.shapes.length === 0) continue;
    const key = `${Math.round(scene.widthMm)} ${Math.round(scene.heightMm)}`;
    const same = bySize.get(key);
    if (same) same.push(scene);
    else bySize.set(key, [scene]);
  }
  const sheets = [...bySize.values()].sort((a, b) => b.length - a.length)[0] ?? [];
  const [first] = sheets;
  return {
    page: { minX: 0, minY: 0, maxX: first?.widthMm ?? 0, maxY: first?.heightMm ?? 0 },
    sheets,
  };
}

/** What of the pages is printed on: lines cut through at the printer's margin end at its edges. */
function inkedBox(
  sheets: readonly Scene[],
  isFurniture: (shape: Scene['shapes'][number]) => boolean,
  page: Box,
): Box | null {
  const box = { minX: page.maxX, minY: page.maxY, maxX: page.minX, maxY: page.minY };
  for (const { shapes } of sheets)
    for (const shape of shapes) {
      if (isFurniture(shape)) continue;
      for (const { points } of shape.polylines)
        for (const [x, y] of points) {
          if (x < page.minX || x > page.maxX || y < page.minY || y > page.maxY) return null;
          box.minX = Math.min(box.minX, x);
          box.maxX = Math.max(box.maxX, x);
          box.minY = Math.min(box.minY, y);
          box.maxY = Math.max(box.maxY, y);
        }
    }
  return box.maxX > box.minX && box.maxY > box.minY ? box : null;
}
