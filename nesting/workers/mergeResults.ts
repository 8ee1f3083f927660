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
  let best: SearchResult | null = null;
  for (const outcome of outcomes) {
    const result = outcome.result ?? asResult(outcome.reported);
    if (!result) continue;
    if (!best || isBetter(problem, result, best)) best = result;
  }
  const proof = outcomes.find(({ result }) => result?.verdict === 'cannot fit')?.result;
  if (proof && best?.verdict === 'fits')
    engineFaults.push(`a thread proved that it cannot fit, another made it fit: ${proof.impossible?.reason}`);
  const merged = best?.verdict === 'fits' ? best : (proof ?? best ?? nothingFound(problem));
  return { ...merged, steps, ...(engineFaults.length > 0 ? { engineFaults } : {}) };
}

function isBetter(problem: Problem, a: SearchResult, b: SearchResult): boolean {
  const fits = Number(b.verdict === 'fits') - Number(a.verdict === 'fits');
  return (fits || compareLayouts(problem, a.layout, b.layout)) < 0;
}

function asResult(layout: Layout | null): SearchResult | null {
  return layout && { verdict: layout.unplaced.length === 0 ? 'fits' : 'not found', layout, steps: 0 };
}
