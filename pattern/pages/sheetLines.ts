import type { Box } from '../../nesting/geometry/points.ts';
import { boundingBox } from '../../nesting/geometry/rings.ts';
import type { Point } from '../../nesting/packing/types.ts';
import type { ReadDrawing } from '../reading/drawing.ts';
import { AT_BORDER_MM, type Side, sideOf } from './borders.ts';
import { clipToBox } from './clipToBox.ts';

/** A line of a page in its own coordinates, mm from its lower left corner. */
export interface PageLine {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** What a sheet catches by when it is laid beside others. Coordinates of the page, mm. */
export interface SheetHold {
  readonly page: number;
  /** The part of the page that counts. */
  readonly window: Box;
  /** Where lines are cut through at the window's sides. */
  readonly ends: readonly { readonly at: Point; readonly side: Side }[];
  /** Middles of small marks near the window's sides: what is printed on two sheets to lay them by. */
  readonly marks: readonly Point[];
}

/** Marks for laying sheets are no larger, mm, and stand no farther inside. */
const MARK_MM = 20;
const MARK_INSIDE_MM = 30;
/** So much of a sheet is looked at; a page with more is a picture. */
const MOST_HOLDS = 400;

/** The lines of every page of a drawing whose pages stand apart. */
export function linesByPage(reading: ReadDrawing): ReadonlyMap<number, readonly PageLine[]> {
  const lines = new Map<number, PageLine[]>();
  const places = new Map((reading.pages ?? []).map(({ number, at }) => [number, at]));
  const add = (page: number | undefined, points: readonly Point[], closed: boolean): void => {
    const at = page === undefined ? undefined : places.get(page);
    if (page === undefined || !at) return;
    const line = { points: points.map(([x, y]): Point => [x - at[0], y - at[1]]), closed };
    const list = lines.get(page);
    if (list) list.push(line);
    else lines.set(page, [line]);
  };
  for (const { pageNumber, ring } of reading.outlines) add(pageNumber, ring, true);
  for (const { pageNumber, points } of reading.openLines) add(pageNumber, points, false);
  return lines;
}

/** What a page catches by. Its own frame is no line that goes on. */
export function holdOf(page: number, lines: readonly PageLine[], window: Box): SheetHold {
  const ends: { at: Point; side: Side }[] = [];
  const marks: Point[] = [];
  for (const { points, closed } of lines) {
    for (const part of clipToBox(points, closed, window)) {
      if (part.closed) continue;
      for (const at of [part.points[0], part.points.at(-1)]) {
        const side = at && sideOf(at, window);
        if (at && side && ends.length < MOST_HOLDS) ends.push({ at, side });
      }
    }
    const middle = markIn(points, window);
    if (middle && marks.length < MOST_HOLDS) marks.push(middle);
  }
  return { page, window, ends, marks };
}

/** The middle of a small figure near a side of the window; null for anything else. */
function markIn(points: readonly Point[], { minX, minY, maxX, maxY }: Box): Point | null {
  const box = boundingBox(points);
  if (Math.max(box.maxX - box.minX, box.maxY - box.minY) > MARK_MM) return null;
  const [x, y] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  if (x < minX - AT_BORDER_MM || x > maxX + AT_BORDER_MM) return null;
  if (y < minY - AT_BORDER_MM || y > maxY + AT_BORDER_MM) return null;
  const inside = Math.min(x - minX, maxX - x, y - minY, maxY - y);
  return inside <= MARK_INSIDE_MM ? [x, y] : null;
}

/** On so many of the pages a frame is drawn at the same place, and it takes up this part of them at least. */
const NEARLY_ALL = 0.7;
const FRAME_PART = 0.5;
/** Programs round what they repeat on each page to about this, mm. */
const SAME_MM = 0.3;

/** The frame that nearly all pages have, the largest; null where there is none. */
export function commonFrame(
  lines: ReadonlyMap<number, readonly PageLine[]>,
  page: { readonly widthMm: number; readonly heightMm: number },
): Box | null {
  const counted = new Map<string, { box: Box; pages: Set<number> }>();
  for (const [number, list] of lines)
    for (const { points, closed } of list) {
      if (!closed || points.length !== 4) continue;
      const box = boundingBox(points);
      const [wide, tall] = [box.maxX - box.minX, box.maxY - box.minY];
      if (wide < FRAME_PART * page.widthMm || tall < FRAME_PART * page.heightMm) continue;
      const key = [box.minX, box.minY, box.maxX, box.maxY]
        .map((value) => Math.round(value / SAME_MM))
        .join(' ');
      const entry = counted.get(key) ?? { box, pages: new Set() };
      entry.pages.add(number);
      counted.set(key, entry);
    }
  const area = (box: Box): number => (box.maxX - box.minX) * (box.maxY - box.minY);
  const [largest] = [...counted.values()]
    .filter(({ pages }) => pages.size > 1 && pages.size >= NEARLY_ALL * lines.size)
    .sort((a, b) => area(b.box) - area(a.box));
  return largest?.box ?? null;
}
