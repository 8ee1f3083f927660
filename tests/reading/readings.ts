import { expect } from 'vitest';
import type { DrawingOutline, ReadDrawing, SvgReading } from '../../pattern/reading/index.ts';
import { readSvg } from '../../pattern/reading/index.ts';

/** The drawing, or a failed test with the message of the refusal. */
export function drawn(reading: SvgReading): ReadDrawing {
  if (!reading.ok) throw new Error(`refused: ${reading.message}`);
  return reading;
}

/** A drawing of 200 × 100 mm, one unit a millimetre, with the given content. */
export const onPage = (content: string, head = ''): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="200mm" height="100mm" viewBox="0 0 200 100" ${head}>${content}</svg>`;

export const read = (content: string, head = ''): ReadDrawing =>
  drawn(readSvg(onPage(content, head), 'test.svg'));

export function outlineOf(drawing: ReadDrawing, id: string): DrawingOutline {
  const found = drawing.outlines.find((outline) => outline.id === id);
  if (!found)
    throw new Error(`no outline ${id} among ${drawing.outlines.map((outline) => outline.id).join(', ')}`);
  return found;
}

export function expectSize(
  outline: DrawingOutline | undefined,
  widthMm: number,
  heightMm: number,
  within = 0.05,
): void {
  expect(outline?.widthMm, `width of ${outline?.id}`).toBeGreaterThan(widthMm - within);
  expect(outline?.widthMm, `width of ${outline?.id}`).toBeLessThan(widthMm + within);
  expect(outline?.heightMm, `height of ${outline?.id}`).toBeGreaterThan(heightMm - within);
  expect(outline?.heightMm, `height of ${outline?.id}`).toBeLessThan(heightMm + within);
}

/** The one outline of a drawing that has no other. */
export function only(drawing: ReadDrawing): DrawingOutline {
  expect(drawing.outlines).toHaveLength(1);
  return drawing.outlines[0]!;
}

/** How many outlines have this size. */
export const countOfSize = (drawing: ReadDrawing, widthMm: number, heightMm: number, within = 0.1): number =>
  drawing.outlines.filter(
    (outline) =>
      Math.abs(outline.widthMm - widthMm) <= within && Math.abs(outline.heightMm - heightMm) <= within,
  ).length;

/** The message of a refusal: one sentence or two for a maker, not a stack. */
export function refusalOf(reading: SvgReading): string {
  if (reading.ok) throw new Error(`was read: ${reading.outlines.length} outlines`);
  expect(reading.message).toMatch(/^[A-Z][^\n]{10,250}\.$/);
  return reading.message;
}

export const codes = (drawing: ReadDrawing): string[] => drawing.warnings.map(({ code }) => code);

/** All warnings as one text. */
export const saidIn = (drawing: ReadDrawing): string => drawing.warnings.map(({ text }) => text).join(' ');
