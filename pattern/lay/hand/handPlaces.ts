import { boundingBox } from '../../../nesting/geometry/rings.ts';
import { placeRing } from '../../../nesting/geometry/transforms.ts';
import { Contacts } from '../../../nesting/hand/contacts.ts';
import { type Caught, FreePlaces } from '../../../nesting/hand/freePlaces.ts';
import type { Item, Layout, Pose } from '../../../nesting/index.ts';
import type { CopyId, HandLay } from './handLay.ts';
import { asSeen, inRoom, othersIn, type PlaceOnCloth, type Room, roomAt, roomsFor } from './lanes.ts';

/** Lengths closer than this are the same, mm: the engine's own tolerance. */
const SAME_LENGTH_MM = 0.01;

/** Where one copy may be dragged to as it is turned now, over all lanes of its stretch, on the sheet it lies on. */
export class HandPlaces {
  readonly #hand: HandLay;
  readonly #id: CopyId;
  readonly #pose: Pose;
  readonly #sheet: number | undefined;
  readonly #item: Item;
  readonly #contacts: Contacts;
  readonly #known = new Map<string, FreePlaces>();

  /**
   * @param pose as one sees it
   * @throws RangeError if the lay has no such copy
   */
  constructor(hand: HandLay, id: CopyId, { rotation, mirrored, sheet }: Pose & Pick<PlaceOnCloth, 'sheet'>) {
    this.#hand = hand;
    this.#id = id;
    this.#pose = { rotation, mirrored };
    this.#sheet = sheet;
    this.#item = itemOf(hand, id);
    this.#contacts = new Contacts(this.#stretch.problem);
  }

  /** Where the copy comes to lie if it is wanted at (x, y): see `FreePlaces.place`. All as one sees it. */
  place(x: number, y: number, catchMm: number, reachMm: number): Caught {
    const room = this.#roomAt(x, y);
    if (!room) return { x, y, isFree: false };
    const wanted = this.#inRoom(room, x, y);
    const caught = this.#free(room).place(wanted.x, wanted.y, catchMm, reachMm);
    const { rotation, mirrored } = wanted;
    const packed = { item: this.#item.id, copy: this.#id.copy, rotation, mirrored, x: caught.x, y: caught.y };
    const seen = asSeen(
      this.#stretch,
      { ...packed, container: room.container.id, containerCopy: room.sheet },
      this.#layout.length,
    );
    return { x: seen.x, y: seen.y, isFree: caught.isFree };
  }

  /** What the copy would overlap at (x, y), and whether it would leave the cloth there or lie in a flaw. */
  inTheWay(x: number, y: number): { readonly offCloth: boolean; readonly copies: readonly CopyId[] } {
    const room = this.#roomAt(x, y);
    if (!room) return { offCloth: true, copies: [] };
    const wanted = this.#inRoom(room, x, y);
    const { container, others } = this.#free(room).inTheWay(wanted.x, wanted.y);
    const all = othersIn(this.#layout, room, this.#item.id, this.#id.copy);
    const copies = others.flatMap((index) => {
      const other = all[index];
      return other ? [{ stretch: this.#id.stretch, item: other.item, copy: other.copy }] : [];
    });
    return { offCloth: container, copies };
  }

  get #stretch() {
    return this.#hand.stretches[this.#id.stretch]!;
  }

  get #layout(): Layout {
    return this.#hand.layouts[this.#id.stretch]!;
  }

  #roomAt(x: number, y: number): Room | undefined {
    return roomAt(this.#stretch, this.#item, { ...this.#pose, x, y, sheet: this.#sheet });
  }

  #inRoom(room: Room, x: number, y: number): PlaceOnCloth {
    return inRoom(this.#stretch, this.#item, room, { ...this.#pose, x, y }, this.#layout.length);
  }

  #free(room: Room): FreePlaces {
    const { container, sheet } = room;
    const key = `${sheet} ${container.id}`;
    const known = this.#known.get(key);
    if (known) return known;
    const others = othersIn(this.#layout, room, this.#item.id, this.#id.copy);
    const free = new FreePlaces(this.#contacts, container, others, this.#item.id, this.#inRoom(room, 0, 0));
    this.#known.set(key, free);
    return free;
  }
}

/**
 * A free place for a parked copy; null if none is found. Of strips the one nearest to where they begin, of sheets one on
 * the first that has room.
 *
 * @param mayLengthen whether the lay may become longer by it; if not, the first place found is taken
 * @param onSheet the one of several sheets to look on; all of them unless given
 */
export function freePlaceFor(
  hand: HandLay,
  id: CopyId,
  mayLengthen: boolean,
  onSheet?: number,
): PlaceOnCloth | null {
  const stretch = hand.stretches[id.stretch]!;
  const layout = hand.layouts[id.stretch]!;
  const item = itemOf(hand, id);
  const contacts = new Contacts(stretch.problem);
  const most = boundingBox(item.outline);
  const beyond = layout.length + Math.hypot(most.maxX - most.minX, most.maxY - most.minY);
  let best: { readonly place: PlaceOnCloth; readonly at: number } | null = null;
  for (const room of roomsFor(stretch, item)) {
    if (onSheet !== undefined && room.sheet !== onSheet) continue;
    const isStrip = room.container.kind === 'strip';
    if (best && (!mayLengthen || !isStrip)) break;
    if (isStrip && !mayLengthen && layout.length === 0) continue;
    const container =
      room.container.kind === 'strip' && !mayLengthen
        ? { ...room.container, maxLength: layout.length }
        : room.container;
    const others = othersIn(layout, room, id.item, id.copy);
    for (const { rotation, mirrored } of item.poses) {
      const { minX, maxX } = boundingBox(placeRing(item.outline, rotation, mirrored));
      if (isStrip && !mayLengthen && maxX - minX > layout.length + SAME_LENGTH_MM) continue;
      const free = new FreePlaces(contacts, container, others, id.item, { rotation, mirrored });
      const to = isStrip ? (mayLengthen ? beyond : layout.length) : Number.POSITIVE_INFINITY;
      const [x, y] = free.first(to) ?? [];
      if (x === undefined || y === undefined || (best && best.at <= x + maxX)) continue;
      if (isStrip && !mayLengthen && x + maxX > layout.length + SAME_LENGTH_MM) continue;
      const packed = { item: id.item, copy: id.copy, rotation, mirrored, x, y };
      const onCloth = { ...packed, container: container.id, containerCopy: room.sheet };
      const seen = asSeen(stretch, onCloth, layout.length);
      best = { place: { ...seen, sheet: room.sheet }, at: x + maxX };
      if (!mayLengthen) break;
    }
  }
  return best?.place ?? null;
}

function itemOf(hand: HandLay, { stretch, item }: CopyId): Item {
  const found = hand.stretches[stretch]?.problem.items.find(({ id }) => id === item);
  if (!found) throw new RangeError(`the lay has no item ${item} in stretch ${stretch}`);
  return found;
}
