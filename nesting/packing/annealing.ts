import { Arrangement } from './arrangement.ts';
import { GreedyPlacer } from './greedy.ts';
import type { Model } from './model.ts';
import { cost } from './objective.ts';
import type { Random } from './random.ts';

/** Named settings of the schedule; all costs are relative to the cost at the start. */
export const SCHEDULE = {
  /** A start temperature at which a layout 1 % worse is taken with probability 1/e. */
  start: 0.01,
  /** Factor a step. */
  cooling: 0.985,
  /** Below this, start again from the best with the temperature above. */
  floor: 0.0004,
} as const;

/** Copies by falling area; equal ones in their own order. */
export function largestFirst(model: Model): Int32Array {
  const area = (copy: number) => model.itemArea[model.copies[copy]?.item ?? 0] as number;
  return Int32Array.from(model.copies.map((_, i) => i).sort((i, j) => area(j) - area(i) || i - j));
}

/**
 * Simulated annealing (Kirkpatrick, Gelatt & Vecchi 1983) over the order in which copies are placed and over
 * the pose each is placed in; positions follow from bottom-left placement (as in Gomes & Oliveira 2002).
 */
export class Annealing {
  readonly #model: Model;
  readonly #random: Random;
  readonly #placer: GreedyPlacer;
  readonly #trial: Arrangement;
  #order: Int32Array;
  /** Pose of each copy, −1 for whichever comes out best. */
  #poses: Int32Array;
  #cost: number;
  #startCost: number;
  #temperature: number = SCHEDULE.start;
  #bestOrder: Int32Array;
  #bestPoses: Int32Array;
  /** The best arrangement so far, and what it costs. */
  readonly best: Arrangement;
  bestCost: number;

  /** Places everything once, largest first. */
  constructor(model: Model, random: Random, shouldStop: () => boolean) {
    this.#model = model;
    this.#random = random;
    this.#placer = new GreedyPlacer(model);
    this.#order = largestFirst(model);
    this.#poses = new Int32Array(model.copies.length).fill(-1);
    this.best = new Arrangement(model.copies.length);
    this.#trial = new Arrangement(model.copies.length);
    this.#placer.place(this.best, this.#order, undefined, shouldStop);
    this.bestCost = cost(model, this.best);
    this.#cost = this.bestCost;
    this.#startCost = this.bestCost || 1;
    this.#bestOrder = this.#order.slice();
    this.#bestPoses = this.#poses.slice();
  }

  /** One neighbour tried; true if it is the best so far. A stop in the middle changes nothing. */
  step(shouldStop: () => boolean): boolean {
    const order = this.#order.slice();
    const poses = this.#poses.slice();
    this.#change(order, poses);
    this.#placer.place(this.#trial, order, (copy) => poses[copy] as number, shouldStop);
    if (shouldStop()) return false;
    const found = cost(this.#model, this.#trial);
    const worse = (found - this.#cost) / this.#startCost;
    if (worse <= 0 || this.#random.unit() < Math.exp(-worse / this.#temperature)) {
      this.#order = order;
      this.#poses = poses;
      this.#cost = found;
    }
    const better = found < this.bestCost;
    if (better) {
      this.best.copyFrom(this.#trial);
      this.bestCost = found;
      this.#bestOrder = order.slice();
      this.#bestPoses = poses.slice();
    }
    this.#temperature *= SCHEDULE.cooling;
    if (this.#temperature < SCHEDULE.floor) {
      this.#temperature = SCHEDULE.start;
      this.#order = this.#bestOrder.slice();
      this.#poses = this.#bestPoses.slice();
      this.#cost = this.bestCost;
    }
    return better;
  }

  /** Moves one copy elsewhere in the order, swaps two, or asks for another pose. */
  #change(order: Int32Array, poses: Int32Array): void {
    const random = this.#random;
    const n = order.length;
    const kind = random.unit();
    const i = random.below(n);
    if (kind < 0.35) {
      const j = random.below(n);
      const swap = order[i] as number;
      order[i] = order[j] as number;
      order[j] = swap;
    } else if (kind < 0.7) {
      const j = random.below(n);
      const moved = order[i] as number;
      if (i < j) order.copyWithin(i, i + 1, j + 1);
      else order.copyWithin(j + 1, j, i);
      order[j] = moved;
    } else {
      const item = this.#model.copies[i]?.item ?? 0;
      const all = this.#model.itemPoses[item] as Int32Array;
      const k = random.below(all.length + 1);
      poses[i] = k === all.length ? -1 : (all[k] as number);
    }
  }
}
