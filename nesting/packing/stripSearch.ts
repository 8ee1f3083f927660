import { type Arrangement, usedLength } from './arrangement.ts';
import type { Model } from './model.ts';
import { NearMisses, swapTwo } from './nearMisses.ts';
import { OverlapState } from './overlapState.ts';
import type { Random } from './random.ts';
import { Relocation } from './relocation.ts';
import { Separation } from './separation.ts';

/** How the strip is shortened; all parts of its length. */
export const SHRINKING = {
  /** First cut, and the least one of the exploration. */
  first: 0.03,
  /** But no cut takes out more than this part of a mean piece: with many copies, 3 % would be several of them. */
  pieces: 0.3,
  /** Growth of the cut when it worked. */
  growth: 1.2,
  least: 0.0005,
  /** Cuts of the squeeze at the end, from and to. */
  squeezeFirst: 0.0005,
  squeezeLast: 0.00001,
  /** Part of the time that goes into exploration. */
  exploring: 0.75,
  /** Part of the cuts that are made at a random line, not at the end. */
  splits: 0.5,
  /** Near misses that are kept to start again from. */
  pool: 6,
} as const;

/** What drives and watches a strip search. */
export interface StripSearchOptions {
  readonly shouldStop: () => boolean;
  /** Part of the budget used, 0 to 1. */
  readonly progress: () => number;
  readonly onRound: () => void;
  /** Called with each shorter arrangement without overlap. */
  readonly onShorter: (arrangement: Arrangement) => void;
  /** A complete arrangement without overlap that another search has found, if there is a new one. */
  readonly take?: () => Arrangement | null;
}

/**
 * Shortens a strip: cut a little off, separate what then overlaps, record, cut again. When that gets stuck, start
 * again from a state that nearly worked, with two large pieces swapped. In the last quarter of the time the best
 * layout is squeezed in tiny cuts (Gardeyn, Vanden Berghe & Wauters 2025: exploration and compression).
 */
export class StripSearch {
  readonly #model: Model;
  readonly #random: Random;
  readonly #options: StripSearchOptions;
  readonly #state: OverlapState;
  readonly #relocation: Relocation;
  readonly #separation: Separation;
  readonly #best: Arrangement;
  #bestLength: number;
  readonly #misses = new NearMisses(SHRINKING.pool);

  /** `start` is free of overlap and complete. */
  constructor(model: Model, start: Arrangement, random: Random, options: StripSearchOptions) {
    this.#model = model;
    this.#random = random;
    this.#options = options;
    this.#best = start.clone();
    this.#bestLength = usedLength(model, start);
    this.#state = new OverlapState(model, start.clone(), model.size * 1e-9);
    this.#relocation = new Relocation(this.#state, random);
    this.#separation = new Separation(this.#state, this.#relocation, random);
  }

  run(): void {
    while (!this.#options.shouldStop()) {
      this.#explore();
      this.#squeeze();
    }
  }

  #explore(): void {
    const { shouldStop, progress } = this.#options;
    const piece = Math.sqrt(this.#model.totalArea / this.#state.n);
    const first = Math.min(SHRINKING.first, (SHRINKING.pieces * piece) / this.#bestLength);
    const least = Math.min(SHRINKING.least, first / 4);
    let cut = first;
    this.#shorten(this.#bestLength, this.#bestLength * (1 - cut));
    while (!shouldStop() && progress() < SHRINKING.exploring) {
      if (this.#separate()) {
        this.#record();
        this.#misses.clear();
        cut = Math.min(first, cut * SHRINKING.growth);
        this.#shorten(this.#bestLength, this.#bestLength * (1 - cut));
        continue;
      }
      cut = Math.max(least, cut * 0.5);
      if (this.#adopt()) {
        this.#shorten(this.#bestLength, this.#bestLength * (1 - cut));
        continue;
      }
      const failed = this.#state.length;
      this.#misses.add(this.#state.arrangement, this.#separation.leastOverlap);
      this.#misses.restore(this.#state.arrangement, this.#random);
      swapTwo(this.#state, this.#random);
      this.#shorten(failed, this.#bestLength * (1 - cut));
    }
  }

  /** Tiny cuts from the best; every failure makes the next cut smaller. */
  #squeeze(): void {
    const { shouldStop, progress } = this.#options;
    const from = Math.min(progress(), 0.999);
    // Progress that falls back starts a new cycle of a search without limits.
    while (!shouldStop() && progress() >= from) {
      const part = Math.min(1, (progress() - from) / (1 - from));
      const cut = SHRINKING.squeezeFirst * (SHRINKING.squeezeLast / SHRINKING.squeezeFirst) ** part;
      this.#adopt();
      this.#state.arrangement.copyFrom(this.#best);
      this.#shorten(this.#bestLength, this.#bestLength * (1 - cut));
      if (this.#separate(40, 1)) this.#record();
    }
  }

  #separate(rounds?: number, strikes?: number): boolean {
    // An attempt is a step even if nothing overlaps and so no round is run: a count of steps must always end it.
    this.#options.onRound();
    return this.#separation.run({
      shouldStop: this.#options.shouldStop,
      onRound: this.#options.onRound,
      ...(rounds !== undefined && { rounds }),
      ...(strikes !== undefined && { strikes }),
    });
  }

  /**
   * Takes a slice out of the strip: whatever lies to the right of a random line moves left by the slice's width. The
   * overlap so made is spread over the width, wherever the line is, instead of piling up at the end.
   */
  #shorten(from: number, length: number): void {
    const { arrangement, model, n } = this.#state;
    const random = this.#random;
    this.#state.length = length;
    const box = model.poses.bodyBox;
    const line = random.unit() < SHRINKING.splits ? random.between(0, from) : from;
    for (let i = 0; i < n; i++) {
      const p = 4 * (arrangement.pose[i] as number);
      const x = arrangement.x[i] as number;
      if (x + ((box[p] as number) + (box[p + 2] as number)) / 2 > line)
        arrangement.x[i] = x - (from - length);
      this.#relocation.clamp(i);
    }
  }

  /** Goes on from another search's layout if that is clearly shorter. */
  #adopt(): boolean {
    const other = this.#options.take?.();
    if (!other || usedLength(this.#model, other) > this.#bestLength * (1 - SHRINKING.least)) return false;
    this.#state.arrangement.copyFrom(other);
    this.#misses.clear();
    this.#record();
    return true;
  }

  #record(): void {
    const length = usedLength(this.#model, this.#state.arrangement);
    if (length >= this.#bestLength) return;
    this.#bestLength = length;
    this.#best.copyFrom(this.#state.arrangement);
    this.#options.onShorter(this.#best);
  }
}
