import type { Point } from '../../nesting/packing/types.ts';
import type { Box, ReadDrawing } from './drawing.ts';

/** A drawing with every length multiplied by a factor, the widths of lines too. Points of curves stay as they are. */
export function scaledDrawing(reading: ReadDrawing, factor: number): ReadDrawing {
  const point = ([x, y]: Point): Point => [x * factor, y * factor];
  const box = ({ minX, minY, maxX, maxY }: Box): Box => ({
    minX: minX * factor,
    minY: minY * factor,
    maxX: maxX * factor,
    maxY: maxY * factor,
  });
  const { page, scale, pages, points } = reading;
  return {
    ...reading,
    page: { widthMm: page.widthMm * factor, heightMm: page.heightMm * factor },
    scale: {
      ...scale,
      factor: scale.factor * factor,
      mmPerUnitX: scale.mmPerUnitX * factor,
      mmPerUnitY: scale.mmPerUnitY * factor,
      doubt: null,
      guesses: [],
    },
    outlines: reading.outlines.map((outline) => ({
      ...outline,
      ring: outline.ring.map(point),
      widthMm: outline.widthMm * factor,
      heightMm: outline.heightMm * factor,
      areaMm2: outline.areaMm2 * factor * factor,
      box: box(outline.box),
      strokeMm: outline.strokeMm * factor,
      outerWidthMm: outline.outerWidthMm * factor,
      outerHeightMm: outline.outerHeightMm * factor,
    })),
    openLines: reading.openLines.map((line) => ({
      ...line,
      points: line.points.map(point),
      lengthMm: line.lengthMm * factor,
      box: box(line.box),
      strokeMm: line.strokeMm * factor,
    })),
    texts: reading.texts.map((text) => ({
      ...text,
      at: point(text.at),
      sizeMm: text.sizeMm * factor,
      box: box(text.box),
    })),
    ...(points ? { points: points.map((each) => ({ ...each, at: point(each.at) })) } : {}),
    ...(pages
      ? {
          pages: pages.map((each) => ({
            ...each,
            widthMm: each.widthMm * factor,
            heightMm: each.heightMm * factor,
            at: point(each.at),
          })),
        }
      : {}),
  };
}
