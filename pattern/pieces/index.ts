export { addAllowance } from './allowance.ts';
export { checkPiece, type Problem, type ProblemCode } from './checkPiece.ts';
export { cutShape, halfOf, wholeShape } from './cutShape.ts';
export { type MendedPiece, mendPiece } from './mendPiece.ts';
export { isOwnMirrorImage, mirror, mirrorTurns, type OwnMirrorImage } from './mirrorImage.ts';
export { type PieceSize, pieceSize, shapeSize } from './pieceSize.ts';
export type { CutShape, HalfShape, Shape } from './shape.ts';
export { turnGrain } from './turnGrain.ts';
export { unfold } from './unfold.ts';
