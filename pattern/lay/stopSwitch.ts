import type { StopSignal } from '../../nesting/index.ts';

/** A stop signal of our own: stopped from here, or along with the signal it was made from. */
export class StopSwitch implements StopSignal {
  readonly #listeners = new Set<() => void>();
  readonly #above: StopSignal;
  readonly #follow = (): void => this.stop();
  #stopped = false;

  constructor(above: StopSignal) {
    this.#above = above;
    above.addEventListener('abort', this.#follow);
    if (above.aborted) this.stop();
  }

  get aborted(): boolean {
    return this.#stopped;
  }

  stop(): void {
    if (this.#stopped) return;
    this.#stopped = true;
    this.#above.removeEventListener('abort', this.#follow);
    for (const listener of [...this.#listeners]) listener();
  }

  /** Lets go of the signal above; to be called when the work is done. */
  release(): void {
    this.#above.removeEventListener('abort', this.#follow);
  }

  addEventListener(_type: 'abort', listener: () => void): void {
    this.#listeners.add(listener);
  }

  removeEventListener(_type: 'abort', listener: () => void): void {
    this.#listeners.delete(listener);
  }
}
