import type { Drawing } from '../plan/index.ts';
import type { Ring } from '../plan/intervals.ts';
import type { PrintTile } from './printTile.ts';

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

/** Closed lines filled with a picture that recurs, by the even-odd rule. Millimetres on the page, y down. */
export interface SheetPrint {
  readonly rings: readonly Ring[];
  readonly tile: PrintTile;
  /** From the tile's millimetres (x, y) to the page: (a·x + c·y + e, b·x + d·y + f). */
  readonly matrix: readonly [a: number, b: number, c: number, d: number, e: number, f: number];
}

/** One page of a file: what lies on it, and its entry in the list of contents. */
export interface Sheet {
  readonly drawing: Drawing;
  /** Painted over the page's own drawing, in order. */
  readonly prints?: readonly SheetPrint[];
  /** Painted over all that, in order. */
  readonly windows?: readonly SheetWindow[];
  /** Entry in the contents; a page without one belongs to the entry before it. */
  readonly bookmark?: string;
  /** More entries that lead to this page, after that one. */
  readonly alsoHere?: readonly string[];
}

/** What a file says of itself. */
export interface DocumentFacts {
  readonly title: string;
  readonly subject: string;
  /** BCP 47. */
  readonly lang: string;
}
