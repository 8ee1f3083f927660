import { offsetRing } from '../geometry/offset.ts';
import type { Ring } from '../geometry/points.ts';
import { boundingBox, cleanRing, counterClockwise, signedArea } from '../geometry/rings.ts';
import { placeRing } from '../geometry/transforms.ts';
import type { Container, Item, Layout, Outline, Placement, Problem } from './types.ts';

/** A problem whose fixed copies have become blocked places, and the way back. */
export interface AroundFixed {
  readonly problem: Problem;
  /** The fixed copies reach so far along a strip, mm: no layout can be shorter. */
  readonly reach: number;
  /** A layout of `problem` as one of the original, fixed copies included. */
  readonly back: (layout: Layout) => Layout;
  /** A layout of the original, fixed copies left out, as one of `problem`. */
  readonly forth: (layout: Layout) => Layout;
}

/**
 * Takes the fixed copies out of a problem: each becomes a blocked place where it lies, grown by the gap, and the rest
 * of the copies are numbered anew. A sheet of which there are several, and on one of which something is fixed, is told
 * apart from its equals.
 *
 * @throws RangeError if a fixed copy is not one of the problem's
 */
export function aroundFixed(problem: Problem): AroundFixed {
  const fixed = problem.fixed ?? [];
  const places = splitContainers(problem.containers, fixed);
  const blockedIn = new Map<string, Outline[]>();
  const isFixed = new Map(problem.items.map((item) => [item.id, new Set<number>()]));
  let reach = 0;
  for (const placement of fixed) {
    const item = problem.items.find(({ id }) => id === placement.item);
    const copies = isFixed.get(placement.item);
    if (!item || !copies || !(placement.copy >= 0 && placement.copy < item.quantity))
      throw new RangeError(`${problem.name} has no copy ${placement.copy} of ${placement.item} to be fixed`);
    const place = places.find(
      ({ original, copy }) =>
        original === placement.container && (copy ?? placement.containerCopy) === placement.containerCopy,
    );
    if (!place) throw new RangeError(`${problem.name} has no container ${placement.container}`);
    copies.add(placement.copy);
    const outline = placedOutline(item, placement);
    if (place.container.kind === 'strip') reach = Math.max(reach, boundingBox(outline).maxX);
    const blocked = blockedIn.get(place.container.id) ?? [];
    blocked.push(problem.gap > 0 ? grown(outline, problem.gap) : outline);
    blockedIn.set(place.container.id, blocked);
  }
  const free = new Map(
    problem.items.map(({ id, quantity }) => [
      id,
      Array.from({ length: quantity }, (_, copy) => copy).filter((copy) => !isFixed.get(id)?.has(copy)),
    ]),
  );
  const inner: Problem = {
    name: problem.name,
    gap: problem.gap,
    ...(problem.bestSubset === undefined ? {} : { bestSubset: problem.bestSubset }),
    containers: places.map(({ container }) => withBlocked(container, blockedIn.get(container.id) ?? [])),
    items: problem.items.map((item) => ({
      ...item,
      quantity: free.get(item.id)?.length ?? 0,
      ...(item.containers && {
        containers: places.flatMap(({ original, container }) =>
          item.containers?.includes(original) ? [container.id] : [],
        ),
      }),
    })),
  };
  const copyOf = (item: string, copy: number): number => free.get(item)?.[copy] ?? copy;
  const back = ({ placements, unplaced, length }: Layout): Layout => ({
    placements: [
      ...fixed,
      ...placements.map((placement) => {
        const place = places.find(({ container }) => container.id === placement.container);
        return {
          ...placement,
          copy: copyOf(placement.item, placement.copy),
          container: place?.original ?? placement.container,
          containerCopy: place?.copy ?? placement.containerCopy + (place?.from ?? 0),
        };
      }),
    ],
    unplaced: unplaced.map(({ item, copy }) => ({ item, copy: copyOf(item, copy) })),
    length: Math.max(length, reach),
  });
  const numberOf = (item: string, copy: number): number => free.get(item)?.indexOf(copy) ?? -1;
  const forth = ({ placements, unplaced, length }: Layout): Layout => ({
    placements: placements.flatMap((placement) => {
      const copy = numberOf(placement.item, placement.copy);
      const place = places.find(
        ({ original, copy: only, from }) =>
          original === placement.container &&
          (only === undefined ? placement.containerCopy >= from : only === placement.containerCopy),
      );
      if (copy < 0 || !place) return [];
      const containerCopy = place.copy === undefined ? placement.containerCopy - place.from : 0;
      return [{ ...placement, copy, container: place.container.id, containerCopy }];
    }),
    unplaced: unplaced.flatMap(({ item, copy }) => {
      const number = numberOf(item, copy);
      return number < 0 ? [] : [{ item, copy: number }];
    }),
    length,
  });
  return { problem: inner, reach, back, forth };
}

/** A container of the problem without fixed copies, and which of the original's it is. */
interface Place {
  readonly container: Container;
  readonly original: string;
  /** The one copy of the original it stands for; all of them, from number `from` on, where this is missing. */
  readonly copy?: number;
  readonly from: number;
}

/** Sheets with something fixed on them become containers of their own, the others of their kind follow as one. */
function splitContainers(containers: readonly Container[], fixed: readonly Placement[]): Place[] {
  return containers.flatMap((container): Place[] => {
    const whole = { container, original: container.id, from: 0 };
    if (container.kind === 'strip' || container.quantity === 1) return [whole];
    const touched = fixed.filter((p) => p.container === container.id).map((p) => p.containerCopy);
    if (touched.length === 0) return [whole];
    // Up to the last one touched each sheet stands alone, so that the copies behind it keep their order.
    const alone = Math.min(container.quantity, Math.max(...touched) + 1);
    const singles = Array.from({ length: alone }, (_, copy): Place => {
      const id = `${container.id} ${copy}`;
      return { container: { ...container, id, quantity: 1 }, original: container.id, copy, from: copy };
    });
    const left = container.quantity - alone;
    const rest = { ...container, id: `${container.id} ${alone}`, quantity: left };
    return left > 0 ? [...singles, { container: rest, original: container.id, from: alone }] : singles;
  });
}

function withBlocked(container: Container, more: readonly Outline[]): Container {
  if (more.length === 0) return container;
  return { ...container, blocked: [...(container.blocked ?? []), ...more] };
}

function placedOutline(item: Item, { rotation, mirrored, x, y }: Placement): Ring {
  return placeRing(cleanRing(counterClockwise(item.outline)), rotation, mirrored, x, y);
}

/** The outline grown by a distance, round at the corners; a cavity that closes is filled. */
function grown(ring: Ring, distance: number): Ring {
  return offsetRing(ring, distance, { join: 'round' }).reduce((a, b) =>
    signedArea(a) > signedArea(b) ? a : b,
  );
}
