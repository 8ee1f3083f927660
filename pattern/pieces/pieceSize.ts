import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import type { Piece } from '../exchange/project.ts';
import { cutShape } from './cutShape.ts';
import type { Shape } from './shape.ts';

export interface PieceSize {
  /** Box around the piece as drawn. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Box around it whose sides run along the grain and across it. */
  readonly alongMm: number;
  readonly acrossMm: number;
  /** Without holes. */
  readonly areaMm2: number;
}

/**
 * Size of the cut line, allowance included. A half piece is measured as it is drawn, as a half. The piece must be
 * free of errors, as for `cutShape`.
 */
export function pieceSize(piece: Piece): PieceSize {
  return shapeSize(cutShape(piece), piece.grainDeg);
}

/**
 * Size of a shape as it is drawn, and along and across a grain at `grainDeg` (0 = to the right); holes count as
 * nothing.
 */
export function shapeSize(shape: Shape, grainDeg: number): PieceSize {
  const drawn = boundingBox(shape.outline);
  // Turned so that the grain stands upright.
  const upright = boundingBox(placeRing(shape.outline, 90 - grainDeg));
  const holes = shape.holes.reduce((sum, hole) => sum + Math.abs(signedArea(hole)), 0);
  return {
    widthMm: drawn.maxX - drawn.minX,
    heightMm: drawn.maxY - drawn.minY,
    alongMm: upright.maxY - upright.minY,
    acrossMm: upright.maxX - upright.minX,
    areaMm2: Math.abs(signedArea(shape.outline)) - holes,
  };
}
