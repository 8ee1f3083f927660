import { SEARCH_TOUCH_RELATIVE } from '../geometry/tolerances.ts';
import type { Arrangement } from './arrangement.ts';
import type { Model } from './model.ts';
import { NearMisses, swapTwo } from './nearMisses.ts';
import { cost } from './objective.ts';
import { OverlapState } from './overlapState.ts';
import type { Random } from './random.ts';
import { Relocation } from './relocation.ts';
import { Separation } from './separation.ts';

/** Near misses that are kept to start again from. */
const POOL = 6;

/** Failures after which a try starts from a random arrangement. */
const FAILURES_TO_RESTART = 8;

/**
 * Part of the tries with one room less that choose among all rooms, not among those in use; part of these that take the
 * largest; and how often a choice that is large enough is looked for.
 */
const CHOSEN_ANEW = 0.6;
const CHOSEN_LARGEST = 0.6;
const TRIES_TO_CHOOSE = 20;

/** What drives and watches a fit search. */
export interface FitSearchOptions {
  readonly shouldStop: () => boolean;
  readonly onRound: () => void;
  /** Nothing is left to improve. */
  readonly isIdeal: (arrangement: Arrangement) => boolean;
  /** Called with each better arrangement without overlap. */
  readonly onBetter: (arrangement: Arrangement) => void;
  /** An arrangement without overlap that another search has found, if there is a new one. */
  readonly take?: () => Arrangement | null;
}

/**
 * Fills rooms of fixed size: everything that has no place yet is thrown in, overlapping, and then separated. Once
 * all is placed, the emptiest room is closed and its pieces are thrown into the others, as long as that works.
 * A failed try still gives a layout: without the pieces that overlap most.
 */
export class FitSearch {
  readonly #model: Model;
  readonly #random: Random;
  readonly #options: FitSearchOptions;
  readonly #state: OverlapState;
  readonly #relocation: Relocation;
  readonly #separation: Separation;
  /** The best arrangement so far, its own or another search's. */
  readonly best: Arrangement;
  #bestCost: number;
  readonly #misses = new NearMisses(POOL);
  /** Copies for which no room has a place even when it is empty: nothing is to be hoped for them. */
  readonly #hopeless: readonly boolean[];

  /** `start` is free of overlap, perhaps not complete. */
  constructor(model: Model, start: Arrangement, random: Random, options: FitSearchOptions) {
    this.#model = model;
    this.#random = random;
    this.#options = options;
    this.best = start.clone();
    this.#bestCost = cost(model, start);
    this.#state = new OverlapState(model, start.clone(), model.size * SEARCH_TOUCH_RELATIVE);
    this.#state.length = model.maxLength;
    this.#relocation = new Relocation(this.#state, random);
    this.#separation = new Separation(this.#state, this.#relocation, random);
    this.#hopeless = Array.from(
      { length: this.#state.n },
      (_, i) => this.#relocation.roomsOf(i).length === 0,
    );
  }

  run(): void {
    while (!this.#options.shouldStop() && !this.#options.isIdeal(this.best)) {
      this.#learn();
      const open = this.#roomsToTry();
      if (!open) return;
      // A try is a step even if nothing overlaps and so no round is run: a count of steps must always end it.
      this.#options.onRound();
      this.#relocation.openRooms((room) => open[room] === true);
      this.#fill(open);
    }
  }

