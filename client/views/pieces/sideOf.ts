import { boundingBox } from '../../../nesting/geometry/rings.ts';
import type { Point } from '../../../nesting/packing/types.ts';
import type { Piece } from '../../../pattern/exchange/project.ts';
import { t } from '../../strings/index.ts';

/** On which side of the piece an edge lies, for telling edges apart without seeing them. */
export function sideOf(piece: Pick<Piece, 'outline'>, edge: number): string {
  const from = piece.outline[edge];
  const to = piece.outline[(edge + 1) % piece.outline.length];
  if (!from || !to) return '';
  return sideOfPlace(piece, [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
}

/** On which side of the piece's middle a place lies. */
export function sideOfPlace({ outline }: Pick<Piece, 'outline'>, place: Point): string {
  const box = boundingBox(outline);
  const x = place[0] - (box.minX + box.maxX) / 2;
  const y = place[1] - (box.minY + box.maxY) / 2;
  const { left, right, above, below } = t.piece.sides;
  const width = Math.max(box.maxX - box.minX, 1e-6);
  const height = Math.max(box.maxY - box.minY, 1e-6);
  if (Math.abs(x) / width >= Math.abs(y) / height) return x < 0 ? left : right;
  return y < 0 ? below : above;
}
