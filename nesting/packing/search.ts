import { Annealing, largestFirst } from './annealing.ts';
import { Arrangement, fromLayout, toLayout, usedLength } from './arrangement.ts';
import { Budget } from './budget.ts';
import { FitSearch } from './fitSearch.ts';
import { aroundFixed } from './fixedCopies.ts';
import { GreedyPlacer } from './greedy.ts';
import { proveImpossible } from './impossibility.ts';
import { lengthBound } from './lengthBound.ts';
import { type Detail, Model } from './model.ts';
import { cost, roomsUsed } from './objective.ts';
import { Random } from './random.ts';
import { placeOnShelves } from './shelves.ts';
import { StripSearch } from './stripSearch.ts';
import { FINER_STEPS, hasFreeAngles, withAnglesAround, withLikelyAngles } from './turning.ts';
import type { Impossibility, Layout, Problem, SearchOptions, SearchResult } from './types.ts';

/** Steps of a search that was given no limit at all. */
const DEFAULT_STEPS = 500;

/** Part of the budget for exploring with simplified outlines; the rest squeezes true ones. */
const SIMPLIFIED_PART = 0.9;

/**
 * The greedy start looks at all poses of each copy if that needs no more than so many tables, or so many for each
 * millisecond of the budget: a table takes a fifth of one, and most are needed later anyway.
 */
const FEW_TABLES = 6000;
const TABLES_PER_MS = 1.6;

/** With more copies than this, or beyond so many turns, items all turned alike are not tried. */
const FEW_COPIES = 150;
const MOST_TURNS = 4;

/** Outlines of more vertices are simplified for the search. Depth lookups hardly depend on it; building tables does. */
const SEARCH_DETAIL: Detail = { vertices: 24, maxAreaRatio: 0.003 };

/**
 * Hides have outlines of a thousand vertices: a sheet with more than so many is followed more roughly still for this part
 * of the budget. On other sheets what is simplified gives way to true outlines after this part, if pieces are still missing.
 */
const RUGGED_VERTICES = 100;
const SKETCH_DETAIL: Detail = { vertices: 24, maxAreaRatio: 0.01 };
const SKETCH_PART = 0.4;
const COARSE_FIT_PART = 0.6;

/**
 * Looks for a good layout: first a proof that there is none, then a legal layout at once, then better ones until
 * the steps, the time or the patience of the caller are used up (for sheets also when no fewer can do).
 *
 * Deterministic for a seed and a number of steps. Throws a `RangeError` for an outline without area or a
 * container without width, which `verify` and the callers' own checks name more kindly.
 */
export function search(problem: Problem, options: SearchOptions): SearchResult {
  checkProblem(problem);
  if (!problem.fixed || problem.fixed.length === 0) return searchTurned(problem, options, 0);
  const { problem: inner, reach, back, forth } = aroundFixed(problem);
  const { onBetter, exchange: _, start, ...rest } = options;
  const result = searchTurned(
    inner,
    {
      ...rest,
      ...(start && { start: forth(start) }),
      ...(onBetter && { onBetter: (layout, step) => onBetter(back(layout), step) }),
    },
    reach,
  );
  return { ...result, layout: back(result.layout) };
}

/** Parts of the budget after which the stages of a search with free angles end. */
const STAGE_ENDS = [0.5, 0.7, 0.87, 1] as const;

/**
 * Where angles are free, a search in stages: see `turning.ts`. `least`: no layout can be shorter, because something
 * fixed reaches so far; mm.
 */
function searchTurned(problem: Problem, options: SearchOptions, least: number): SearchResult {
  const isLimited =
    options.maxSteps !== undefined || (options.maxMs !== undefined && options.clock !== undefined);
  if (!hasFreeAngles(problem) || !isLimited || options.method === 'annealing')
    return searchFree(problem, options, least);
  const impossible = proveImpossible(new Model(problem));
  if (impossible && !problem.bestSubset) return searchFree(problem, options, least, impossible);
  const { exchange: _, maxMs, maxSteps, ...rest } = options;
  const from = options.clock?.() ?? 0;
  let best: SearchResult | null = null;
  let steps = 0;
  for (const [stage, end] of STAGE_ENDS.entries()) {
    const start: Layout | undefined = best?.layout ?? options.start;
    const finer = FINER_STEPS[stage - 1];
    const stageProblem: Problem =
      start && finer !== undefined ? withAnglesAround(problem, start, finer) : withLikelyAngles(problem);
    const found: SearchResult = searchFree(
      { ...stageProblem, bestSubset: true },
      {
        ...rest,
        ...(start && { start }),
        ...(maxMs !== undefined && { maxMs: Math.max(0, end * maxMs - ((options.clock?.() ?? 0) - from)) }),
        ...(maxSteps !== undefined && { maxSteps: Math.max(1, Math.floor(end * maxSteps) - steps) }),
        onBetter: (layout, step) => {
          if (!best || isBetterLayout(layout, best.layout)) options.onBetter?.(layout, steps + step);
        },
      },
      least,
      impossible,
    );
    steps += found.steps;
    if (!best || isBetterLayout(found.layout, best.layout)) best = found;
    const isComplete = best.layout.unplaced.length === 0;
    const isOnSheets = problem.containers[0]?.kind === 'sheet';
    const bound = Math.max(least, lengthBound(problem).length);
    const isDone =
      isComplete &&
      (isOnSheets ? problem.containers.length === 1 : best.layout.length <= bound * (1 + AT_BOUND));
    if (isDone || options.shouldStop?.()) break;
  }
  const layout = best?.layout ?? { placements: [], unplaced: [], length: 0 };
  const verdict = layout.unplaced.length === 0 ? 'fits' : impossible ? 'cannot fit' : 'not found';
  return { verdict, layout, steps, ...(impossible ? { impossible } : {}) };
}

