import { guardedSearch, type Search } from './guardedSearch.ts';
import type { Problem, SearchResult, Solve } from './packing/types.ts';

/**
 * A `Solve` that runs in the thread that calls it: for tests, for a browser's own worker, for a machine without
 * threads. It blocks until the search ends, so a signal is seen only if it was aborted before or from `onBetter`.
 *
 * @param clock milliseconds, monotonic; nesting has no clock of its own
 */
export function solveInThisThread(search: Search, clock: () => number): Solve {
  return async (problem, { seed, maxMs, maxSteps, method, signal, onBetter }) => {
    if (signal?.aborted) return nothingFound(problem);
    return guardedSearch(search, problem, {
      seed,
      maxMs,
      clock,
      ...(maxSteps === undefined ? {} : { maxSteps }),
      ...(method === undefined ? {} : { method }),
      shouldStop: () => signal?.aborted ?? false,
      ...(onBetter ? { onBetter: (layout) => onBetter(layout) } : {}),
    });
  };
}

/** What a search has to show that was stopped before it began: every copy is still without a place. */
export function nothingFound({ items }: Problem): SearchResult {
  const unplaced = items.flatMap(({ id, quantity }) =>
    Array.from({ length: quantity }, (_, copy) => ({ item: id, copy })),
  );
  const verdict = unplaced.length === 0 ? 'fits' : 'not found';
  return { verdict, layout: { placements: [], unplaced, length: 0 }, steps: 0 };
}
