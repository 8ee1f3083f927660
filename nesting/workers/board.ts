import type { Exchange, Layout, Placement, Problem } from '../packing/types.ts';
import { compareLayouts } from './compareLayouts.ts';

const HEADER_INTS = 4;
const LOCK = 0;
const VERSION = 1;
const AUTHOR = 2;
const COPY_DOUBLES = 6;
const NOT_PLACED = -1;

/** Memory for the board of a problem. */
export function newBoard({ items }: Problem): SharedArrayBuffer {
  const copies = items.reduce((sum, { quantity }) => sum + quantity, 0);
  return new SharedArrayBuffer(
    HEADER_INTS * Int32Array.BYTES_PER_ELEMENT + (1 + COPY_DOUBLES * copies) * Float64Array.BYTES_PER_ELEMENT,
  );
}

/**
 * One thread's access to the board that all threads of a solve see: the best layout any of them has found, in shared
 * memory.
 *
 *     header   [lock, version, author, unused]                           4 ints
 *     length   of the layout that is on the board                        1 double
 *     copies   [container containerCopy rotation mirrored x y]           6 doubles a copy, items in the problem's order
 *
 * A thread may be ended at any moment, even while it writes. So nobody waits for the lock: who finds it taken comes back
 * later, and a lock that is never given back costs the exchange, nothing else.
 */
export class Board implements Exchange {
  readonly #problem: Problem;
  readonly #author: number;
  readonly #header: Int32Array;
  readonly #values: Float64Array;
  /** Where each item's first copy stands in `#values`. */
  readonly #first = new Map<string, number>();
  readonly #containers: Map<string, number>;
  /** A layout that could not be put up when it came because the board was locked. */
  #pending: Layout | null = null;
  #seen = 0;

  /** `author` is the number of the thread, from 0. */
  constructor(problem: Problem, memory: SharedArrayBuffer, author: number) {
    this.#problem = problem;
    this.#author = author;
    this.#header = new Int32Array(memory, 0, HEADER_INTS);
    this.#values = new Float64Array(memory, HEADER_INTS * Int32Array.BYTES_PER_ELEMENT);
    let at = 1;
    for (const { id, quantity } of problem.items) {
      this.#first.set(id, at);
      at += COPY_DOUBLES * quantity;
    }
    this.#containers = new Map(problem.containers.map(({ id }, i) => [id, i]));
  }

  offer(layout: Layout): void {
    this.#pending = layout;
    this.#putUp();
  }

  take(): Layout | null {
    this.#putUp();
    if (Atomics.load(this.#header, VERSION) === this.#seen || !this.#lock()) return null;
    try {
      this.#seen = this.#header[VERSION] as number;
      return this.#header[AUTHOR] === this.#author ? null : this.#read();
    } finally {
      this.#unlock();
    }
  }

  #putUp(): void {
    const layout = this.#pending;
    if (!layout || !this.#lock()) return;
    this.#pending = null;
    try {
      const header = this.#header;
      const isFirst = header[VERSION] === 0;
      if (!isFirst && compareLayouts(this.#problem, layout, this.#read()) >= 0) return;
      this.#write(layout);
      header[AUTHOR] = this.#author;
      Atomics.add(header, VERSION, 1);
    } finally {
      this.#unlock();
    }
  }

  #write(layout: Layout): void {
    const values = this.#values;
    values[0] = layout.length;
    for (const { item, copy } of layout.unplaced) values[this.#placeOf(item, copy)] = NOT_PLACED;
    for (const { item, copy, container, containerCopy, rotation, mirrored, x, y } of layout.placements) {
      const at = this.#placeOf(item, copy);
      values[at] = this.#containers.get(container) ?? NOT_PLACED;
      values[at + 1] = containerCopy;
      values[at + 2] = rotation;
      values[at + 3] = mirrored ? 1 : 0;
      values[at + 4] = x;
      values[at + 5] = y;
    }
  }

  #read(): Layout {
    const values = this.#values;
    const placements: Placement[] = [];
    const unplaced: { item: string; copy: number }[] = [];
    for (const { id, quantity } of this.#problem.items)
      for (let copy = 0; copy < quantity; copy++) {
        const at = this.#placeOf(id, copy);
        const container = this.#problem.containers[values[at] as number];
        if (!container) {
          unplaced.push({ item: id, copy });
          continue;
        }
        placements.push({
          item: id,
          copy,
          container: container.id,
          containerCopy: values[at + 1] as number,
          rotation: values[at + 2] as number,
          mirrored: values[at + 3] === 1,
          x: values[at + 4] as number,
          y: values[at + 5] as number,
        });
      }
    return { placements, unplaced, length: values[0] as number };
  }

  #placeOf(item: string, copy: number): number {
    return (this.#first.get(item) ?? Number.NaN) + COPY_DOUBLES * copy;
  }

  #lock(): boolean {
    return Atomics.compareExchange(this.#header, LOCK, 0, 1) === 0;
  }

  #unlock(): void {
    Atomics.store(this.#header, LOCK, 0);
  }
}
