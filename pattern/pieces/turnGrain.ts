import { normaliseDegrees } from '../../nesting/geometry/transforms.ts';
import type { Piece } from '../exchange/project.ts';

/** The piece with its grain line turned counter-clockwise by so many degrees. A line: kept in 0 … 180. */
export function turnGrain(piece: Piece, byDeg: number): Piece {
  return { ...piece, grainDeg: normaliseDegrees(piece.grainDeg + byDeg) % 180 };
}
