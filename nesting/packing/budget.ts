import type { SearchOptions } from './types.ts';

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

  /** Part of the budget used, 0 to 1; always 0 without a limit. */
  readonly progress = (): number => {
    const time = this.#usedTime();
    if (Number.isFinite(this.#maxSteps)) return Math.max(time, this.steps / this.#maxSteps);
    return Math.max(0, time);
  };

  /** Part of the time used; −1 if time is not limited. */
  #usedTime(): number {
    const { maxMs, clock } = this.#options;
    if (maxMs === undefined || clock === undefined) return -1;
    return maxMs <= 0 ? 1 : (clock() - this.#started) / maxMs;
  }
}
