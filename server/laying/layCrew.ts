import type { Solve } from '../../nesting/index.ts';
import { threadEntry } from '../../nesting/workers/newThread.ts';
import type { LayProgress } from '../../pattern/lay/runLay.ts';
import type { RunLay } from '../lays.ts';
import { Crew } from '../threads/crew.ts';
import type { LaySaid, LayTold } from './messages.ts';

export interface LayCrewParts {
  /** Searches of all lays, which share it. */
  readonly solve: Solve;
  /** Lays at the same time. */
  readonly threads: number;
  readonly memoryMb: number;
  readonly niceness: number;
  /** What the threads run; tests hand in their own. */
  readonly entry?: URL;
}

/** `Lays` ends a lay before that; a thread that then does not end by itself is ended here, ms. */
const LONGEST_MS = 35 * 60_000;

/** Lays in threads of their own, so that none keeps the main thread from answering, nor takes another one down. */
export class LayCrew {
  readonly #crew: Crew;
  readonly #solve: Solve;

  constructor({
    solve,
    threads,
    entry = threadEntry(import.meta.url, 'layThread'),
    ...limits
  }: LayCrewParts) {
    this.#solve = solve;
    // Lays wait in `Lays`; here only until a thread that is being ended has gone.
    this.#crew = new Crew({ entry, threads, waiting: threads, waitingOfClient: threads, ...limits });
  }

  readonly run: RunLay = async (request, report, signal) => {
    const searches = new Map<number, AbortController>();
    const onSaid = (message: unknown, tell: (message: unknown) => void): void => {
      const said = message as LaySaid;
      if (said.kind === 'progress') report(said.progress);
      else if (said.kind === 'endSolve') searches.get(said.solve)?.abort();
      else this.#search(said, searches, tell);
    };
    try {
      const output = await this.#crew.run({ input: request, maxMs: LONGEST_MS, signal, onSaid });
      return output as LayProgress;
    } finally {
      for (const search of searches.values()) search.abort();
    }
  };

  close(): Promise<void> {
    return this.#crew.close();
  }

  #search(
    { solve, problem, options }: Extract<LaySaid, { kind: 'solve' }>,
    searches: Map<number, AbortController>,
    tell: (message: unknown) => void,
  ): void {
    const abort = new AbortController();
    searches.set(solve, abort);
    const answer = (told: LayTold): void => tell(told);
    this.#solve(problem, {
      ...options,
      signal: abort.signal,
      onBetter: (layout) => answer({ kind: 'better', solve, layout }),
    })
      .then(
        (result) => answer({ kind: 'solved', solve, result }),
        (error: Error & { readonly code?: string }) =>
          answer({ kind: 'unsolved', solve, name: error.name, message: error.message, code: error.code }),
      )
      .finally(() => searches.delete(solve));
  }
}
