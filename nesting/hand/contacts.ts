import { offsetRing } from '../geometry/offset.ts';
import type { Box, Ring } from '../geometry/points.ts';
import { boundingBox, cleanRing, counterClockwise, signedArea } from '../geometry/rings.ts';
import { placeRing } from '../geometry/transforms.ts';
import { type ForbiddenRegion, noFitPolygon } from '../nfp/noFit.ts';
import type { Item, Pose, Problem } from '../packing/types.ts';

/** An item in one pose, its reference point at the origin. */
export interface PosedItem {
  readonly key: string;
  readonly item: Item;
  readonly body: Ring;
  readonly box: Box;
  /** The body and the gap around it, counter-clockwise. */
  readonly spaced: Ring;
  readonly spacedBox: Box;
}

/**
 * The items of a problem in the poses they are met in, and the no-fit polygons of pairs of them: worked out when first
 * asked for, and kept for as long as the problem stays the same.
 */
export class Contacts {
  readonly problem: Problem;
  readonly #items: ReadonlyMap<string, Item>;
  readonly #posed = new Map<string, PosedItem>();
  readonly #regions = new Map<string, ForbiddenRegion>();

  constructor(problem: Problem) {
    this.problem = problem;
    this.#items = new Map(problem.items.map((item) => [item.id, item]));
  }

  /** @throws RangeError if the problem has no such item */
  posed(id: string, { rotation, mirrored }: Pose): PosedItem {
    const key = `${rotation} ${mirrored} ${id}`;
    const known = this.#posed.get(key);
    if (known) return known;
    const item = this.#items.get(id);
    if (!item) throw new RangeError(`the problem ${this.problem.name} has no item ${id}`);
    const body = placeRing(cleanRing(counterClockwise(item.outline)), rotation, mirrored);
    const spaced = this.problem.gap > 0 ? grown(body, this.problem.gap) : body;
    const posed = { key, item, body, box: boundingBox(body), spaced, spacedBox: boundingBox(spaced) };
    this.#posed.set(key, posed);
    return posed;
  }

  /** Positions at which `moving` comes nearer than the gap to `staying`, whose reference point is at the origin. */
  region(staying: PosedItem, moving: PosedItem): ForbiddenRegion {
    const key = `${staying.key}\n${moving.key}`;
    const known = this.#regions.get(key);
    if (known) return known;
    const region = noFitPolygon(staying.body, moving.spaced);
    this.#regions.set(key, region);
    return region;
  }
}

/** The outline grown by a distance, round at the corners; a cavity that closes is filled. */
function grown(ring: Ring, distance: number): Ring {
  return offsetRing(ring, distance, { join: 'round' }).reduce((a, b) =>
    signedArea(a) > signedArea(b) ? a : b,
  );
}
