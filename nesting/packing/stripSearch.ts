import { SEARCH_TOUCH_RELATIVE } from '../geometry/tolerances.ts';
import { type Arrangement, usedLength } from './arrangement.ts';
import { Compaction } from './compaction.ts';
import type { Model } from './model.ts';
import { NearMisses, swapTwo } from './nearMisses.ts';
import { OverlapState } from './overlapState.ts';
import type { Random } from './random.ts';
import { Relocation } from './relocation.ts';
import { Separation } from './separation.ts';

/** How the strip is shortened; all parts of its length. */
export const SHRINKING = {
  /** Largest and least cut of the exploration; it begins with the largest, or with `copies` over their number. */
  first: 0.03,
  copies: 2,
  least: 0.0005,
  /** A cut that takes out more than this part of a typical piece is spread over the whole length. */
  pieces: 0.5,
  /** Growth of the cut when it worked, and when it failed. */
  growth: 1.3,
  decline: 0.5,
  /** The same for the squeeze, and the cut at which it gives up. */
  squeezeFirst: 0.0005,
  squeezeLast: 0.00001,
  squeezeGrowth: 1.5,
  squeezeDecline: 0.6,
  squeezeRounds: 40,
  /** Part of the time after which every new best is squeezed at once. */
  exploring: 0.75,
  /** Part of the cuts that are made at a random line, not at the end. */
  splits: 0.5,
  /** Idle rounds after which a cut is left to compaction: so many, and so many for each copy. */
  rounds: 25,
  roundsPerCopy: 0.5,
  /** Without compaction, a failed cut is given back by these parts until it can be separated, in so many idle rounds. */
  returns: [0.3, 0.6, 0.85],
  returnRounds: 40,
  /** Near misses that are kept to start again from. */
  pool: 6,
  /** Failures in a row after which another line of descent is taken up. */
  patience: 6,
  /**
   * Part of the new lines that begin near the shortest layout, with at most so many pairs of large pieces swapped and the
   * strip let out by one of these parts, whichever suffices; and their first cut.
   */
  kicked: 0.8,
  kicks: 4,
  relief: [0.005, 0.01, 0.02, 0.04],
  kickedCut: 0.005,
  /** Part of the other new lines that begin with everything anywhere, not at the greedy layout. */
  scattered: 0.7,
} as const;

/** What drives and watches a strip search. */
export interface StripSearchOptions {
  readonly shouldStop: () => boolean;
  /** Part of the budget used, 0 to 1. */
  readonly progress: () => number;
  readonly onRound: () => void;
  /** Called with each shorter arrangement without overlap. */
  readonly onShorter: (arrangement: Arrangement) => void;
  /** An arrangement without overlap that another search has found, if there is a new one. */
  readonly take?: () => Arrangement | null;
}

/**
 * Shortens a strip: cut a little off, separate what then overlaps, record, cut again; all copies together are then moved
 * to where the strip is shortest (see `Compaction`). What a cut that was too bold leaves overlapping is let out by the
 * same means, which often ends shorter than before. When that gets stuck, the search goes on from a state that nearly
 * worked, with two large pieces swapped (exploration and compression of Gardeyn, Vanden Berghe & Wauters 2025, by turns
 * instead of once each). After many failures another line of descent is begun, since luck in its first steps decides
 * much: near the shortest layout after a few kicks (iterated local search; Lourenço, Martin & Stützle 2003), from a
 * scatter, or from the greedy layout. The last part of the time goes to the shortest of all.
 *
 * Where compaction is not possible, a squeeze by tiny cuts stands for it.
 */
export class StripSearch {
  readonly #model: Model;
  readonly #random: Random;
  readonly #options: StripSearchOptions;
  readonly #state: OverlapState;
  readonly #relocation: Relocation;
  readonly #separation: Separation;
  readonly #compaction: Compaction;
  readonly #best: Arrangement;
  #bestLength: number;
  #isSqueezed = false;
  #failedLength = 0;
  /** The shortest of all lines of descent; `best` is that of the current one. */
  readonly #shortest: Arrangement;
  #shortestLength: number;
  readonly #start: Arrangement;
  /** See `typicalSide`. */
  readonly #piece: number;
  readonly #misses = new NearMisses(SHRINKING.pool);

  /** `start` is free of overlap and complete. */
  constructor(model: Model, start: Arrangement, random: Random, options: StripSearchOptions) {
    this.#model = model;
    this.#random = random;
    this.#options = options;
    this.#best = start.clone();
    this.#bestLength = usedLength(model, start);
    this.#start = start.clone();
    this.#shortest = start.clone();
    this.#shortestLength = this.#bestLength;
    this.#piece = typicalSide(model);
    this.#state = new OverlapState(model, start.clone(), model.size * SEARCH_TOUCH_RELATIVE);
    this.#relocation = new Relocation(this.#state, random);
    this.#separation = new Separation(this.#state, this.#relocation, random);
    this.#compaction = new Compaction(this.#state);
  }

