import { boundingBox, signedArea } from '../geometry/rings.ts';
import { placeRing } from '../geometry/transforms.ts';
import type { Outline, Problem } from './types.ts';

/** A rectangle's area may miss its box's by this part and it still counts as one: rounding of read coordinates. */
const RECTANGLE_RELATIVE = 1e-9;

/** No strip layout of the problem can be shorter than this many millimetres; 0 where nothing is known. */
export interface LengthBound {
  readonly length: number;
  /** What the bound rests on: the area of all pieces, the longest one, or rectangles that can't lie abreast. */
  readonly from: 'area' | 'longest' | 'abreast';
}

/**
 * Lower bounds on the length of a strip layout that places everything:
 *
 *  - the area of all pieces, divided by the width;
 *  - the longest piece, in its shortest admissible pose;
 *  - rectangles wider than half the strip in every pose: no two lie abreast, so their lengths add up. This is the
 *    simplest of the dual feasible functions (Fekete & Schepers 2001); others may lie beside them and don't count.
 *
 * The gap is left out, which keeps the bound valid. Problems on sheets, and items that turn freely, have no bound
 * but the area's.
 */
export function lengthBound(problem: Problem): LengthBound {
  const [strip] = problem.containers;
  if (strip?.kind !== 'strip') return { length: 0, from: 'area' };
  let area = 0;
  let longest = 0;
  let abreast = 0;
  for (const item of problem.items) {
    if (item.quantity === 0) continue;
    const size = Math.abs(signedArea(item.outline));
    area += item.quantity * size;
    if (item.anyAngle) continue;
    const boxes = item.poses.map(({ rotation, mirrored }) => extents(item.outline, rotation, mirrored));
    const shortest = Math.min(...boxes.map(([length]) => length));
    const narrowest = Math.min(...boxes.map(([, width]) => width));
    longest = Math.max(longest, shortest);
    const isRectangle = boxes.every(([l, w]) => l * w - size <= RECTANGLE_RELATIVE * l * w);
    if (!isRectangle) continue;
    // A hair over half counts as half: a width measured in inches and one halved in millimetres differ by rounding.
    const share = narrowest > strip.width * (0.5 + RECTANGLE_RELATIVE) ? 1 : 0;
    abreast += share * item.quantity * shortest;
  }
  const byArea = area / strip.width;
  const length = Math.max(byArea, longest, abreast);
  return {
    length,
    from: length === abreast && abreast > 0 ? 'abreast' : length === longest ? 'longest' : 'area',
  };
}

function extents(
  outline: Outline,
  rotation: number,
  mirrored: boolean,
): readonly [length: number, width: number] {
  const { minX, minY, maxX, maxY } = boundingBox(placeRing(outline, rotation, mirrored));
  return [maxX - minX, maxY - minY];
}
