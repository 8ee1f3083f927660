import type { Material, Piece, Sizing } from '../exchange/project.ts';
import { edgeAllowance } from '../pieces/cutShape.ts';
import { movedTo } from '../variants/index.ts';

export type SizedPiece =
  | { readonly ok: true; readonly piece: Piece }
  /** Nothing of it is left at the size the material is cut. */
  | { readonly ok: false };

const FULL: Sizing = { allowance: 'full', inSeamMm: 0, largerMm: 0, roughMm: 0 };

/** Pieces are immutable, so what was worked out for one holds as long as it lives. */
const known = new WeakMap<Piece, Map<string, SizedPiece>>();

/**
 * The piece as it is cut from a material: its outline becomes the cut line there, with as much allowance as the
 * material takes, larger or smaller, with what is trimmed off later. Grain, top, marks and fold edge stay its own.
 * The piece itself where the material cuts it as it is. It must be free of errors.
 */
export function pieceIn(piece: Piece, material: Pick<Material, 'sizing'> | undefined): SizedPiece {
  const sizing = material?.sizing ?? FULL;
  if (isAsDrawn(sizing)) return { ok: true, piece };
  const found = known.get(piece) ?? new Map<string, SizedPiece>();
  known.set(piece, found);
  const key = JSON.stringify([sizing.allowance, sizing.inSeamMm, sizing.largerMm, sizing.roughMm]);
  const sized = found.get(key) ?? sizedPiece(piece, sizing);
  found.set(key, sized);
  return sized;
}

/** Whether pieces are cut from the material by their own cut line. */
export function isAsDrawn({ allowance, largerMm, roughMm }: Sizing): boolean {
  return allowance === 'full' && largerMm === 0 && roughMm === 0;
}

/** Whether a material cuts allowance away that the piece does not tell of: it is then cut as drawn. */
export function allowanceUnknown(piece: Piece, material: Pick<Material, 'sizing'>): boolean {
  const wants = (material.sizing?.allowance ?? 'full') !== 'full';
  const none = piece.allowanceMm === 0 && (piece.edgeAllowances ?? []).every(({ mm }) => mm === 0);
  return wants && piece.line === 'cut' && none;
}

function sizedPiece(piece: Piece, sizing: Sizing): SizedPiece {
  const within = edgeAllowance(piece);
  const extra = sizing.largerMm + sizing.roughMm;
  const kept = (edge: number): number => {
    if (sizing.allowance === 'none') return 0;
    // No more than there is: an edge without allowance gets none in the seam either.
    return sizing.allowance === 'full' ? within(edge) : Math.min(sizing.inSeamMm, within(edge));
  };
  // A cut line holds its allowance already.
  const drawn = piece.line === 'cut' ? within : () => 0;
  try {
    const moved = movedTo(piece, (edge) => kept(edge) - drawn(edge) + extra);
    const { edgeAllowances: _edges, ...rest } = moved;
    return { ok: true, piece: { ...rest, line: 'cut', allowanceMm: 0 } };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { ok: false };
  }
}
