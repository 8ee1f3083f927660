import type { Layout, Problem, SearchResult } from '../packing/types.ts';
import { nothingFound } from '../solveInThisThread.ts';
import { compareLayouts } from './compareLayouts.ts';

/** What one thread of a solve came to: its result, or the best it had reported when it was ended from outside. */
export interface ThreadOutcome {
  readonly result: SearchResult | null;
  readonly reported: Layout | null;
}

/**
 * One result out of those of all threads, listed by thread: the best layout, the lower thread at a tie, whichever
 * came first. A proof that nothing fits counts only if no thread found a layout that does.
 */
export function mergeResults(problem: Problem, outcomes: readonly ThreadOutcome[]): SearchResult {
  const steps = outcomes.reduce((sum, { result }) => sum + (result?.steps ?? 0), 0);
  const engineFaults = outcomes.flatMap(({ result }) => result?.engineFaults ?? []);
  const results = outcomes.flatMap(({ result, reported }) => result ?? asResult(reported) ?? []);
  const best = bestOf(problem, results);
  const proofs = results.filter(({ verdict }) => verdict === 'cannot fit');
  if (best?.verdict === 'fits' && proofs[0])
    engineFaults.push(
      `a thread proved that it cannot fit, another made it fit: ${proofs[0].impossible?.reason}`,
    );
  const merged = best?.verdict === 'fits' ? best : (bestOf(problem, proofs) ?? best ?? nothingFound(problem));
  return { ...merged, steps, ...(engineFaults.length > 0 ? { engineFaults } : {}) };
}

/** The best result, the first at a tie; null of none. */
function bestOf(problem: Problem, results: readonly SearchResult[]): SearchResult | null {
  return results.reduce<SearchResult | null>(
    (best, result) => (best && !isBetter(problem, result, best) ? best : result),
    null,
  );
}

function isBetter(problem: Problem, a: SearchResult, b: SearchResult): boolean {
  const fits = Number(b.verdict === 'fits') - Number(a.verdict === 'fits');
  return (fits || compareLayouts(problem, a.layout, b.layout)) < 0;
}

function asResult(layout: Layout | null): SearchResult | null {
  return layout && { verdict: layout.unplaced.length === 0 ? 'fits' : 'not found', layout, steps: 0 };
}
