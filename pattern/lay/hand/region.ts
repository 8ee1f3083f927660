import type { Box } from '../../../nesting/geometry/points.ts';
import { boundingBox } from '../../../nesting/geometry/rings.ts';
import { placeRing } from '../../../nesting/geometry/transforms.ts';
import { type CopyId, copiesOf, type HandLay, isSameCopy, segmentOf } from './handLay.ts';

/** Where a box's edge lies on a piece's edge, the piece is still in it, mm: as fine as anyone chalks. */
const ON_EDGE_MM = 0.05;

/**
 * Copies that lie wholly within a region of the cloth.
 * @param regionOf for a segment of the lay, the region in the segment's own axes, mm; null where nothing of it is meant
 */
export function copiesWithin(hand: HandLay, regionOf: (segment: number) => Box | null): readonly CopyId[] {
  return hand.stretches.flatMap(({ problem }, stretch) => {
    const outlines = new Map(problem.items.map(({ id, outline }) => [id, outline]));
    return copiesOf(hand, stretch).flatMap(({ id, placement }) => {
      const outline = outlines.get(id.item);
      const region = placement && regionOf(segmentOf(hand, id));
      if (!placement || !outline || !region) return [];
      const { rotation, mirrored, x, y } = placement;
      return isWithin(boundingBox(placeRing(outline, rotation, mirrored, x, y)), region) ? [id] : [];
    });
  });
}

function isWithin(box: Box, region: Box): boolean {
  return (
    box.minX >= region.minX - ON_EDGE_MM &&
    box.maxX <= region.maxX + ON_EDGE_MM &&
    box.minY >= region.minY - ON_EDGE_MM &&
    box.maxY <= region.maxY + ON_EDGE_MM
  );
}

/** Locks copies where they are, or lets them go again; others keep their lock. */
export function withLocks(hand: HandLay, ids: readonly CopyId[], isLocked: boolean): HandLay {
  const others = hand.locked.filter((lock) => !ids.some((id) => isSameCopy(id, lock)));
  return { ...hand, locked: isLocked ? [...others, ...ids] : others };
}
