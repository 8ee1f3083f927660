import { boundingBox } from '../../nesting/geometry/rings.ts';
import type { ClothLay, Roll } from '../exchange/project.ts';

/** Fold that the half pieces of a lay take, and what there is of it, in mm along the cloth. */
export interface FoldNeed {
  readonly pieceIds: readonly string[];
  readonly needsMm: number;
  readonly hasMm: number;
}

/**
 * Whether the half pieces alone need more fold than the roll has: they lie end to end along its one fold. Null where
 * they do not, or where nothing lies on a fold.
 */
export function foldShortage(lay: ClothLay, roll: Roll): FoldNeed | null {
  if (roll.availableMm === null) return null;
  const onFold = lay.segments.flatMap(({ placed }) => placed.filter(({ hand }) => hand === 'fold'));
  const needsMm = onFold.reduce((sum, { outline }) => {
    const { minX, maxX } = boundingBox(outline);
    return sum + maxX - minX;
  }, 0);
  if (onFold.length === 0 || needsMm <= roll.availableMm) return null;
  return { pieceIds: [...new Set(onFold.map(({ pieceId }) => pieceId))], needsMm, hasMm: roll.availableMm };
}
