import { Arrangement } from './arrangement.ts';
import type { OverlapState } from './overlapState.ts';
import type { Random } from './random.ts';
import type { Relocation } from './relocation.ts';

/** Guided local search: how weights grow and when it gives up. */
export const SEPARATION = {
  /** Weights of pairs that overlap grow by a factor between these, by depth. */
  leastGrowth: 1.2,
  mostGrowth: 2,
  /** Weights of the others shrink by this, not below 1. */
  decay: 0.95,
  /** Rounds without progress until a strike, and strikes until it gives up. */
  rounds: 120,
  strikes: 3,
  /** Less overlap by this part counts as progress. */
  progress: 0.02,
} as const;

/** What a separation is told. */
export interface SeparationLimits {
  readonly shouldStop: () => boolean;
  readonly rounds?: number;
  readonly strikes?: number;
  /** Called once a round; for step counts. */
  readonly onRound?: () => void;
}

/**
 * Moves overlapping copies one by one until nothing overlaps: guided local search (Voudouris & Tsang 1999) on
 * the weighted depth of penetration (Egeblad, Nielsen & Odgaard 2007; Umetani et al. 2009; rounds and strikes as
 * in Gardeyn, Vanden Berghe & Wauters 2025).
 */
export class Separation {
  readonly #state: OverlapState;
  readonly #relocation: Relocation;
  readonly #random: Random;
  readonly #overlapping: number[] = [];
  /** The state with the least overlap of the last run. */
  readonly least: Arrangement;
  leastOverlap = Number.POSITIVE_INFINITY;

  constructor(state: OverlapState, relocation: Relocation, random: Random) {
    this.#state = state;
    this.#relocation = relocation;
    this.#random = random;
    this.least = new Arrangement(state.n);
  }

  /** True if the state ends up without overlap; else it is the least overlapping one found. */
  run(limits: SeparationLimits): boolean {
    const state = this.#state;
    const rounds = limits.rounds ?? SEPARATION.rounds;
    const strikes = limits.strikes ?? SEPARATION.strikes;
    state.resetWeights();
    state.refresh();
    let overlap = state.totalOverlap();
    this.#keep(overlap);
    for (let strike = 0; strike < strikes && overlap > 0; strike++) {
      const atStart = this.leastOverlap;
      let idle = 0;
      while (idle < rounds && overlap > 0) {
        if (limits.shouldStop()) return this.#finish(false);
        this.#round(limits.shouldStop);
        limits.onRound?.();
        overlap = state.totalOverlap();
        if (overlap < this.leastOverlap * (1 - SEPARATION.progress)) idle = 0;
        else idle++;
        if (overlap < this.leastOverlap) this.#keep(overlap);
        state.adjustWeights(SEPARATION.leastGrowth, SEPARATION.mostGrowth, SEPARATION.decay);
      }
      if (overlap === 0) break;
      // A strike that got somewhere doesn't count.
      if (this.leastOverlap < (1 - SEPARATION.progress) * atStart) strike = -1;
      state.arrangement.copyFrom(this.least);
      state.refresh();
      overlap = this.leastOverlap;
    }
    return this.#finish(overlap === 0);
  }

  #keep(overlap: number): void {
    this.least.copyFrom(this.#state.arrangement);
    this.leastOverlap = overlap;
  }

  #finish(separated: boolean): boolean {
    if (!separated) this.#state.arrangement.copyFrom(this.least);
    return separated;
  }

  /** Every copy that overlaps gets one move, in random order. */
  #round(shouldStop: () => boolean): void {
    const state = this.#state;
    const list = this.#overlapping;
    state.overlapping(list);
    this.#random.shuffle(list);
    for (const copy of list) {
      if (shouldStop()) return;
      this.#relocation.improve(copy);
    }
  }
}
