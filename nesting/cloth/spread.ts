import type { Outline } from '../packing/types.ts';
import { uprightRules } from './border.ts';
import {
  foldWidth,
  isAcross,
  leftSingle,
  mostDoubled,
  usualDoubling,
  WIDTH_SLACK_MM,
  wholeWidth,
} from './doubling.ts';
import { Gathered, type Stretch } from './gathered.ts';
import { flawsOn, lanesOf, type StretchSpread, usableWidth } from './layers.ts';
import { admissiblePoses, keepsGrain, turnOf } from './poses.ts';
import type {
  Arrangement,
  Band,
  ClothRules,
  Demand,
  Doubled,
  Refusal,
  Remark,
  RemnantCloth,
  RollCloth,
  Spread,
} from './types.ts';
import { whyNotSpread } from './whyNotSpread.ts';

export interface Spreading {
  /** In the order in which the cloth is cut: doubled first, then opened out. Empty stretches are left out. */
  readonly stretches: readonly Stretch[];
  readonly refusals: readonly Refusal[];
  readonly remarks: readonly Remark[];
  /** What was decided before packing, complete: with it the same problems come out again. */
  readonly arrangement: Arrangement;
}

/** How a roll is spread in its first stretch. */
const firstStretch = (spread: Spread): StretchSpread => (spread === 'sequence' ? 'folded' : spread);

/** The rules with a choice of grain made, where all pieces must lie alike but may lie either way. */
function settledRules(rules: ClothRules, turn: Arrangement['turn']): ClothRules {
  return hasChoiceOfGrain(rules) ? { ...rules, turn: turn ?? 'grain' } : rules;
}

/** Whether the pieces may all lie along, or all across. */
export function hasChoiceOfGrain(rules: ClothRules): boolean {
  return (
    rules.stretchAlike &&
    (rules.turn === 'quarter' || rules.turn === 'free') &&
    rules.nap === 'none' &&
    rules.upDeg === null
  );
}

/**
 * Packing problems for a roll. Asking for a spread that `whyNotSpread` has a reason against is a mistake: it throws a
 * RangeError. `startMm` of cloth lie before the last stretch: where flaws come to lie there depends on it.
 */
export function spreadOnRoll(
  roll: RollCloth,
  demands: readonly Demand[],
  spread: Spread,
  arrangement: Arrangement = {},
  startMm = 0,
): Spreading {
  const reason = whyNotSpread(roll, spread);
  if (reason !== null) throw new RangeError(`roll ${roll.id} cannot be spread ${spread}: ${reason}`);
  const rules = settledRules(roll.rules, arrangement.turn);
  const kind = firstStretch(spread);
  const depthMm = kind === 'partial' ? (arrangement.depthMm ?? usualDepth(roll, rules, demands)) : undefined;
  const first =
    kind === 'single' ? null : doubledStretch(roll, rules, demands, kind, depthMm, arrangement.doubled);
  const isAnchored = isTiedToPlaces(roll, demands);
  const { gathered: opened, refusals } = openedStretch(roll, rules, first?.open ?? demands, isAnchored);
  const filled = [...(first ? [first.gathered] : []), opened].filter(({ items }) => items.length > 0);
  return {
    stretches: filled.map((gathered, i) => {
      const start = i === 0 ? 0 : startMm;
      const width = usableWidth(roll, gathered.spread, depthMm);
      const faded = isAnchored && gathered === opened ? roll.faded.map((band) => fadedFlaw(band)) : [];
      const flawed = faded.length > 0 ? { ...roll, flaws: [...roll.flaws, ...faded] } : roll;
      return gathered.stretch(roll, width, (lane) => flawsOn(flawed, gathered.spread, lane, start, depthMm));
    }),
    refusals,
    remarks: [...(first?.remarks ?? []), ...grainRemarks(roll, rules, demands)],
    arrangement: {
      ...(first ? { doubled: first.doubled } : {}),
      ...(depthMm === undefined ? {} : { depthMm }),
      ...(hasChoiceOfGrain(roll.rules) ? { turn: rules.turn as 'grain' | 'cross' } : {}),
    },
  };
}

