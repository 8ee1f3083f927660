import type { Box } from '../../nesting/geometry/points.ts';
import type { Point } from '../../nesting/packing/types.ts';
import { ToldRangeError } from '../toldFault.ts';
import { type PagesWords, pagesWords } from './words/index.ts';

/** Printed sheets in rows and columns, all used alike. */
export interface GridLayout {
  /** Numbers of pages by row, the top row first; null where no sheet lies. */
  readonly grid: readonly (readonly (number | null)[])[];
  /** The part of every page that counts, mm from its lower left corner. */
  readonly window: Box;
  /** How far neighbouring windows cover each other, mm: the strip that is glued. */
  readonly overlapMm: number;
}

/** Where one sheet was laid by hand: what coordinates of the page are moved by, mm. */
export interface SheetPlace {
  readonly page: number;
  readonly at: Point;
}

/** Printed sheets laid one by one, as by hand on the floor. */
export interface FreeLayout {
  readonly places: readonly SheetPlace[];
  readonly window: Box;
}

/** How printed sheets lie beside each other to make up one drawing. */
export type SheetLayout = GridLayout | FreeLayout;

/** One sheet in its place. */
export interface PlacedSheet {
  readonly page: number;
  /** What of the page is used: its window without what a neighbour shows. */
  readonly cell: Box;
  /** What page coordinates are moved by. */
  readonly by: Point;
}

/** Whether the sheets were laid by hand, each in a place of its own. */
export const isFree = (layout: SheetLayout): layout is FreeLayout => 'places' in layout;

/** Columns and rows that no pattern passes; larger ones are a slip of the pen. */
const MOST_SIDE = 60;

/** Where each sheet goes, from the top left; the drawing's lower left corner is the origin. */
export function placeSheets(layout: SheetLayout): readonly PlacedSheet[] {
  return isFree(layout) ? placeFreely(layout) : placeInGrid(layout);
}

/** Where two sheets cover each other, each shows its own half of what they share. */
function placeFreely({ places, window }: FreeLayout): readonly PlacedSheet[] {
  const left = Math.min(...places.map(({ at }) => at[0])) + window.minX;
  const low = Math.min(...places.map(({ at }) => at[1])) + window.minY;
  const boxes = places.map(({ at: [x, y] }) => shifted(window, [x - left, y - low]));
  return places.map(({ page }, i) => {
    const own = boxes[i] as Box;
    let { minX, minY, maxX, maxY } = own;
    boxes.forEach((other, j) => {
      const wide = Math.min(own.maxX, other.maxX) - Math.max(own.minX, other.minX);
      const tall = Math.min(own.maxY, other.maxY) - Math.max(own.minY, other.minY);
      if (i === j || wide <= 0 || tall <= 0) return;
      if (wide < tall) {
        const middle = (Math.max(own.minX, other.minX) + Math.min(own.maxX, other.maxX)) / 2;
        if (other.minX > own.minX) maxX = Math.min(maxX, middle);
        else minX = Math.max(minX, middle);
      } else {
        const middle = (Math.max(own.minY, other.minY) + Math.min(own.maxY, other.maxY)) / 2;
        if (other.minY > own.minY) maxY = Math.min(maxY, middle);
        else minY = Math.max(minY, middle);
      }
    });
    const by: Point = [own.minX - window.minX, own.minY - window.minY];
    return { page, by, cell: shifted({ minX, minY, maxX, maxY }, [-by[0], -by[1]]) };
  });
}

const shifted = ({ minX, minY, maxX, maxY }: Box, [dx, dy]: Point): Box => ({
  minX: minX + dx,
  minY: minY + dy,
  maxX: maxX + dx,
  maxY: maxY + dy,
});

function placeInGrid({ grid, window, overlapMm }: GridLayout): readonly PlacedSheet[] {
  const pitchX = window.maxX - window.minX - overlapMm;
  const pitchY = window.maxY - window.minY - overlapMm;
  const isAt = (row: number, column: number): boolean => typeof grid[row]?.[column] === 'number';
  const placed: PlacedSheet[] = [];
  grid.forEach((cells, row) => {
    cells.forEach((page, column) => {
      if (page === null) return;
      placed.push({
        page,
        cell: {
          minX: window.minX,
          maxX: isAt(row, column + 1) ? window.minX + pitchX : window.maxX,
          minY: isAt(row + 1, column) ? window.maxY - pitchY : window.minY,
          maxY: window.maxY,
        },
        by: [column * pitchX - window.minX, (grid.length - 1 - row) * pitchY - window.minY],
      });
    });
  });
  return placed;
}

