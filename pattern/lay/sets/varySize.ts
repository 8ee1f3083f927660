import type { Piece } from '../../exchange/project.ts';
import { resizeRectangle } from '../../measurements/resizeRectangle.ts';
import { reshaped } from '../../shapes/index.ts';

/** What may vary of a piece, with its size now: both sides of a rectangle, the measures of a piece by formula. */
export function variableSizes({ source }: Piece): { readonly side: string; readonly mm: number }[] {
  if (source?.kind === 'measured') {
    return [
      { side: 'along', mm: source.alongMm },
      { side: 'across', mm: source.acrossMm },
    ];
  }
  if (source?.kind !== 'shape') return [];
  return Object.entries(source.measures).map(([side, mm]) => ({ side, mm }));
}

/** The piece with another size; as it is where it has no such size, or could not be made in it. */
export function withSize(piece: Piece, side: string, mm: number): Piece {
  const { source } = piece;
  if (!variableSizes(piece).some((size) => size.side === side)) return piece;
  if (source?.kind === 'measured') {
    return side === 'along'
      ? resizeRectangle(piece, mm, source.acrossMm)
      : resizeRectangle(piece, source.alongMm, mm);
  }
  if (source?.kind !== 'shape') return piece;
  try {
    return reshaped(piece, { ...source.measures, [side]: mm });
  } catch (error) {
    if (error instanceof RangeError) return piece;
    throw error;
  }
}