/** A first stretch of doubled cloth, what of each demand it takes, and what is left for single cloth. */
interface DoubledStretch {
  readonly gathered: Gathered;
  readonly doubled: readonly Doubled[];
  readonly open: readonly Demand[];
  readonly remarks: readonly Remark[];
}

/** Takes of each demand what was decided, or is usual, as far as the fold and both layers have room for it. */
function doubledStretch(
  roll: RollCloth,
  rules: ClothRules,
  demands: readonly Demand[],
  kind: StretchSpread,
  depthMm: number | undefined,
  decided: Arrangement['doubled'],
): DoubledStretch {
  const gathered = new Gathered(rules, kind, lanesOf(roll, kind, depthMm));
  const doubled: Doubled[] = [];
  const remarks: Remark[] = [];
  // A fold across the cloth is as long as the cloth is wide, and no longer.
  let room = isAcross(gathered.lanes) ? usableWidth(roll, kind) : Infinity;
  const open = demands.flatMap((demand) => {
    const most = mostDoubled(demand, rules, gathered.lanes);
    if (most.remark) remarks.push({ demand: demand.id, kind: most.remark });
    const asked =
      decided?.find(({ id }) => id === demand.id) ??
      (decided ? { fold: 0, pairs: 0 } : usualDoubling(demand, rules, gathered.lanes));
    const wide = (foldWidth(demand, rules, isAcross(gathered.lanes)) ?? 0) + rules.gap;
    const fold = Math.min(asked.fold, most.fold, wide > 0 ? Math.floor((room + rules.gap) / wide) : Infinity);
    room -= fold * wide;
    const rest = demand.plain + demand.mirrored - fold;
    // What the fold has no room for is unfolded and still cut from both layers.
    const wanted = asked.pairs + Math.floor((asked.fold - fold) / 2);
    const pairs = Math.min(wanted, most.pairs, most.isHandless ? Math.floor(rest / 2) : Infinity);
    doubled.push({ id: demand.id, fold, pairs });
    gathered.onFold(demand, fold);
    gathered.pairs(demand, pairs);
    const left = leftSingle(demand, { fold, pairs }, most.isHandless);
    if (left.plain + left.mirrored === 0) return [];
    const single = { ...demand, ...left };
    // Beside a partial fold there is single cloth too.
    return gathered.single(single) ? [] : [single];
  });
  return { gathered, doubled, open, remarks };
}

const isOnBorder = (roll: RollCloth, demand: Demand): boolean =>
  roll.border !== undefined && demand.onBorder !== undefined;

/** The rules by which a piece is laid: upright on a border. */
const rulesOf = (roll: RollCloth, rules: ClothRules, demand: Demand): ClothRules =>
  isOnBorder(roll, demand) ? uprightRules(rules) : rules;

/** Whether pieces have places across the cloth that a repeat or a border gives them. */
function isTiedToPlaces(roll: RollCloth, demands: readonly Demand[]): boolean {
  return (
    (roll.repeat !== undefined && demands.some(({ anchor }) => anchor !== undefined)) ||
    (roll.border !== undefined &&
      (roll.border.field !== null || demands.some((demand) => isOnBorder(roll, demand))))
  );
}

