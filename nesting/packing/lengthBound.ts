import { boundingBox, signedArea } from '../geometry/rings.ts';
import { placeRing } from '../geometry/transforms.ts';
import { chordBound } from './chordBound.ts';
import { turnsFreely } from './turning.ts';
import type { Outline, Problem } from './types.ts';

/** A bound from widths must exceed the others by this part. */
const CLEARLY = 1e-9;
/** A pose counts as too wide for a strip only when it is so by this part: more than the checker lets pass. */
const TOO_WIDE = 1e-5;

/** No strip layout of the problem can be shorter than this many millimetres; 0 where nothing is known. */
export interface LengthBound {
  readonly length: number;
  /** What the bound rests on: the area of all pieces, the longest one, or widths that can't lie abreast. */
  readonly from: 'area' | 'longest' | 'abreast';
}

/**
 * Lower bounds on the length of a strip layout that places everything:
 *
 *  - the area of all pieces, divided by the width; of several strips, also the area of those that may only go into
 *    some of them, divided by the width of these;
 *  - the longest piece, in its shortest admissible pose that is not too wide for the strip;
 *  - the widths of the pieces, line by line: what is wider than half the strip does not lie abreast of its like, and so on
 *    (`chordBound.ts`). On one strip only.
 *
 * The gap and blocked places are left out, which keeps the bound valid; fixed pieces end where they end. Problems on
 * sheets, and items that turn freely, have no bound but the area's.
 */
export function lengthBound(problem: Problem): LengthBound {
  let bound = known.get(problem);
  if (!bound) {
    bound = workedOut(problem);
    known.set(problem, bound);
  }
  return bound;
}

/** A search asks after each better layout. */
const known = new WeakMap<Problem, LengthBound>();

function workedOut(problem: Problem): LengthBound {
  const strips = problem.containers.filter((container) => container.kind === 'strip');
  const [first] = strips;
  if (!first) return { length: 0, from: 'area' };
  let longest = 0;
  const shares = problem.items.map((item) => {
    if (item.quantity === 0) return { ids: [], area: 0 };
    const open = strips.filter(({ id }) => item.containers?.includes(id) ?? true);
    const size = Math.abs(signedArea(item.outline));
    const share = { ids: open.map(({ id }) => id), area: item.quantity * size };
    if (turnsFreely(item)) return share;
    const widest = Math.max(...(open.length > 0 ? open : strips).map(({ width }) => width));
    const extents = item.poses.map(({ rotation, mirrored }) => extentOf(item.outline, rotation, mirrored));
    const narrow = extents.filter(({ width }) => width <= widest * (1 + TOO_WIDE));
    // What is too wide in every pose has no layout at all; that is told elsewhere.
    const lengths = (narrow.length > 0 ? narrow : extents).map(({ length }) => length);
    longest = Math.max(longest, Math.min(...lengths));
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
  const rigid = problem.items.filter((item) => !turnsFreely(item));
  const abreast = strips.length === 1 ? chordBound(rigid, first.width) : 0;
  // Widths are worked out with rounding, so the area has the say where both come to the same.
  const isAbreast = abreast > Math.max(byArea, longest) * (1 + CLEARLY);
  if (isAbreast) return { length: abreast, from: 'abreast' };
  return longest >= byArea ? { length: longest, from: 'longest' } : { length: byArea, from: 'area' };
}

function extentOf(outline: Outline, rotation: number, mirrored: boolean): { length: number; width: number } {
  const { minX, maxX, minY, maxY } = boundingBox(placeRing(outline, rotation, mirrored));
  return { length: maxX - minX, width: maxY - minY };
}
