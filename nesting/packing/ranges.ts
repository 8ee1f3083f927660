import { FIT_RELATIVE } from '../geometry/tolerances.ts';
import type { Model, Room } from './model.ts';
import type { Item } from './types.ts';

/** Where a pose's reference point may be in a room, as far as bounding boxes and its lattice tell; null if nowhere. */
export function positionRange(
  model: Model,
  room: number,
  item: number,
  pose: number,
): { minX: number; minY: number; maxX: number; maxY: number } | null {
  const range = boxRange(model, room, item, pose);
  const lattice = model.lattices[pose];
  if (!range || !lattice) return range;
  const { minX, minY, maxX, maxY } = range;
  return lattice.snap(minX, minY, minX, minY, maxX, maxY) ? range : null;
}

function boxRange(
  model: Model,
  room: number,
  item: number,
  pose: number,
): { minX: number; minY: number; maxX: number; maxY: number } | null {
  const box = model.poses.bodyBox;
  const left = box[4 * pose] as number;
  const low = box[4 * pose + 1] as number;
  const right = box[4 * pose + 2] as number;
  const high = box[4 * pose + 3] as number;
  const slack = model.size * FIT_RELATIVE;
  const container = model.problem.containers[(model.rooms[room] as Room).container];
  if (container?.kind === 'strip') {
    const onFold = (model.problem.items[item] as Item).onFold === true;
    const minY = -low;
    const maxY = onFold ? minY : container.width - high;
    const maxX = model.maxLength - right;
    if (high - low > container.width + slack || -left > maxX + slack) return null;
    return {
      minX: -left,
      minY,
      maxX: Math.max(maxX, -left),
      maxY: Math.max(maxY, minY),
    };
  }
  const table = model.roomTable(room, pose);
  const { tables } = model.pairs;
  const width = tables.box[6 * table + 2] as number;
  const height = tables.box[6 * table + 3] as number;
  if (!(width > 0 && height > 0)) return null;
  const minX = tables.box[6 * table] as number;
  const minY = tables.box[6 * table + 1] as number;
  return { minX, minY, maxX: minX + width, maxY: minY + height };
}

/** Where a pose may be, flat: minX minY maxX maxY a room and pose. Infinite maxX is cut by the strip's length. */
export class Ranges {
  readonly #model: Model;
  readonly #known: Float64Array;
  readonly #done: Uint8Array;

  constructor(model: Model) {
    this.#model = model;
    const count = model.rooms.length * model.poses.count;
    this.#known = new Float64Array(4 * count);
    this.#done = new Uint8Array(count);
  }

  /** Offset of the range in `values`, or −1 if the pose has no place in the room. */
  offset(room: number, item: number, pose: number): number {
    const slot = room * this.#model.poses.count + pose;
    if (this.#done[slot] === 0) {
      const range = positionRange(this.#model, room, item, pose);
      this.#done[slot] = range ? 1 : 2;
      if (range) this.#known.set([range.minX, range.minY, range.maxX, range.maxY], 4 * slot);
    }
    return this.#done[slot] === 1 ? 4 * slot : -1;
  }

  get values(): Float64Array {
    return this.#known;
  }
}