/** Cloth opened out, or never doubled, with what it has no place for. */
function openedStretch(
  roll: RollCloth,
  rules: ClothRules,
  demands: readonly Demand[],
  isAnchored: boolean,
): { readonly gathered: Gathered; readonly refusals: readonly Refusal[] } {
  // Places on the repeat are counted over the whole width, so what is faded is kept clear like a flaw then.
  const lanes = lanesOf(isAnchored ? { ...roll, faded: [] } : roll, 'single');
  const gathered = new Gathered(rules, 'single', lanes, roll, -roll.edge);
  const refusals = demands.flatMap((demand): Refusal[] => {
    if (gathered.single(demand)) return [];
    const has = Math.max(0, ...gathered.lanes.map(({ from, to }) => to - from));
    const { id, plain, mirrored } = demand;
    const needs = wholeWidth(demand, rulesOf(roll, rules, demand));
    const offRepeat = needs <= has + WIDTH_SLACK_MM ? { offRepeat: true } : {};
    return [{ demand: id, plain, mirrored, needs, has, ...offRepeat }];
  });
  return { gathered, refusals };
}

/** What is to be said of the grain: pieces laid with a skewed print, or across their grain for the print's sake. */
function grainRemarks(roll: RollCloth, rules: ClothRules, demands: readonly Demand[]): Remark[] {
  return demands.flatMap((demand): Remark[] => {
    const turn = turnOf(demand, rules);
    const skewed: Remark[] = rules.skewDeg && turn !== 'free' ? [{ demand: demand.id, kind: 'skewed' }] : [];
    if (turn === 'quarter' || turn === 'free') return skewed;
    const poses = admissiblePoses(demand, rulesOf(roll, rules, demand), false);
    const isKept = poses.every((pose) => keepsGrain(demand, rules, pose));
    return isKept ? skewed : [...skewed, { demand: demand.id, kind: 'grainAcross' }];
  });
}

/** Longer than any lay, mm. */
const WHOLE_LENGTH_MM = 100_000;

/** A faded line as a flaw along the whole cloth. */
const fadedFlaw = ({ from, to }: Band): Outline => [
  [0, from],
  [WHOLE_LENGTH_MM, from],
  [WHOLE_LENGTH_MM, to],
  [0, to],
];

/** The packing problem for a remnant, spread singly. What has no place on it the search finds out. */
export function spreadOnRemnant(
  remnant: RemnantCloth,
  demands: readonly Demand[],
  arrangement: Arrangement = {},
): Spreading {
  const { id, outline, flaws, quantity } = remnant;
  const rules = settledRules(remnant.rules, arrangement.turn);
  const settled: Arrangement = hasChoiceOfGrain(remnant.rules)
    ? { turn: rules.turn as 'grain' | 'cross' }
    : {};
  const gathered = new Gathered(rules, 'single', [], remnant, 0);
  for (const demand of demands) gathered.single(demand);
  const { items, meanings } = gathered;
  if (items.length === 0) return { stretches: [], refusals: [], remarks: [], arrangement: settled };
  const container = { kind: 'sheet', id, quantity, outline, blocked: flaws } as const;
  // What a remnant can't hold goes to other cloth, so its share is wanted even where not all can fit.
  const problem = { name: id, containers: [container], items, gap: rules.gap, bestSubset: true };
  return {
    stretches: [{ spread: 'single', problem, meanings, lanes: [], width: 0, leastLength: 0 }],
    refusals: [],
    remarks: [],
    arrangement: settled,
  };
}

/** Just deep enough for the widest half piece on the fold; where there is none, for the widest pair. */
function usualDepth(roll: RollCloth, rules: ClothRules, demands: readonly Demand[]): number {
  const most = roll.wholeWidth / 2 - roll.edge;
  const lanes = lanesOf(roll, 'folded');
  const widths = (of: (demand: Demand) => number | null): number[] =>
    demands.flatMap((demand) => {
      const width = of(demand);
      return width === null || width > most + WIDTH_SLACK_MM ? [] : [width];
    });
  const onFold = widths((demand) => foldWidth(demand, rules, false));
  if (onFold.length > 0) return Math.min(most, Math.max(...onFold));
  const pairs = widths((demand) =>
    mostDoubled(demand, rules, lanes).pairs > 0 ? wholeWidth(demand, rules) : null,
  );
  return pairs.length > 0 ? Math.min(most, Math.max(...pairs)) : most;
}
