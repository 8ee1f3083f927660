import { combine } from '../../nesting/geometry/boolean.ts';
import { offsetRing } from '../../nesting/geometry/offset.ts';
import { counterClockwise, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline } from '../../nesting/packing/types.ts';
import { sideOf } from './containment.ts';

/** What is thinner than this between two lines is no cloth but rounding. */
const SLIVER_MM = 0.1;
const MITRE = 50;

/** Whether what a ring encloses opens onto the edge of another: cut out, it leaves no hole but another outline. */
export const opensOnto = (mouth: Outline, ring: Outline): boolean =>
  mouth.some((point) => sideOf(ring, point) !== 'inside');

/**
 * A ring without what the mouths enclose; where it falls apart, its largest part. Null where nothing is left. May throw
 * `GeometryError` on figures the clipper cannot do.
 */
export function cutOut(ring: Outline, mouths: readonly Outline[]): Outline | null {
  const left = combine('difference', [ring], mouths);
  // Edges that run along each other but for rounding leave slivers, which go when all lines are drawn in and out again.
  const drawnIn = left.flatMap(({ outer }) => moved(outer, -SLIVER_MM / 2));
  const widened = left
    .flatMap(({ holes }) => holes)
    .flatMap((hole) => moved(counterClockwise(hole), SLIVER_MM / 2));
  const sound = combine('difference', drawnIn, widened).flatMap(({ outer }) => moved(outer, SLIVER_MM / 2));
  return sound.reduce<Outline | null>(
    (most, outer) => (!most || signedArea(outer) > signedArea(most) ? outer : most),
    null,
  );
}

const moved = (ring: Outline, distance: number): Outline[] =>
  offsetRing(ring, distance, { join: 'miter', miterLimit: MITRE });
