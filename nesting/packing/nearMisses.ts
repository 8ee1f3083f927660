import type { Arrangement } from './arrangement.ts';
import type { OverlapState } from './overlapState.ts';
import type { Random } from './random.ts';

/** Part of the area that the copies count which are worth swapping. */
const LARGE_PART = 0.75;

/**
 * Failed separations that came close, to start again from: the best few, with two of their large pieces swapped
 * (the disruption of Gardeyn, Vanden Berghe & Wauters 2025).
 */
export class NearMisses {
  readonly #size: number;
  #list: { arrangement: Arrangement; overlap: number }[] = [];

  constructor(size: number) {
    this.#size = size;
  }

  clear(): void {
    this.#list = [];
  }

  /** Keeps a copy of the arrangement if it is among the best. */
  add(arrangement: Arrangement, overlap: number): void {
    const list = this.#list;
    if (list.length >= this.#size && overlap >= (list[list.length - 1]?.overlap ?? 0)) return;
    list.push({ arrangement: arrangement.clone(), overlap });
    list.sort((a, b) => a.overlap - b.overlap);
    if (list.length > this.#size) list.pop();
  }

  /** Brings back one of them, better ones more often. */
  restore(into: Arrangement, random: Random): void {
    const rank = Math.floor(random.unit() ** 2 * this.#list.length);
    const from = this.#list[rank];
    if (from) into.copyFrom(from.arrangement);
  }
}

/** Exchanges the places of two large copies of different items. */
export function swapTwo(state: OverlapState, random: Random): void {
  const large = largeCopies(state);
  if (large.length < 2) return;
  for (let tries = 0; tries < 20; tries++) {
    const i = large[random.below(large.length)] as number;
    const j = large[random.below(large.length)] as number;
    if (state.itemOf(i) === state.itemOf(j) || !mayTradeRooms(state, i, j)) continue;
    swap(state, i, j);
    return;
  }
}

/** Whether each of two copies may go where the other is. */
function mayTradeRooms(state: OverlapState, i: number, j: number): boolean {
  const { room } = state.arrangement;
  if (room[i] === room[j]) return true;
  const mayGo = (copy: number, to: number): boolean =>
    state.model.allowed[state.itemOf(copy)]?.[state.model.rooms[to]?.container ?? -1] === true;
  return mayGo(i, room[j] as number) && mayGo(j, room[i] as number);
}

/** The larger copies that together make up most of the area. */
function largeCopies({ model }: OverlapState): number[] {
  const area = (copy: number) => model.itemArea[model.copies[copy]?.item ?? 0] as number;
  const order = model.copies.map((_, i) => i).sort((i, j) => area(j) - area(i));
  let sum = 0;
  return order.filter((i) => {
    const isLarge = sum < LARGE_PART * model.totalArea;
    sum += area(i);
    return isLarge;
  });
}

/** Exchanges rooms and the middles of bounding boxes. */
function swap({ arrangement, model }: OverlapState, i: number, j: number): void {
  const { room, pose, x, y } = arrangement;
  const box = model.poses.bodyBox;
  const middle = (copy: number, axis: 0 | 1): number => {
    const p = 4 * (pose[copy] as number) + axis;
    const at = (axis === 0 ? x : y)[copy] as number;
    return at + ((box[p] as number) + (box[p + 2] as number)) / 2;
  };
  const dx = middle(j, 0) - middle(i, 0);
  const dy = middle(j, 1) - middle(i, 1);
  x[i] = (x[i] as number) + dx;
  y[i] = (y[i] as number) + dy;
  x[j] = (x[j] as number) - dx;
  y[j] = (y[j] as number) - dy;
  const swapRoom = room[i] as number;
  room[i] = room[j] as number;
  room[j] = swapRoom;
}