  /** Tries until the open rooms hold everything, or it gives up for now. */
  #fill(open: readonly boolean[]): void {
    const { shouldStop, onRound } = this.#options;
    const { arrangement } = this.#state;
    this.#misses.clear();
    arrangement.copyFrom(this.best);
    for (let failures = 0; failures < 2 * FAILURES_TO_RESTART && !shouldStop(); failures++) {
      this.#throwIn(open, failures === FAILURES_TO_RESTART);
      if (this.#separation.run({ shouldStop, onRound })) {
        this.#record(arrangement);
        return;
      }
      this.#misses.add(arrangement, this.#separation.leastOverlap);
      this.#recordPart();
      this.#misses.restore(arrangement, this.#random);
      swapTwo(this.#state, this.#random);
      for (let i = 0; i < this.#state.n; i++) this.#relocation.clamp(i);
    }
  }

  /**
   * Which rooms the next try may use: while pieces are missing, all; then one less than are in use. Either all of these
   * but one are kept, an emptier one more likely being closed, or rooms are chosen anew, larger ones more likely. Null if
   * so few could not hold the area.
   */
  #roomsToTry(): boolean[] | null {
    const model = this.#model;
    const { rooms } = model;
    if (this.best.room.some((room, i) => room < 0 && !this.#hopeless[i])) return rooms.map(() => true);
    const areas = new Float64Array(rooms.length);
    this.best.room.forEach((room, copy) => {
      if (room >= 0)
        areas[room] = (areas[room] as number) + (model.itemArea[this.#state.itemOf(copy)] as number);
    });
    const all = rooms.map((_, room) => room);
    const used = all.filter((room) => (areas[room] as number) > 0);
    const holds = (some: readonly number[]) =>
      some.reduce((sum, room) => sum + this.#capacity(room), 0) >= model.totalArea;
    const largest = [...all].sort((a, b) => this.#capacity(b) - this.#capacity(a));
    if (!holds(largest.slice(0, used.length - 1))) return null;
    const rank = (count: number) => Math.floor(this.#random.unit() ** 2 * count);
    const isAnew = used.length < rooms.length && this.#random.unit() < CHOSEN_ANEW;
    const ofLargest = largest.slice(0, used.length - 1);
    if (isAnew && this.#random.unit() < CHOSEN_LARGEST) return all.map((room) => ofLargest.includes(room));
    for (let tries = 0; tries < TRIES_TO_CHOOSE; tries++) {
      let open: number[];
      if (isAnew) {
        const left = [...largest];
        open = used.slice(1).flatMap(() => left.splice(rank(left.length), 1));
      } else {
        open = [...used].sort((a, b) => (areas[a] as number) - (areas[b] as number));
        open.splice(rank(open.length), 1);
      }
      if (holds(open)) return all.map((room) => open.includes(room));
    }
    return all.map((room) => ofLargest.includes(room));
  }

  #capacity(room: number): number {
    const { containerArea, rooms } = this.#model;
    return containerArea[rooms[room]?.container ?? 0] as number;
  }

  /** Gives every copy without an open room a random place in one; or all copies, for a fresh start. */
  #throwIn(open: readonly boolean[], all: boolean): void {
    const { arrangement, n } = this.#state;
    for (let i = 0; i < n; i++) {
      if (!all && open[arrangement.room[i] as number] === true) continue;
      const rooms = this.#relocation.roomsOf(i);
      const room = rooms[this.#random.below(rooms.length)];
      if (room === undefined || !this.#relocation.scatter(i, room)) arrangement.room[i] = -1;
    }
  }

  /** Goes on from another search's layout if that is better. */
  #learn(): void {
    const other = this.#options.take?.();
    if (!other) return;
    const found = cost(this.#model, other);
    if (found >= this.#bestCost) return;
    this.#bestCost = found;
    this.best.copyFrom(other);
  }

  #record(arrangement: Arrangement): void {
    const found = cost(this.#model, arrangement);
    if (found >= this.#bestCost) return;
    this.#bestCost = found;
    this.best.copyFrom(arrangement);
    this.#options.onBetter(this.best);
  }

  /** The failed state without the copies that overlap, those with the most overlap by area taken out first. */
  #recordPart(): void {
    const state = this.#state;
    const { n, depth, outside, arrangement } = state;
    const area = (copy: number) => this.#model.itemArea[state.itemOf(copy)] as number;
    state.refresh();
    const part = arrangement.clone();
    for (;;) {
      let worst = -1;
      let most = 0;
      for (let i = 0; i < n; i++) {
        if ((part.room[i] as number) < 0) continue;
        let sum = outside[i] as number;
        for (let j = 0; j < n; j++) if ((part.room[j] as number) >= 0) sum += depth[i * n + j] as number;
        const badness = sum / area(i);
        if (badness > most) {
          most = badness;
          worst = i;
        }
      }
      if (worst < 0) break;
      part.room[worst] = -1;
    }
    this.#record(part);
  }
}