/** Copies without a place first, then the length, then the sheets in use. */
function isBetterLayout(a: Layout, b: Layout): boolean {
  if (a.unplaced.length !== b.unplaced.length) return a.unplaced.length < b.unplaced.length;
  if (a.length !== b.length) return a.length < b.length;
  return sheetsIn(a) < sheetsIn(b);
}

function sheetsIn({ placements }: Layout): number {
  return new Set(placements.map(({ container, containerCopy }) => `${containerCopy} of ${container}`)).size;
}

/** `proof` of impossibility if it was looked for before; null if there is none. */
function searchFree(
  problem: Problem,
  options: SearchOptions,
  least: number,
  proof?: Impossibility | null,
): SearchResult {
  const unlimited = options.maxMs === undefined && options.shouldStop === undefined;
  const budget = new Budget(
    options,
    options.maxSteps ?? (unlimited ? DEFAULT_STEPS : Number.POSITIVE_INFINITY),
  );
  const exact = new Model(problem);
  if (exact.copies.length === 0) {
    const layout: Layout = { placements: [], unplaced: [], length: 0 };
    options.onBetter?.(layout, 0);
    return { verdict: 'fits', layout, steps: 0 };
  }
  const impossible = proof === undefined ? proveImpossible(exact) : proof;
  if (impossible && !problem.bestSubset) {
    const layout = toLayout(exact, new Arrangement(exact.copies.length));
    return { verdict: 'cannot fit', layout, impossible, steps: 0 };
  }
  const best =
    options.method === 'annealing'
      ? searchByAnnealing(exact, options, budget, least)
      : searchBySeparation(exact, options, budget, least);
  const layout = toLayout(exact, best);
  const verdict = layout.unplaced.length === 0 ? 'fits' : impossible ? 'cannot fit' : 'not found';
  return { verdict, layout, steps: budget.steps, ...(impossible ? { impossible } : {}) };
}

function searchByAnnealing(model: Model, options: SearchOptions, budget: Budget, least: number): Arrangement {
  const annealing = new Annealing(model, new Random(options.seed), budget.shouldStop);
  options.onBetter?.(toLayout(model, annealing.best), 0);
  while (!budget.shouldStop() && !isIdeal(model, annealing.best, least)) {
    budget.step();
    if (annealing.step(budget.shouldStop)) options.onBetter?.(toLayout(model, annealing.best), budget.steps);
  }
  return annealing.best;
}