  run(): void {
    const { shouldStop, progress } = this.#options;
    const { first, least } = SHRINKING;
    const isLate = () => progress() > SHRINKING.exploring;
    if (isLate()) this.#squeeze();
    let cut: number = isLate() ? least : Math.min(first, SHRINKING.copies / this.#state.n);
    let failures = 0;
    this.#cutBest(cut);
    while (!shouldStop()) {
      if (this.#separateCut()) {
        this.#record();
        this.#compact();
        this.#misses.clear();
        failures = 0;
        cut = Math.min(first, cut * SHRINKING.growth);
        if (isLate()) this.#squeeze();
        this.#cutBest(cut);
        continue;
      }
      if (shouldStop()) break;
      this.#failedLength = this.#state.length;
      this.#misses.add(this.#state.arrangement, this.#separation.leastOverlap);
      cut = Math.max(least, cut * SHRINKING.decline);
      failures++;
      const isSaved = this.#giveBack();
      if (isSaved && isLate()) this.#squeeze();
      if (shouldStop()) break;
      if (isSaved || this.#adopt()) {
        failures = 0;
        this.#cutBest(cut);
        continue;
      }
      if (cut === least || isLate()) this.#squeeze();
      const isBehind = this.#bestLength > this.#shortestLength;
      if (isLate() ? isBehind : failures >= SHRINKING.patience) {
        failures = 0;
        cut = isLate() ? this.#return() : this.#beginLine();
        continue;
      }
      this.#tryNearMiss(cut);
    }
  }

  /** Goes on from the shortest layout of all; makes the first cut, and returns it. */
  #return(): number {
    this.#descendFrom(this.#shortest, true);
    this.#cutBest(SHRINKING.least);
    return SHRINKING.least;
  }

  /** Begins a new line of descent; makes its first cut, and returns it. */
  #beginLine(): number {
    const random = this.#random;
    if (random.unit() < SHRINKING.kicked) {
      if (!this.#kick()) this.#descendFrom(this.#shortest, true);
      this.#cutBest(SHRINKING.kickedCut);
      return SHRINKING.kickedCut;
    }
    this.#descendFrom(this.#start, false);
    this.#cutBest(SHRINKING.first);
    if (random.unit() < SHRINKING.scattered) this.#scatter();
    return SHRINKING.first;
  }