/** Size of the drawing that the sheets make up, mm. */
export function assembledSize(layout: SheetLayout): { readonly widthMm: number; readonly heightMm: number } {
  if (isFree(layout)) {
    const { places, window } = layout;
    const span = (axis: 0 | 1): number => {
      const values = places.map(({ at }) => at[axis]);
      return Math.max(...values) - Math.min(...values);
    };
    return {
      widthMm: span(0) + window.maxX - window.minX,
      heightMm: span(1) + window.maxY - window.minY,
    };
  }
  const { grid, window, overlapMm } = layout;
  const columns = Math.max(0, ...grid.map((row) => row.length));
  return {
    widthMm: columns * (window.maxX - window.minX - overlapMm) + overlapMm,
    heightMm: grid.length * (window.maxY - window.minY - overlapMm) + overlapMm,
  };
}

/** `pages` in so many columns, row by row or column by column. */
export function gridOf(
  pages: readonly number[],
  columns: number,
  order: 'rows' | 'columns',
): readonly (readonly (number | null)[])[] {
  const rows = Math.ceil(pages.length / columns);
  return Array.from({ length: rows }, (_, row) =>
    Array.from(
      { length: columns },
      (_, column) => pages[order === 'rows' ? row * columns + column : column * rows + row] ?? null,
    ),
  );
}

/** The grid as the maker types it: a line a row, numbers of pages, a dash where no sheet lies. */
export const writeGrid = (grid: GridLayout['grid']): string =>
  grid.map((row) => row.map((page) => page ?? '–').join(' ')).join('\n');

/**
 * Reads what the maker typed. Ranges such as "1-4" stand for their pages.
 * @param pages numbers of the pages that there are
 * @throws RangeError with a sentence for the maker
 */
export function readGrid(text: string, pages: readonly number[]): GridLayout['grid'] {
  const known = new Set(pages);
  const seen = new Set<number>();
  const rows = text
    .split(/\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
  if (rows.length === 0) throw fault(({ nothing }) => nothing);
  const grid = rows.map((line, index) =>
    line.split(/[\s,;]+/).flatMap((word): (number | null)[] => {
      if (/^[-–—.]$/.test(word)) return [null];
      const range = /^(\d{1,4})(?:[-–](\d{1,4}))?$/.exec(word);
      const from = Number(range?.[1]);
      const to = Number(range?.[2] ?? range?.[1]);
      if (!range || Math.abs(to - from) >= MOST_SIDE) throw fault(({ noPage }) => noPage(index + 1, word));
      const step = to < from ? -1 : 1;
      return Array.from({ length: Math.abs(to - from) + 1 }, (_, i) => from + i * step);
    }),
  );
  if (grid.length > MOST_SIDE || grid.some((row) => row.length > MOST_SIDE))
    throw fault(({ tooMany }) => tooMany(MOST_SIDE));
  for (const page of grid.flat()) {
    if (page === null) continue;
    if (!known.has(page)) throw fault(({ unread }) => unread(page));
    if (seen.has(page)) throw fault(({ twice }) => twice(page));
    seen.add(page);
  }
  if (seen.size < 2) throw fault(({ tooFew }) => tooFew);
  return grid;
}

/** The same layout for a drawing read so many times as large. */
export function scaledLayout(layout: SheetLayout, factor: number): SheetLayout {
  const { minX, minY, maxX, maxY } = layout.window;
  const window = { minX: minX * factor, minY: minY * factor, maxX: maxX * factor, maxY: maxY * factor };
  if (!isFree(layout)) return { grid: layout.grid, window, overlapMm: layout.overlapMm * factor };
  const places = layout.places.map(
    ({ page, at: [x, y] }): SheetPlace => ({
      page,
      at: [x * factor, y * factor],
    }),
  );
  return { places, window };
}

/** Sheets can't be put together so. */
function fault(say: (words: PagesWords) => string): ToldRangeError {
  return new ToldRangeError((language) => say(pagesWords(language)));
}
