import {
  type Arrangement,
  lengthsOfCloth,
  type Spread,
  type Spreading,
  type Stretch,
} from '../../nesting/cloth/index.ts';
import type { Impossibility, Layout, Problem, SearchResult, StopSignal } from '../../nesting/index.ts';
import type { Roll } from '../exchange/project.ts';
import { type FilledStretch, rollLengths, stillOpen } from './assemble.ts';
import { closedUp } from './closedUp.ts';
import type { CutDemand } from './demands.ts';
import { arrangementsOf, spreadingOf } from './spreading.ts';

/** What laying a roll asks of whoever runs it. */
export interface RollLayContext {
  readonly signal: StopSignal;
  /** Packs one problem for so long, telling each better layout. */
  pack(problem: Problem, ms: number, onBetter: (layout: Layout) => void): Promise<SearchResult>;
}

/** A roll laid one way so far: every stretch has a layout, perhaps not yet the best. */
export interface RollLay {
  readonly spreading: Spreading;
  readonly filled: readonly FilledStretch[];
  /** Found by searches that have ended. */
  readonly proofs: readonly Impossibility[];
}

/** Of the time for a spread, this share goes into finding out how best to use it, where there is a choice. */
const TRIAL_SHARE = 0.4;
/** Each way gets so long, in ms: less tells nothing of it, and after more the order of ways hardly changes. */
const TRIAL_MS = { least: 120, most: 600 } as const;
/** How long a first look takes, in ms: long enough for a layout that shows what a spread is worth. */
const FIRST_LOOK_MS = 60;
/** Lengths closer than this are the same, mm. */
const SAME_MM = 0.01;

/** A roll to be laid one way. */
export interface RollTask {
  readonly roll: Roll;
  readonly spread: Spread;
  readonly demands: readonly CutDemand[];
}

/** A first lay, soon: the spread's usual way, hardly searched. Null where edges leave nothing of the width. */
export async function firstLook(
  task: RollTask,
  context: RollLayContext,
  show: (lay: RollLay) => void,
): Promise<RollLay | null> {
  const { roll, spread, demands } = task;
  const spreadFrom = (startMm = 0): Spreading | null => spreadingOf(roll, demands, spread, { startMm });
  const spreading = spreadFrom();
  return spreading && fill(roll, spreading, FIRST_LOOK_MS, context, spreadFrom, show);
}

/**
 * Lays a roll one way. Where the spread leaves a choice (what is doubled, how deep a partial fold is, which way all
 * grain lines lie), each way is packed for a moment and the best of them for the rest of the time. `show` is called
 * with each lay better than those before it, and than `known`. Null where edges leave nothing of the width.
 */
export async function layRoll(
  { roll, spread, demands }: RollTask,
  ms: number,
  context: RollLayContext,
  show: (lay: RollLay) => void,
  known: RollLay | null = null,
): Promise<RollLay | null> {
  const spreadAs = (arrangement: Arrangement, startMm = 0): Spreading | null =>
    spreadingOf(roll, demands, spread, { arrangement, startMm });
  const ways = spreadAs({}) === null ? [] : arrangementsOf(roll, demands, spread);
  let best = known;
  const better = (lay: RollLay): void => {
    if (best !== null && !isBetter(roll, demands, lay, best)) return;
    best = lay;
    show(lay);
  };
  if (ways.length > 1) {
    let left = ms * TRIAL_SHARE;
    const each = Math.min(TRIAL_MS.most, Math.max(TRIAL_MS.least, left / ways.length));
    for (const way of ways) {
      if (context.signal.aborted || left < 0) break;
      const spreading = spreadAs(way);
      if (!spreading || (best && cannotBeat(roll, demands, spreading, best))) continue;
      left -= each;
      await fill(roll, spreading, each, context, (start) => spreadAs(way, start), better);
    }
  }
  const chosen = (best as RollLay | null)?.spreading.arrangement ?? ways[0];
  const spreading = chosen && spreadAs(chosen);
  if (!spreading || (best !== null && context.signal.aborted)) return best;
  const share = ways.length > 1 ? 1 - TRIAL_SHARE : 1;
  const last = await fill(roll, spreading, ms * share, context, (start) => spreadAs(chosen, start), better);
  if (best === null || isBetter(roll, demands, last, best)) best = last;
  return { ...best, proofs: last.proofs };
}

