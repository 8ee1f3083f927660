import type { Layout, Problem, SearchOptions, SearchResult } from './packing/types.ts';
import { verify } from './verify/index.ts';

/** The engine's search, or whatever stands in for it in a test. */
export type Search = (problem: Problem, options: SearchOptions) => SearchResult;

/** The engine produced nothing but illegal layouts: a fault of ours, never of the problem. */
export class EngineFaultError extends Error {
  override readonly name = 'EngineFaultError';
}

/**
 * Least time between two checks, in ms of the clock. A young search improves its layout hundreds of times a second;
 * nobody can watch that, and checking each would take more time than finding it.
 */
const MIN_CHECK_INTERVAL_MS = 40;
/** Checks take at most one part in so many of the time, however large the layout. */
const CHECK_COST_FACTOR = 10;
/** So many unchecked layouts are remembered: if the newest is illegal, an older one may not be. */
const MAX_HELD = 16;
/** So many faults are kept in words; the first ones tell the story. */
const MAX_FAULT_TEXTS = 10;

/**
 * Runs a search and lets out only layouts that `verify` accepts. An illegal one is dropped and noted in the result's
 * `engineFaults`, and the best legal one stands in its place. The first layout is checked and reported at once, later
 * ones in intervals.
 *
 * Fixed copies that break a rule where they are fixed are refused before any search, and a start that is not legal is
 * left aside.
 *
 * @throws RangeError if fixed copies can't lie as they are fixed
 * @throws EngineFaultError if the search ends with an illegal layout and never had a legal one.
 */
export function guardedSearch(
  search: Search,
  problem: Problem,
  options: SearchOptions & { readonly clock: () => number },
): SearchResult {
  const { clock } = options;
  const engineFaults: string[] = [];
  let best: Layout | null = null;
  let held: { layout: Layout; step: number }[] = [];
  let nextCheck = Number.NEGATIVE_INFINITY;

  const isLegal = (layout: Layout): boolean => {
    const faults = verify(problem, layout);
    engineFaults.push(...faults.slice(0, MAX_FAULT_TEXTS - engineFaults.length).map(({ text }) => text));
    return faults.length === 0;
  };
  const release = () => {
    const start = clock();
    const legal = held.reverse().find(({ layout }) => isLegal(layout));
    held = [];
    nextCheck = clock() + Math.max(MIN_CHECK_INTERVAL_MS, CHECK_COST_FACTOR * (clock() - start));
    if (!legal) return;
    best = legal.layout;
    options.onBetter?.(legal.layout, legal.step);
  };

  checkFixed(problem);
  const { start, ...rest } = options;
  const isUsable = start !== undefined && verify(problem, start).every(({ kind }) => kind === 'length');
  const result = search(problem, {
    ...rest,
    ...(isUsable ? { start } : {}),
    onBetter(layout, step) {
      held.push({ layout, step });
      if (held.length > MAX_HELD) held.shift();
      if (clock() >= nextCheck) release();
    },
    shouldStop() {
      if (held.length > 0 && clock() >= nextCheck) release();
      return options.shouldStop?.() ?? false;
    },
  });

  const nothingPlaced = result.verdict === 'cannot fit' && result.layout.placements.length === 0;
  if (nothingPlaced || isLegal(result.layout)) return withFaults(result, engineFaults);
  if (held.length > 0) release();
  if (!best) {
    const story = engineFaults.join('; ');
    throw new EngineFaultError(`the search for "${problem.name}" gave no legal layout: ${story}`);
  }
  const layout: Layout = best;
  const verdict = layout.unplaced.length === 0 ? 'fits' : 'not found';
  return withFaults({ verdict, layout, steps: result.steps }, engineFaults);
}

function checkFixed(problem: Problem): void {
  const fixed = problem.fixed ?? [];
  if (fixed.length === 0) return;
  // Judged alone: everything else counts as not placed yet.
  const isFixed = (item: string, copy: number) => fixed.some((p) => p.item === item && p.copy === copy);
  const unplaced = problem.items.flatMap(({ id, quantity }) =>
    Array.from({ length: quantity }, (_, copy) => ({ item: id, copy })).filter(
      ({ copy }) => !isFixed(id, copy),
    ),
  );
  const faults = verify(problem, { placements: fixed, unplaced, length: 0 }).filter(
    ({ kind }) => kind !== 'length',
  );
  if (faults.length === 0) return;
  const story = faults.slice(0, 3).map(({ text }) => text);
  throw new RangeError(`the fixed copies of "${problem.name}" can't lie so: ${story.join('; ')}`);
}

function withFaults(result: SearchResult, engineFaults: readonly string[]): SearchResult {
  return engineFaults.length === 0 ? result : { ...result, engineFaults };
}
