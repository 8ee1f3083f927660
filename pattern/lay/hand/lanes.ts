import { angleBetween, onLane, onStretch, type Stretch, snapDegrees } from '../../../nesting/cloth/index.ts';
import { boundingBox } from '../../../nesting/geometry/rings.ts';
import { placeRing } from '../../../nesting/geometry/transforms.ts';
import type { Container, Item, Layout, Placement, Pose } from '../../../nesting/index.ts';

/**
 * Between two ways to say where a copy lies: as one sees it, in the axes of its stretch, and as it is packed, on a lane
 * that may be seen from its own fold, or on one of several sheets.
 */

/** Where a copy lies as one sees it, and on which of several sheets alike, from 0. */
export type PlaceOnCloth = Pick<Placement, 'x' | 'y' | 'rotation' | 'mirrored'> & {
  readonly sheet?: number | undefined;
};

/** A part of a stretch that copies are packed on by themselves: a lane, or one of several sheets. */
export interface Room {
  readonly container: Container;
  readonly sheet: number;
}

/** A packed copy as one sees it. `lengthMm` is that of the stretch. */
export function asSeen({ lanes }: Stretch, placement: Placement, lengthMm: number): Placement {
  const lane = lanes.find(({ id }) => id === placement.container);
  return { ...placement, ...onStretch(lane, placement, lengthMm) };
}

/**
 * A place as one sees it, in the axes of the room. A half piece that is carried from one fold to the other is turned over
 * with it, so that its fold edge lies on the fold there too.
 */
export function inRoom(
  { lanes }: Stretch,
  item: Item,
  { container }: Room,
  place: PlaceOnCloth,
  lengthMm: number,
): PlaceOnCloth {
  const lane = lanes.find(({ id }) => id === container.id);
  const there = onLane(lane, place, lengthMm);
  if (!item.onFold || isPoseOf(item, there)) return there;
  const over = { rotation: snapDegrees(180 - there.rotation), mirrored: !there.mirrored };
  if (!isPoseOf(item, over)) return there;
  const { minX, maxX } = boundingBox(placeRing(item.outline, there.rotation, there.mirrored));
  const turned = boundingBox(placeRing(item.outline, over.rotation, over.mirrored));
  return { ...over, x: there.x + (minX + maxX - turned.minX - turned.maxX) / 2, y: 0 - turned.minY };
}

/** Rotations closer than this are the same, degrees. */
const SAME_ROTATION_DEG = 1e-6;

function isPoseOf({ poses }: Item, { rotation, mirrored }: Pose): boolean {
  return poses.some(
    (pose) => pose.mirrored === mirrored && angleBetween(pose.rotation, rotation) <= SAME_ROTATION_DEG,
  );
}

/** The rooms that copies of an item may lie in: all lanes wide enough for it, or all sheets. */
export function roomsFor({ problem }: Stretch, item: Item): Room[] {
  return problem.containers
    .filter(({ id }) => item.containers === undefined || item.containers.includes(id))
    .flatMap((container) =>
      Array.from({ length: container.kind === 'sheet' ? container.quantity : 1 }, (_, sheet) => ({
        container,
        sheet,
      })),
    );
}

/** The room a place belongs to: the sheet it names, or the lane it reaches over the edges of the least. */
export function roomAt(stretch: Stretch, item: Item, place: PlaceOnCloth): Room | undefined {
  const rooms = roomsFor(stretch, item);
  if (rooms.length <= 1 || rooms[0]?.container.kind === 'sheet') {
    return rooms.find(({ sheet }) => sheet === (place.sheet ?? 0)) ?? rooms[0];
  }
  const { minY, maxY } = boundingBox(
    placeRing(item.outline, place.rotation, place.mirrored, place.x, place.y),
  );
  const over = ({ container }: Room): number => {
    const lane = stretch.lanes.find(({ id }) => id === container.id);
    return lane ? Math.max(0, lane.from - minY) + Math.max(0, maxY - lane.to) : Number.POSITIVE_INFINITY;
  };
  return rooms.reduce((best, room) => (over(room) < over(best) ? room : best));
}

/** A copy of an item packed where it is to be seen; null if it has no room at all. */
export function packedAt(
  stretch: Stretch,
  item: Item,
  copy: number,
  place: PlaceOnCloth,
  lengthMm: number,
): Placement | null {
  const room = roomAt(stretch, item, place);
  if (!room) return null;
  const { rotation, mirrored, x, y } = inRoom(stretch, item, room, place, lengthMm);
  return {
    item: item.id,
    copy,
    container: room.container.id,
    containerCopy: room.sheet,
    rotation,
    mirrored,
    x,
    y,
  };
}

/** What else lies in a room, as packed. */
export function othersIn(
  layout: Layout,
  { container, sheet }: Room,
  item: string,
  copy: number,
): Placement[] {
  return layout.placements.filter(
    (other) =>
      other.container === container.id &&
      other.containerCopy === sheet &&
      (other.item !== item || other.copy !== copy),
  );
}