function searchBySeparation(
  exact: Model,
  options: SearchOptions,
  budget: Budget,
  least: number,
): Arrangement {
  const best = new Arrangement(exact.copies.length);
  const start = options.start && fromLayout(exact, options.start);
  if (start) {
    best.copyFrom(start);
    options.onBetter?.(toLayout(exact, best), 0);
  } else if (exact.stripWidth > 0) {
    placeOnShelves(exact, best);
    options.onBetter?.(toLayout(exact, best), 0);
  }
  const coarse = exact.simplified(SEARCH_DETAIL);
  const random = new Random(options.seed);
  const mostTables = Math.max(FEW_TABLES, TABLES_PER_MS * (options.maxMs ?? 0));
  if (!start)
    improveByGreedy(coarse, best, budget, mostTables, () => options.onBetter?.(toLayout(exact, best), 0));
  const report = () => {
    const layout = toLayout(exact, best);
    options.onBetter?.(layout, budget.steps);
    options.exchange?.offer(layout);
  };
  const take = () => {
    const layout = options.exchange?.take();
    return layout ? fromLayout(exact, layout) : null;
  };
  if (exact.stripWidth === 0 || best.room.includes(-1)) {
    const isDone = (arrangement: Arrangement) =>
      !arrangement.room.includes(-1) && (exact.stripWidth > 0 || isIdeal(exact, arrangement, least));
    const fill = (model: Model, isOver: () => boolean) => {
      const fit = new FitSearch(model, best, random, {
        shouldStop: () => budget.shouldStop() || isOver(),
        onRound: budget.step,
        isIdeal: isDone,
        onBetter: (arrangement) => {
          best.copyFrom(arrangement);
          report();
        },
        take,
      });
      if (!isDone(best)) fit.run();
      best.copyFrom(fit.best);
    };
    const isRugged = mostVertices(exact.problem) > RUGGED_VERTICES;
    if (isRugged) fill(exact.simplified(SKETCH_DETAIL), () => budget.progress() >= SKETCH_PART);
    const isTrueLast = coarse !== exact && !isRugged;
    // What can't be placed may want the last bit of cloth.
    fill(coarse, () => isTrueLast && best.room.includes(-1) && budget.progress() >= COARSE_FIT_PART);
    if (isTrueLast && best.room.includes(-1)) fill(exact, () => false);
    if (exact.stripWidth === 0 || best.room.includes(-1)) return best;
  }
  let ideal = isIdeal(exact, best, least);
  const shouldStop = () => ideal || budget.shouldStop();
  const shared = {
    onRound: budget.step,
    onShorter: (arrangement: Arrangement) => {
      best.copyFrom(arrangement);
      ideal = isIdeal(exact, best, least);
      report();
    },
    take,
  };
  if (coarse !== exact) {
    const progress = () => budget.progress() / SIMPLIFIED_PART;
    new StripSearch(coarse, best, random, {
      ...shared,
      progress,
      shouldStop: () => shouldStop() || progress() >= 1,
    }).run();
  }
  if (!shouldStop())
    new StripSearch(exact, best, random, { ...shared, progress: budget.progress, shouldStop }).run();
  return best;
}

/**
 * Bottom-left placement, first with one pose an item, because each further pose multiplies the tables to build;
 * with all of them only if these are few. Then also with all items turned alike: rows of equal pieces, turned one
 * way or the other, are what a mixture of turns only finds by luck.
 */
function improveByGreedy(
  model: Model,
  best: Arrangement,
  budget: Budget,
  mostTables: number,
  onBetter: () => void,
): void {
  const placer = new GreedyPlacer(model);
  const order = largestFirst(model);
  const trial = new Arrangement(best.size);
  const itemOf = (copy: number) => model.copies[copy]?.item ?? 0;
  const choices: ((copy: number) => number)[] = [(copy) => model.favouritePose(itemOf(copy))];
  if (tableCount(model) <= mostTables) {
    choices.push(() => -1);
    const mostPoses = Math.max(...model.itemPoses.map((poses) => poses.length));
    if (mostPoses > 1 && model.copies.length <= FEW_COPIES)
      for (let turn = 0; turn < Math.min(mostPoses, MOST_TURNS); turn++)
        choices.push((copy) => {
          const poses = model.itemPoses[itemOf(copy)] as Int32Array;
          return poses[turn % poses.length] as number;
        });
  }
  for (const poseOf of choices) {
    if (budget.shouldStop()) return;
    placer.place(trial, order, poseOf, budget.shouldStop);
    if (cost(model, trial) >= cost(model, best)) continue;
    best.copyFrom(trial);
    onBetter();
  }
}

/** Vertices of the sheet with the most. */
function mostVertices({ containers }: Problem): number {
  return containers.reduce(
    (most, container) => (container.kind === 'sheet' ? Math.max(most, container.outline.length) : most),
    0,
  );
}

/** A layout this near its lower bound, in parts of it, is as short as any: contacts themselves are no sharper. */
const AT_BOUND = 1e-7;

/** Tables that all pairs of poses take, about: pairs of shapes times the ways one can be turned against the other. */
function tableCount(model: Model): number {
  const { poses } = model;
  const turns = new Set(
    Array.from({ length: poses.count }, (_, p) => `${poses.rotation[p]} ${poses.mirrored[p]}`),
  );
  return (turns.size * poses.shapes.length ** 2) / 2;
}

/** Nothing is left to improve: every copy is placed, on as little cloth as any layout can do with. */
function isIdeal(model: Model, arrangement: Arrangement, least: number): boolean {
  if (arrangement.room.includes(-1)) return false;
  if (model.stripWidth === 0) return roomsUsed(model, arrangement) <= fewestSheets(model);
  const bound = Math.max(least, lengthBound(model.problem).length);
  return usedLength(model, arrangement) <= bound * (1 + AT_BOUND);
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
  if (strips.length > 0 && problem.containers.length > strips.length)
    throw new RangeError(
      `search: a problem has only strips or only sheets, ${problem.name} has ${strips.length} strips among ${problem.containers.length} containers`,
    );
  for (const strip of strips)
    if (!(strip.width > 0 && Number.isFinite(strip.width)))
      throw new RangeError(`search: strip ${strip.id} is ${strip.width} wide`);
  if (!(problem.gap >= 0 && Number.isFinite(problem.gap)))
    throw new RangeError(`search: the gap is ${problem.gap}`);
}
