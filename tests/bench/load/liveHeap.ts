import { existsSync, readFileSync } from 'node:fs';

/** What one thread held, bytes: a line of `collectInThreads.mjs`. Thread 0 is the one that answers. */
export interface Held {
  readonly round: number;
  readonly thread: number;
  /** Taken for its heap before garbage was collected. */
  readonly reserved: number;
  /** What is left after that, in the heap and beside it. */
  readonly heapUsed: number;
  readonly external: number;
}

/** A thread in the middle of a search hears of it at the end of its turn, which may be long in coming. */
const QUIET_MS = 10_000;
const PATIENCE_MS = 60_000;
const MB = 2 ** 20;

/** Makes a server that was started with `collectInThreads.mjs` collect its garbage, and reads what is left. */
export class LiveHeap {
  readonly #pid: number;
  readonly #file: string;
  #round = 0;

  constructor(pid: number, file: string) {
    this.#pid = pid;
    this.#file = file;
  }

  /** Resolves when no further thread has answered for a while. */
  async collect(): Promise<Held[]> {
    const round = ++this.#round;
    process.kill(this.#pid, 'SIGUSR2');
    const start = performance.now();
    let [held, since] = [this.#read(round), start];
    while (performance.now() - since < QUIET_MS && performance.now() - start < PATIENCE_MS) {
      await new Promise((resolve) => setTimeout(resolve, 500));
      const now = this.#read(round);
      if (now.length > held.length) since = performance.now();
      held = now;
    }
    return held;
  }

  #read(round: number): Held[] {
    if (!existsSync(this.#file)) return [];
    return readFileSync(this.#file, 'utf8')
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line) as Held)
      .filter((line) => line.round === round);
  }
}

/** What all of these threads hold together, MB. */
export function heldMb(threads: readonly Held[]): number {
  return threads.reduce((sum, { heapUsed, external }) => sum + heapUsed + external, 0) / MB;
}

/** What their heaps took from the machine before garbage was collected, MB. */
export function reservedMb(threads: readonly Held[]): number {
  return threads.reduce((sum, { reserved }) => sum + reserved, 0) / MB;
}

/** Growth of what is held, over the threads that were there both times, as a share; NaN where the one that answers was not. */
export function heldGrowth(early: readonly Held[], late: readonly Held[]): number {
  const common = (some: readonly Held[], others: readonly Held[]): Held[] =>
    some.filter(({ thread }) => others.some((other) => other.thread === thread));
  const [before, after] = [common(early, late), common(late, early)];
  if (!before.some(({ thread }) => thread === 0)) return Number.NaN;
  return (heldMb(after) - heldMb(before)) / heldMb(before);
}
