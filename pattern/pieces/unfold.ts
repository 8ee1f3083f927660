import { signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import { excursions, type FoldFrame, foldFrame, fromFold, toFold } from './foldFrame.ts';
import type { HalfShape, Shape } from './shape.ts';
import { FOLD_LINE_MM } from './tolerances.ts';

/**
 * The whole piece of which `half` is one half: united with its mirror image about the fold. Twice the area, exactly
 * symmetric about the fold, no vertex left on the seam where the outline crosses it straight.
 *
 * Every part of the outline that leaves the fold line and returns closes with its own mirror image to one ring: the
 * longest way round to the outline, one between two stretches of fold to a hole, with holes that touch the fold
 * likewise. So nothing is clipped or rounded.
 * Vertices within `onLineMm` of the fold line count as on it. Throws a RangeError if the fold has no length.
 */
export function unfold(half: HalfShape, onLineMm = FOLD_LINE_MM): Shape {
  const frame = foldFrame(...half.fold);
  if (!frame) throw new RangeError('unfold: the fold edge has no length');
  const rings = [half.outline, ...half.holes].flatMap((ring) => doubled(ring, frame, onLineMm));
  // Holes run clockwise, so that their area is negative; of the rest, there is one.
  const outline = rings.reduce((best, ring) => (signedArea(ring) > signedArea(best) ? ring : best));
  return { outline, holes: rings.filter((ring) => ring !== outline) };
}

function doubled(ring: Outline, frame: FoldFrame, onLineMm: number): Outline[] {
  const local = ring.map((p) => toFold(frame, p, onLineMm));
  const parts = excursions(local);
  const rings =
    parts.length === 0
      ? [local, local.map(([s, t]): Point => [s, -t]).reverse()]
      : parts.map((part) => closeWithMirrorImage(part));
  return rings.map((found) => found.map((p) => fromFold(frame, p)));
}

/** From one point on the line out and back to another, then the same way mirrored. */
function closeWithMirrorImage(part: readonly Point[]): Point[] {
  const inner = part.slice(1, -1);
  const first = part[0]!;
  const last = part.at(-1)!;
  const back = inner.map(([s, t]): Point => [s, -t]).reverse();
  const ring = [...inner, ...(crossesStraight(last, inner.at(-1)!) ? [] : [last]), ...back];
  return crossesStraight(first, inner[0]!) ? ring : [first, ...ring];
}

/** Whether the outline meets the fold at a right angle, so that it runs on straight on the other side. */
function crossesStraight(onFold: Point, neighbour: Point): boolean {
  return Math.abs(onFold[0] - neighbour[0]) <= 1e-9 * Math.max(1, Math.abs(neighbour[1]));
}
