import type { Missing } from './says/index.ts';

/** What a cut list in words says: its entries, and what could not be read. */

/** Whether something stood in the list or was filled in by the rules below; screens show what was assumed. */
export type Said = 'said' | 'assumed';

/** One line of a cut list: so many equal rectangles. */
export interface CutEntry {
  readonly name: string;
  /** Side across the grain: the width, x of the piece. */
  readonly acrossMm: number;
  /** Side along the grain: the height or length, y of the piece, upright. */
  readonly alongMm: number;
  /** Copies in all; with `pair`, half of them mirrored. */
  readonly count: number;
  readonly pair: boolean;
  /** The rectangle is half of the piece: its upright side (along the grain) lies on a fold. */
  readonly onFold: boolean;
  readonly material?: string;
  /** What is cut of it from other materials besides: `1 canvas, 1 lining`. */
  readonly more?: readonly { readonly count: number; readonly material: string }[];
  /** `assumed`: no letter, word or column said which side is which, so the first number was taken as the width. */
  readonly grainSaid: Said;
  /** `assumed`: at least one side had no unit and was taken in the default unit. */
  readonly unitSaid: Said;
  /** `assumed`: no count was written (one copy was taken), or which number is the count was guessed. */
  readonly countSaid: Said;
}

export type ReadLine =
  | { readonly lineNumber: number; readonly text: string; readonly ok: true; readonly entry: CutEntry }
  | {
      readonly lineNumber: number;
      readonly text: string;
      readonly ok: false;
      /** What is missing or wrong, a sentence. */
      readonly missing: string;
    };

/** A line that describes the lines after it. */
export interface HeadingLine {
  readonly lineNumber: number;
  readonly text: string;
  /** `columns`: a table's head; `unit`: the unit or order of the sides; `material`: the material that follows. */
  readonly kind: 'columns' | 'unit' | 'material';
}

/** What was read of one line before the line's number is known. */
export type Reading =
  | { readonly ok: true; readonly entry: CutEntry }
  | { readonly ok: false; readonly missing: Missing };
