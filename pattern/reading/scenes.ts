import type { Box } from '../../nesting/geometry/points.ts';
import type { Point } from '../../nesting/packing/types.ts';
import type {
  DrawingLine,
  DrawingOutline,
  DrawingPage,
  DrawingPoint,
  DrawingText,
  RefusedOutline,
} from './drawing.ts';
import { READING_LIMITS } from './limits.ts';
import { sortingWork, sortOut } from './outlines.ts';
import { Refusal } from './refusal.ts';
import type { DrawnShape } from './walk.ts';
import type { Warnings } from './warnings.ts';

/**
 * What stands by itself in a file: a page of a PDF, a piece of a DXF. Nothing of one scene is joined with, or lies in,
 * anything of another. Coordinates are mm, y up, from the scene's own lower left corner; ids are unique over all scenes.
 */
export interface Scene {
  readonly number: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly shapes: readonly DrawnShape[];
  readonly texts: readonly DrawingText[];
  readonly points?: readonly DrawingPoint[];
  /** What to call it if it holds no lines. */
  readonly without?: 'picture' | 'empty';
}

export interface SetOut {
  readonly page: { readonly widthMm: number; readonly heightMm: number };
  readonly outlines: readonly DrawingOutline[];
  readonly openLines: readonly DrawingLine[];
  readonly texts: readonly DrawingText[];
  readonly points: readonly DrawingPoint[];
  readonly refused: readonly RefusedOutline[];
  readonly pages: readonly DrawingPage[];
}

/** Clear space between scenes in the drawing. */
const BETWEEN_MM = 20;
/** Many scenes may take so many times the work of a single drawing, but no more: some seconds at the very most. */
const MOST_WORK = 8;

/**
 * Sorts every scene out by itself and sets them side by side in rows, the first at the top left. A single scene stays
 * where it is. Throws `Refusal` where all scenes together pass a limit.
 */
export function setOutScenes(
  scenes: readonly Scene[],
  simplifyMm: number,
  warnings: Warnings,
  numbered: boolean,
): SetOut {
  const places = rows(scenes);
  const outlines: DrawingOutline[] = [];
  const openLines: DrawingLine[] = [];
  const texts: DrawingText[] = [];
  const points: DrawingPoint[] = [];
  const refused: RefusedOutline[] = [];
  const pages: DrawingPage[] = [];
  const work = sortingWork(Math.min(scenes.length, MOST_WORK));
  scenes.forEach((scene, i) => {
    const at = places.at[i] as Point;
    const sorted = sortOut(scene.shapes, scene.texts, scene, simplifyMm, warnings, {
      work,
      stubsAside: true,
    });
    const onPage = numbered ? { pageNumber: scene.number } : {};
    const still = at[0] === 0 && at[1] === 0;
    for (const outline of sorted.outlines)
      outlines.push({
        ...outline,
        ...onPage,
        ...(still ? {} : { ring: moved(outline.ring, at), box: movedBox(outline.box, at) }),
      });
    for (const line of sorted.openLines)
      openLines.push({
        ...line,
        ...onPage,
        ...(still ? {} : { points: moved(line.points, at), box: movedBox(line.box, at) }),
      });
    for (const text of scene.texts)
      texts.push({
        ...text,
        ...onPage,
        ...(still ? {} : { at: movedPoint(text.at, at), box: movedBox(text.box, at) }),
      });
    for (const point of scene.points ?? []) points.push({ ...point, at: movedPoint(point.at, at) });
    refused.push(...sorted.refused);
    if (outlines.length > READING_LIMITS.outlines)
      throw new Refusal(({ tooManyOutlines }) => tooManyOutlines(READING_LIMITS.outlines));
    pages.push({
      number: scene.number,
      widthMm: scene.widthMm,
      heightMm: scene.heightMm,
      at,
      outlines: sorted.outlines.length,
      openLines: sorted.openLines.length,
      texts: scene.texts.length,
      content:
        scene.shapes.length > 0
          ? 'lines'
          : scene.without === 'picture'
            ? 'picture'
            : scene.texts.length > 0
              ? 'text'
              : 'empty',
    });
  });
  return { page: places, outlines, openLines, texts, points, refused, pages };
}

function rows(scenes: readonly Scene[]): { at: Point[]; widthMm: number; heightMm: number } {
  if (scenes.length === 1) {
    const only = scenes[0] as Scene;
    return { at: [[0, 0]], widthMm: only.widthMm, heightMm: only.heightMm };
  }
  const columns = Math.ceil(Math.sqrt(scenes.length));
  const left: { x: number; y: number }[] = [];
  let y = 0;
  let widthMm = 0;
  let x = 0;
  let tall = 0;
  scenes.forEach((scene, i) => {
    if (i > 0 && i % columns === 0) {
      y += tall + BETWEEN_MM;
      x = 0;
      tall = 0;
    }
    left.push({ x, y: y + scene.heightMm });
    x += scene.widthMm + BETWEEN_MM;
    tall = Math.max(tall, scene.heightMm);
    widthMm = Math.max(widthMm, x - BETWEEN_MM);
  });
  const heightMm = y + tall;
  return { at: left.map((place) => [place.x, heightMm - place.y]), widthMm, heightMm };
}

const movedPoint = ([x, y]: Point, [dx, dy]: Point): Point => [x + dx, y + dy];
const moved = (points: readonly Point[], by: Point): Point[] => points.map((point) => movedPoint(point, by));
const movedBox = (box: Box, [dx, dy]: Point): Box => ({
  minX: box.minX + dx,
  minY: box.minY + dy,
  maxX: box.maxX + dx,
  maxY: box.maxY + dy,
});
