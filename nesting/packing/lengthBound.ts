import { boundingBox, signedArea } from '../geometry/rings.ts';
import { placeRing } from '../geometry/transforms.ts';
import { turnsFreely } from './turning.ts';
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
 *  - the area of all pieces, divided by the width; of several strips, also the area of those that may only go into
 *    some of them, divided by the width of these;
 *  - the longest piece, in its shortest admissible pose;
 *  - rectangles wider than half the strip in every pose: no two lie abreast, so their lengths add up. This is the
 *    simplest of the dual feasible functions (Fekete & Schepers 2001); others may lie beside them and don't count.
 *    On one strip only.
 *
 * The gap and blocked places are left out, which keeps the bound valid; fixed pieces end where they end. Problems on
 * sheets, and items that turn freely, have no bound but the area's.
 */
export function lengthBound(problem: Problem): LengthBound {
  const strips = problem.containers.filter((container) => container.kind === 'strip');
  const [first] = strips;
  if (!first) return { length: 0, from: 'area' };
  let longest = 0;
  let abreast = 0;
  const shares = problem.items.map((item) => {
    if (item.quantity === 0) return { ids: [], area: 0 };
    const open = strips.filter(({ id }) => item.containers?.includes(id) ?? true);
    const size = Math.abs(signedArea(item.outline));
    const share = { ids: open.map(({ id }) => id), area: item.quantity * size };
    if (turnsFreely(item)) return share;
    const boxes = item.poses.map(({ rotation, mirrored }) => extents(item.outline, rotation, mirrored));
    const shortest = Math.min(...boxes.map(([length]) => length));
    const narrowest = Math.min(...boxes.map(([, width]) => width));
    longest = Math.max(longest, shortest);
    const isRectangle = boxes.every(([l, w]) => l * w - size <= RECTANGLE_RELATIVE * l * w);
    if (!isRectangle || strips.length > 1) return share;
    // A hair over half counts as half: a width measured in inches and one halved in millimetres differ by rounding.
    if (narrowest > first.width * (0.5 + RECTANGLE_RELATIVE)) abreast += item.quantity * shortest;
    return share;
  });
  const sets = new Map(
    [strips.map(({ id }) => id), ...shares.map(({ ids }) => ids)].map((ids) => [ids.join(), ids]),
  );
  const byArea = Math.max(
    0,
    ...[...sets.values()]
      .filter((ids) => ids.length > 0)
      .map((ids) => {
        const within = shares.filter((share) => share.ids.every((id) => ids.includes(id)));
        const area = within.reduce((sum, share) => sum + share.area, 0);
        const width = strips.reduce((sum, strip) => sum + (ids.includes(strip.id) ? strip.width : 0), 0);
        return area / width;
      }),
  );
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