/** What of two lays of one roll serves better; the first where they are alike. */
export function betterOf(roll: Roll, demands: readonly CutDemand[], a: RollLay, b: RollLay): RollLay {
  return isBetter(roll, demands, b, a) ? b : a;
}

/** Packs the stretches of one way beside each other; on a roll with flaws one after the other. */
async function fill(
  roll: Roll,
  spreading: Spreading,
  ms: number,
  context: RollLayContext,
  spreadFrom: (startMm: number) => Spreading | null,
  better: (lay: RollLay) => void,
): Promise<RollLay> {
  const layouts: Layout[] = [];
  const proofs: Impossibility[] = [];
  let current = spreading;
  const lay = (): RollLay => ({
    spreading: current,
    filled: current.stretches.map((stretch, i) => ({ stretch, layout: layouts[i]! })),
    proofs: [...proofs],
  });
  const put = (index: number, layout: Layout): void => {
    layouts[index] = layout;
    // Nothing is shown until every stretch has a first layout: half a length would look like the whole.
    if (current.stretches.every((_, i) => layouts[i])) better(lay());
  };
  const packOne = async (stretch: Stretch, index: number): Promise<void> => {
    const outcome = await context.pack(stretch.problem, ms, (layout) => put(index, layout));
    if (outcome.impossible) proofs.push(outcome.impossible);
    put(index, closedUp(stretch.problem, outcome.layout));
  };
  if (roll.flaws.length > 0 && current.stretches.length > 1) {
    for (let index = 0; index < current.stretches.length; index++) {
      await packOne(current.stretches[index]!, index);
      const before = current.stretches.slice(0, index + 1);
      const start = before.reduce(
        (sum, { spread }, i) => sum + lengthsOfCloth(spread) * layouts[i]!.length,
        0,
      );
      current = spreadFrom(start) ?? current;
    }
  } else {
    await Promise.all(current.stretches.map(packOne));
  }
  return lay();
}

/** Fewer copies without a place, then less cloth, then fewer pieces to trace. */
function isBetter(roll: Roll, demands: readonly CutDemand[], a: RollLay, b: RollLay): boolean {
  const [openA, openB] = [countOpen(demands, a.filled), countOpen(demands, b.filled)];
  if (openA !== openB) return openA < openB;
  const less = rollLengths(roll, b.filled).used - rollLengths(roll, a.filled).used;
  return less > SAME_MM || (less > -SAME_MM && countPlaced(a) < countPlaced(b));
}

function countPlaced({ filled }: RollLay): number {
  return filled.reduce((sum, { layout }) => sum + layout.placements.length, 0);
}

/** Whether a way's lower bound is no better than what is there already. */
function cannotBeat(roll: Roll, demands: readonly CutDemand[], spreading: Spreading, best: RollLay): boolean {
  if (countOpen(demands, best.filled) > 0) return false;
  const least = spreading.stretches.map((stretch): FilledStretch => {
    const layout = { placements: [], unplaced: [], length: stretch.leastLength };
    return { stretch, layout };
  });
  return rollLengths(roll, least).used >= rollLengths(roll, best.filled).used + SAME_MM;
}

/** Copies still to be cut once everything placed is. */
export function countOpen(demands: readonly CutDemand[], filled: readonly FilledStretch[]): number {
  let copies = 0;
  for (const { plain, mirrored } of stillOpen(demands, filled).values()) copies += plain + mirrored;
  return copies;
}
