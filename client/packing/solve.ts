import type { Layout, SearchResult, Solve } from '../../nesting/index.ts';
import { nothingFound } from '../../nesting/solveInThisThread.ts';
import { pack } from './pack.ts';

/** So many searches run at once in the page; the others wait for their turn. */
const MOST_THREADS = 2;

/**
 * A `Solve` that runs in the page's own threads: for questions that ask for many small lays, and for those that must be
 * answered without the server.
 */
export function solveInPage(): Solve {
  let running = 0;
  const waiting: (() => void)[] = [];
  const take = (): Promise<void> =>
    running < MOST_THREADS
      ? Promise.resolve(void running++)
      : new Promise((resolve) => waiting.push(() => resolve(void running++)));
  const give = (): void => {
    running--;
    waiting.shift()?.();
  };
  return async (problem, { seed, maxMs, maxSteps, signal, onBetter }): Promise<SearchResult> => {
    await take();
    const abort = new AbortController();
    const stop = (): void => abort.abort();
    try {
      if (signal?.aborted) return nothingFound(problem);
      signal?.addEventListener('abort', stop);
      const order = { problem, seed, maxMs, ...(maxSteps === undefined ? {} : { maxSteps }) };
      const found = await pack(order, (layout: Layout) => onBetter?.(layout), abort.signal);
      return found ?? nothingFound(problem);
    } finally {
      signal?.removeEventListener('abort', stop);
      give();
    }
  };
}
