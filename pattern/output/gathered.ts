import { boundingBox } from '../../nesting/geometry/rings.ts';
import type { Outline } from '../../nesting/packing/types.ts';
import type { Language } from '../language.ts';
import type { DrawingLayer } from '../plan/index.ts';
import type { Bounds } from '../plan/intervals.ts';
import { moved } from '../plan/moved.ts';
import type { Drawable, FullDrawing } from './fullDrawing.ts';
import { outputWords } from './words/index.ts';

/** Room between two things on one large sheet, mm: for scissors. */
const BETWEEN_MM = 10;

/**
 * Small things gathered in rows on sheets of this size, tallest first, so that large paper isn't spent on each by itself;
 * what is larger than the sheet stays by itself. The order within a sheet is that of the rows.
 */
export function gathered(
  things: readonly Drawable[],
  width: number,
  height: number,
  language: Language,
): Drawable[] {
  const sized = things.map((thing) => {
    const { maxX, maxY } = boundingBox(thing.outlines.flat());
    return { thing, width: maxX, height: maxY };
  });
  const fits = (entry: (typeof sized)[number]) => entry.width <= width && entry.height <= height;
  const small = sized.filter(fits).sort((a, b) => b.height - a.height);
  const sheets: Placed[][] = [];
  let row = { x: 0, y: 0, height: 0 };
  for (const entry of small) {
    let sheet = sheets.at(-1);
    if (sheet && row.x > 0 && row.x + entry.width > width) {
      row = { x: 0, y: row.y + row.height + BETWEEN_MM, height: 0 };
    }
    if (!sheet || row.y + entry.height > height) {
      sheet = [];
      sheets.push(sheet);
      row = { x: 0, y: 0, height: 0 };
    }
    sheet.push({ thing: entry.thing, x: row.x, y: row.y });
    row = { x: row.x + entry.width + BETWEEN_MM, y: row.y, height: Math.max(row.height, entry.height) };
  }
  return [
    ...sheets.map((placed) =>
      placed.length === 1 ? (placed[0] as Placed).thing : together(placed, language),
    ),
    ...sized.filter((entry) => !fits(entry)).map(({ thing }) => thing),
  ];
}

interface Placed {
  readonly thing: Drawable;
  readonly x: number;
  readonly y: number;
}

function together(placed: readonly Placed[], language: Language): Drawable {
  const outlines = placed.flatMap(({ thing, x, y }) =>
    thing.outlines.map((ring): Outline => ring.map(([px, py]) => [px + x, py + y])),
  );
  const draw = (rooms: readonly Bounds[]): FullDrawing => {
    const layers = new Map<DrawingLayer['name'], DrawingLayer['items'][number][]>();
    for (const { thing, x, y } of placed) {
      const own = rooms.map((room) => ({
        minX: room.minX - x,
        maxX: room.maxX - x,
        minY: room.minY - y,
        maxY: room.maxY - y,
      }));
      for (const layer of thing.draw(own).drawing.layers) {
        const items = layers.get(layer.name) ?? [];
        layers.set(layer.name, items);
        items.push(...layer.items.map((item) => moved(item, x, y)));
      }
    }
    const { maxX, maxY } = boundingBox(outlines.flat());
    const name = outputWords(language).full.gathered(placed.length);
    return {
      name,
      size: '',
      outlines,
      drawing: {
        widthMm: maxX,
        heightMm: maxY,
        title: name,
        description: name,
        lang: language,
        scale: 1,
        frames: [],
        layers: [...layers].map(([layerName, items]) => ({ name: layerName, items })),
      },
    };
  };
  return { outlines, draw };
}
