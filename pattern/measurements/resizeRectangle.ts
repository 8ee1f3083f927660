import type { Piece } from '../exchange/project.ts';

/** A measured rectangle with other measurements; any other piece as it is. */
export function resizeRectangle(piece: Piece, alongMm: number, acrossMm: number): Piece {
  if (piece.source?.kind !== 'measured') return piece;
  if (piece.source.alongMm === alongMm && piece.source.acrossMm === acrossMm) return piece;
  return {
    ...piece,
    outline: [
      [0, 0],
      [acrossMm, 0],
      [acrossMm, alongMm],
      [0, alongMm],
    ],
    source: { kind: 'measured', alongMm, acrossMm },
  };
}