  /**
   * Lets the strip out around the failed state, by less than was cut; says whether something is gained. What overlaps there
   * is mostly far less than the cut: of 72 failures on five published strips compaction saved 33, trying longer strips 19.
   */
  #giveBack(): boolean {
    if (this.#compaction.isPossible) return this.#compact();
    const failed = this.#failedLength;
    let length = failed;
    for (const part of SHRINKING.returns) {
      const longer = failed + part * (this.#bestLength - failed);
      this.#scale(length, longer);
      length = longer;
      if (this.#separate(SHRINKING.returnRounds, 1)) return this.#record();
      if (this.#options.shouldStop()) break;
    }
    return false;
  }

  /** Moves all copies together to where the strip is shortest; says whether something is gained. */
  #compact(): boolean {
    const { isPossible } = this.#compaction;
    return isPossible && this.#compaction.run(this.#bestLength, this.#options.shouldStop) && this.#record();
  }

  /** Separates what overlaps after a cut: at length, unless compaction is there to finish what comes near. */
  #separateCut(): boolean {
    if (!this.#compaction.isPossible) return this.#separate();
    return this.#separate(Math.round(SHRINKING.rounds + SHRINKING.roundsPerCopy * this.#state.n), 1);
  }

  /** Scales all positions along the strip to another length. */
  #scale(from: number, length: number): void {
    const { arrangement, n } = this.#state;
    this.#state.length = length;
    for (let i = 0; i < n; i++) {
      arrangement.x[i] = (arrangement.x[i] as number) + ((length - from) * this.#middleOf(i)) / from;
      this.#relocation.clamp(i);
    }
  }

  /** Middle of a copy's bounding box along the strip. */
  #middleOf(i: number): number {
    const { arrangement, model } = this.#state;
    const box = model.poses.bodyBox;
    const p = 4 * (arrangement.pose[i] as number);
    return (arrangement.x[i] as number) + ((box[p] as number) + (box[p + 2] as number)) / 2;
  }

  /** Goes on from a failed state that came close, with two large pieces swapped. */
  #tryNearMiss(cut: number): void {
    const failed = this.#failedLength;
    this.#misses.restore(this.#state.arrangement, this.#random);
    swapTwo(this.#state, this.#random);
    this.#shorten(failed, this.#bestLength * (1 - cut));
  }

  /**
   * Begins a line of descent near the shortest layout: some large pieces are swapped, and the strip is let out until what
   * then overlaps can be separated. False if even the greatest relief was not enough.
   */
  #kick(): boolean {
    const random = this.#random;
    this.#misses.clear();
    this.#state.arrangement.copyFrom(this.#shortest);
    for (let k = random.below(SHRINKING.kicks); k >= 0; k--) swapTwo(this.#state, random);
    let length = this.#shortestLength;
    this.#bestLength = Number.POSITIVE_INFINITY;
    for (const relief of SHRINKING.relief) {
      const longer = this.#shortestLength * (1 + relief);
      this.#shorten(length, longer);
      length = longer;
      if (this.#separate(SHRINKING.squeezeRounds, 1)) return this.#record();
      if (this.#options.shouldStop()) break;
    }
    return false;
  }

  /** Puts everything anywhere: a start without a past. */
  #scatter(): void {
    for (let i = 0; i < this.#state.n; i++) {
      const rooms = this.#relocation.roomsOf(i);
      const lane = rooms.length > 1 ? this.#random.below(rooms.length) : 0;
      this.#relocation.scatter(i, rooms[lane] ?? 0);
    }
  }

  /** Makes an arrangement the best of a line of descent. */
  #descendFrom(arrangement: Arrangement, isSqueezed: boolean): void {
    this.#best.copyFrom(arrangement);
    this.#bestLength = usedLength(this.#model, arrangement);
    this.#isSqueezed = isSqueezed;
    this.#misses.clear();
  }

  /** Shortens the best by tiny cuts until none works any more; the next squeeze waits for another best. */
  #squeeze(): void {
    const { shouldStop } = this.#options;
    if (this.#isSqueezed) return;
    if (this.#compaction.isPossible) {
      this.#state.arrangement.copyFrom(this.#best);
      this.#compact();
      this.#isSqueezed = true;
      return;
    }
    let cut: number = SHRINKING.squeezeFirst;
    while (cut > SHRINKING.squeezeLast) {
      this.#cutBest(cut);
      // Where one piece is as long as the strip, nothing overlaps and yet nothing is gained.
      const works = this.#separate(SHRINKING.squeezeRounds, 1) && this.#record();
      if (shouldStop()) return;
      cut = works ? Math.min(SHRINKING.first, cut * SHRINKING.squeezeGrowth) : cut * SHRINKING.squeezeDecline;
    }
    this.#isSqueezed = true;
  }

  /** Begins a new try from the best, shortened. */
  #cutBest(cut: number): void {
    this.#state.arrangement.copyFrom(this.#best);
    this.#shorten(this.#bestLength, this.#bestLength * (1 - cut));
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
   * Makes room for less length, in one of three ways: everything beyond the end is pushed back in; a slice is taken
   * out at a random line; all positions are scaled. The last spreads a cut that is too large for one place.
   */
  #shorten(from: number, length: number): void {
    const slice = from - length;
    if (slice > SHRINKING.pieces * this.#piece) {
      this.#scale(from, length);
      return;
    }
    const { arrangement, n } = this.#state;
    const random = this.#random;
    this.#state.length = length;
    const line = random.unit() < SHRINKING.splits ? random.between(0, from) : from;
    for (let i = 0; i < n; i++) {
      if (this.#middleOf(i) > line) arrangement.x[i] = (arrangement.x[i] as number) - slice;
      this.#relocation.clamp(i);
    }
  }

  /** Goes on from another search's layout if that is clearly shorter. */
  #adopt(): boolean {
    const other = this.#options.take?.();
    if (!other || other.room.includes(-1)) return false;
    if (usedLength(this.#model, other) > this.#shortestLength * (1 - SHRINKING.least)) return false;
    this.#state.arrangement.copyFrom(other);
    this.#misses.clear();
    this.#record();
    return true;
  }

  /** Takes the state as the best if it is shorter; says whether. */
  #record(): boolean {
    const length = usedLength(this.#model, this.#state.arrangement);
    if (length >= this.#bestLength) return false;
    this.#bestLength = length;
    this.#isSqueezed = false;
    this.#best.copyFrom(this.#state.arrangement);
    if (length < this.#shortestLength) {
      this.#shortestLength = length;
      this.#shortest.copyFrom(this.#best);
      this.#options.onShorter(this.#best);
    }
    return true;
  }
}

/** Side of a square as large as the piece in which a random point of all pieces lies, on average. */
function typicalSide(model: Model): number {
  let squares = 0;
  for (const { item } of model.copies) squares += (model.itemArea[item] as number) ** 2;
  return Math.sqrt(squares / (model.totalArea || 1));
}
