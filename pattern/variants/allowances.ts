import type { EdgeAllowance, Piece, VariantStep } from '../exchange/project.ts';
import { edgeAllowance, movedShape } from '../pieces/cutShape.ts';
import { carryAllowances, foldEdgeOf, notchesTo } from './carry.ts';

/**
 * The same piece drawn by its sew line: a cut line with a known allowance moves in by it, fold edges apart. A piece
 * that does not say how much allowance its cut line holds is taken to have none.
 *
 * @throws RangeError if nothing is left within the allowance
 */
export function toSewLine(piece: Piece): Piece {
  if (piece.line === 'sew') return piece;
  const within = edgeAllowance(piece);
  const moved = movedTo(piece, (edge) => -within(edge));
  return { ...moved, line: 'sew' };
}

/** The piece with its drawn line moved out edge by edge (in, where negative): marks, fold and edges go along. */
export function movedTo(piece: Piece, by: (edge: number) => number): Piece {
  const shape = movedShape(piece, by, piece.corners);
  const edgeAllowances = carryAllowances(piece, shape.outline, [(point) => point]);
  return {
    ...piece,
    outline: shape.outline,
    holes: shape.holes,
    marks: notchesTo(piece.marks, piece.outline, shape.outline),
    foldEdge: foldEdgeOf(shape.outline, shape.fold),
    ...(edgeAllowances ? { edgeAllowances } : {}),
  };
}

/** Another allowance outside the same sew line. `edges` are counted on the piece as given. */
export function withAllowance(piece: Piece, step: Extract<VariantStep, { kind: 'allowance' }>): Piece {
  const asked: Piece = { ...piece, edgeAllowances: step.edges };
  const sewn = toSewLine(piece);
  const edges: readonly EdgeAllowance[] =
    sewn === piece ? step.edges : (carryAllowances(asked, sewn.outline, [(point) => point]) ?? []);
  const { edgeAllowances: _old, ...rest } = sewn;
  return {
    ...rest,
    allowanceMm: step.mm,
    corners: step.corners,
    ...(edges.length > 0 ? { edgeAllowances: edges } : {}),
  };
}
