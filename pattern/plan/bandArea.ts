import type { ShownUnits } from '../units/index.ts';
import type { BandRange } from './bands.ts';
import type { ClothFrame } from './clothFrame.ts';
import type { DrawingItem, DrawnPoint } from './drawing.ts';
import { RULER_MM } from './ruler.ts';
import { TAG_ROW_MM } from './tags.ts';
import type { Role } from './tokens.ts';

/** One row of cloth on the page: what is shown of it, and where. */

/** Rows and columns around the cloth, mm on paper. */
export const CHROME_MM = { caption: 6.4, names: 3.2, dimension: 5.2, sideWord: 3.4 } as const;

/** Lengths along the cloth closer than this are the same, mm. */
export const SAME_MM = 1e-6;

/** An arrow for the nap or the print: which way, in degrees on the cloth, and what it means. */
export interface ClothDirection {
  readonly degrees: number;
  readonly words: string;
}

export interface BandView {
  readonly frame: ClothFrame;
  readonly range: BandRange;
  readonly scale: number;
  readonly units: ShownUnits;
  readonly tagRows: number;
  readonly direction: ClothDirection | null;
}

/** Whether a row has words above it: the first has, and one that begins another way of spreading. */
function hasCaption({ frame, range, direction }: BandView): boolean {
  return (
    direction !== null ||
    range.fromMm <= frame.fromMm + SAME_MM ||
    frame.stretches.some((s) => s.fromMm > range.fromMm - SAME_MM && s.fromMm < range.toMm - SAME_MM)
  );
}

/** Whether the length that is cut ends in this row: only there is it written. */
function hasDimension({ frame, range }: BandView): boolean {
  return (
    frame.kind === 'roll' && frame.usedMm > range.fromMm + SAME_MM && frame.usedMm <= range.toMm + SAME_MM
  );
}

/** What a row needs beside its cloth. */
export function bandChrome(view: BandView) {
  const { tagRows } = view;
  return {
    caption: hasCaption(view),
    dimension: hasDimension(view),
    left: CHROME_MM.sideWord + RULER_MM.across,
    right: RULER_MM.across + CHROME_MM.sideWord,
    top: (hasCaption(view) ? CHROME_MM.caption : 1) + RULER_MM.along + tagRows * TAG_ROW_MM + CHROME_MM.names,
    bottom: CHROME_MM.names + RULER_MM.along + (hasDimension(view) ? CHROME_MM.dimension : 0),
  };
}

/** The cloth's place on the page. */
export interface Area {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly pageX: (along: number) => number;
  readonly pageY: (across: number) => number;
  readonly clampX: (along: number) => number;
}

/**
 * Where the cloth of a band is drawn, its upper left corner with all that stands around it at (x, y) on the page, mm.
 */
export function bandArea(view: BandView, x: number, y: number): Area {
  const { frame, range, scale } = view;
  const chrome = bandChrome(view);
  const left = x + chrome.left;
  const top = y + chrome.top;
  const right = left + (range.toMm - range.fromMm) / scale;
  const pageX = (along: number) => left + (along - range.fromMm) / scale;
  return {
    left,
    right,
    top,
    bottom: top + frame.depthMm / scale,
    pageX,
    pageY: (across) => top + (frame.depthMm - across) / scale,
    clampX: (along) => Math.min(right, Math.max(left, pageX(along))),
  };
}

/** A path of the drawing, open unless said otherwise. */
export const path = (role: Role, lines: readonly (readonly DrawnPoint[])[], closed = false): DrawingItem => ({
  kind: 'path',
  role,
  lines,
  closed,
});
