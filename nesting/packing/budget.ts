import type { SearchOptions } from './types.ts';

/** Steps after which a search without limits of its own starts a new cycle of exploring and squeezing. */
const CYCLE_STEPS = 5000;

/** How much of a search's steps and time is used, and whether it should end. */
export class Budget {
  /** Steps done. */
  steps = 0;
  readonly #options: SearchOptions;
  readonly #maxSteps: number;
  readonly #started: number;

  constructor(options: SearchOptions, maxSteps: number) {
    this.#options = options;
    this.#maxSteps = maxSteps;
    this.#started = options.clock?.() ?? 0;
  }

  readonly step = (): void => {
    this.steps++;
  };

  readonly shouldStop = (): boolean =>
    this.steps >= this.#maxSteps || this.#usedTime() >= 1 || this.#options.shouldStop?.() === true;

  /** Part of the budget used, 0 to 1; without a limit, part of the current cycle. */
  readonly progress = (): number => {
    const time = this.#usedTime();
    if (Number.isFinite(this.#maxSteps)) return Math.max(time, this.steps / this.#maxSteps);
    if (time >= 0) return time;
    return (this.steps % CYCLE_STEPS) / CYCLE_STEPS;
  };

  /** Part of the time used; −1 if time is not limited. */
  #usedTime(): number {
    const { maxMs, clock } = this.#options;
    if (maxMs === undefined || clock === undefined) return -1;
    return maxMs <= 0 ? 1 : (clock() - this.#started) / maxMs;
  }
}
