import { Annealing } from './annealing.ts';
import { toLayout, usedLength } from './arrangement.ts';
import { proveImpossible } from './impossibility.ts';
import { Model } from './model.ts';
import { roomsUsed } from './objective.ts';
import { Random } from './random.ts';
import type { Layout, Problem, SearchOptions, SearchResult } from './types.ts';

/** Steps of a search that was given no limit at all. */
const DEFAULT_STEPS = 500;

/**
 * Looks for a good layout: first a proof that there is none, then a legal layout at once, then better ones until
 * the steps, the time or the patience of the caller are used up (for sheets also when no fewer can do).
 *
 * Deterministic for a seed and a number of steps. Throws a `RangeError` for an outline without area or a
 * container without width, which `verify` and the callers' own checks name more kindly.
 */
export function search(problem: Problem, options: SearchOptions): SearchResult {
  checkProblem(problem);
  const started = options.clock?.() ?? 0;
  const shouldStop = () =>
    options.shouldStop?.() === true ||
    (options.maxMs !== undefined &&
      options.clock !== undefined &&
      options.clock() - started >= options.maxMs);
  const model = new Model(problem);
  if (model.copies.length === 0) {
    const layout: Layout = { placements: [], unplaced: [], length: 0 };
    options.onBetter?.(layout, 0);
    return { verdict: 'fits', layout, steps: 0 };
  }
  const impossible = proveImpossible(model);
  if (impossible && !problem.bestSubset) {
    const layout: Layout = {
      placements: [],
      unplaced: model.copies.map(({ item, copy }) => ({
        item: problem.items[item]?.id ?? '',
        copy,
      })),
      length: 0,
    };
    return { verdict: 'cannot fit', layout, impossible, steps: 0 };
  }
  const random = new Random(options.seed);
  const annealing = new Annealing(model, random, shouldStop);
  options.onBetter?.(toLayout(model, annealing.best), 0);
  const unlimited = options.maxMs === undefined && options.shouldStop === undefined;
  const maxSteps = options.maxSteps ?? (unlimited ? DEFAULT_STEPS : Number.POSITIVE_INFINITY);
  const fewest = fewestSheets(model);
  let steps = 0;
  while (steps < maxSteps && !shouldStop()) {
    const complete = !annealing.best.room.includes(-1);
    if (
      complete &&
      (model.stripWidth > 0
        ? usedLength(model, annealing.best) <= 0
        : roomsUsed(model, annealing.best) <= fewest)
    )
      break;
    steps++;
    if (annealing.step(shouldStop)) options.onBetter?.(toLayout(model, annealing.best), steps);
  }
  const layout = toLayout(model, annealing.best);
  const verdict = layout.unplaced.length === 0 ? 'fits' : impossible ? 'cannot fit' : 'not found';
  return { verdict, layout, steps, ...(impossible ? { impossible } : {}) };
}

/** No fewer sheets can hold the area of all pieces. */
function fewestSheets(model: Model): number {
  const areas = model.rooms
    .map(({ container }) => model.containerArea[container] as number)
    .sort((a, b) => b - a);
  let left = model.totalArea;
  let sheets = 0;
  for (const area of areas) {
    if (left <= 0) break;
    left -= area;
    sheets++;
  }
  return Math.max(1, sheets);
}

function checkProblem(problem: Problem): void {
  const strips = problem.containers.filter((c) => c.kind === 'strip');
  if (strips.length > 1 || (strips.length === 1 && problem.containers.length > 1))
    throw new RangeError(
      `search: a problem has one strip or only sheets, ${problem.name} has ${strips.length} strips among ${problem.containers.length} containers`,
    );
  for (const strip of strips)
    if (!(strip.width > 0 && Number.isFinite(strip.width)))
      throw new RangeError(`search: strip ${strip.id} is ${strip.width} wide`);
  if (!(problem.gap >= 0 && Number.isFinite(problem.gap)))
    throw new RangeError(`search: the gap is ${problem.gap}`);
}
