import type { Piece } from '../exchange/project.ts';

export interface RectangleMeasures {
  readonly name: string;
  readonly acrossMm: number;
  readonly alongMm: number;
  /** Half of the piece: its left side, along the grain, lies on the fold. */
  readonly onFold?: boolean;
  /** Unique in the project. */
  readonly id?: string;
}

/** A measured piece: upright rectangle with its lower left corner at the origin, its grain and its top upwards. */
export function pieceFromRectangle({ name, acrossMm, alongMm, onFold, id }: RectangleMeasures): Piece {
  if (!(acrossMm > 0) || !(alongMm > 0)) {
    throw new RangeError(
      `pieceFromRectangle: both sides must be greater than zero, not ${acrossMm} × ${alongMm}`,
    );
  }
  return {
    id: id ?? 'rectangle',
    name,
    outline: [
      [0, 0],
      [acrossMm, 0],
      [acrossMm, alongMm],
      [0, alongMm],
    ],
    holes: [],
    marks: [],
    grainDeg: 90,
    topDeg: 90,
    // Edge 3 runs from the upper left corner down to the origin.
    foldEdge: onFold ? 3 : null,
    line: 'cut',
    allowanceMm: 0,
    source: { kind: 'measured', alongMm, acrossMm },
    notes: '',
  };
}
