import type { Outline } from '../../nesting/packing/types.ts';
import type { Drawing } from '../plan/index.ts';
import type { Bounds } from '../plan/intervals.ts';

/** Something drawn in true size, with the outlines that say which sheets have a part of it. */
export interface FullDrawing {
  readonly name: string;
  readonly size: string;
  readonly drawing: Drawing;
  /** Cut lines on the drawing, y down, the drawing's corner at (0, 0). */
  readonly outlines: readonly Outline[];
}

/** Something that can be drawn once it is known how it is divided over sheets. */
export interface Drawable {
  readonly outlines: readonly Outline[];
  /** `rooms`: boxes on the drawing, one a sheet, within which words are best set. */
  draw(rooms: readonly Bounds[]): FullDrawing;
}
