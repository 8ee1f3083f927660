import type { Drawing } from '../plan/index.ts';

/** Part of a drawing seen through a rectangle of a page. Millimetres on the page, y down. */
export interface SheetWindow {
  readonly drawing: Drawing;
  /** Where the drawing's top left corner lies; it may be outside the page. */
  readonly x: number;
  readonly y: number;
  /** Nothing is painted outside it. */
  readonly clip: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  };
}

/** One page of a file: what lies on it, and its entry in the list of contents. */
export interface Sheet {
  readonly drawing: Drawing;
  /** Painted over the page's own drawing, in order. */
  readonly windows?: readonly SheetWindow[];
  /** Entry in the contents; a page without one belongs to the entry before it. */
  readonly bookmark?: string;
}

/** What a file says of itself. */
export interface DocumentFacts {
  readonly title: string;
  readonly subject: string;
  /** BCP 47. */
  readonly lang: string;
}
