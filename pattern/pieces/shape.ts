import type { Outline, Point } from '../../nesting/packing/types.ts';

/** The cut line of a piece: what is laid, traced and cut. Millimetres, y up. */
export interface Shape {
  /** Counter-clockwise. */
  readonly outline: Outline;
  /** Clockwise. */
  readonly holes: readonly Outline[];
}

/** A half that is laid with one straight edge on a fold; `fold` runs along the outline's own direction. */
export interface HalfShape extends Shape {
  readonly fold: readonly [Point, Point];
}

/** Either: `fold` is null for a whole piece. */
export interface CutShape extends Shape {
  readonly fold: readonly [Point, Point] | null;
}
