import { foldWidth, mostDoubled, usualDoubling, wholeWidth } from './doubling.ts';
import { lanesOf } from './layers.ts';
import { hasChoiceOfGrain } from './spread.ts';
import type { Arrangement, ClothRules, Demand, Doubled, RollCloth, Spread } from './types.ts';

/** More ways than this to use one spread are not tried: each is packed for a moment. */
const MOST_ALTERNATIVES = 24;
/** Depths of a partial fold closer than this are one, in mm. */
const SAME_DEPTH_MM = 0.5;

/**
 * The ways in which a spread of a roll can be used, the usual one first: which way the grain lines lie where they may
 * choose, what lies doubled in a sequence, and how deep a partial fold is. Which is the shortest only packing tells.
 */
export function alternatives(
  roll: RollCloth,
  demands: readonly Demand[],
  spread: Spread,
): readonly Arrangement[] {
  const turns = hasChoiceOfGrain(roll.rules) ? (['grain', 'cross'] as const) : [undefined];
  const found = turns.flatMap((turn) => {
    const rules = turn ? { ...roll.rules, turn } : roll.rules;
    return waysOf({ ...roll, rules }, demands, spread).map((way) => (turn ? { ...way, turn } : way));
  });
  return found.slice(0, MOST_ALTERNATIVES);
}

function waysOf(roll: RollCloth, demands: readonly Demand[], spread: Spread): Arrangement[] {
  if (spread === 'sequence') return sequences(roll, demands).map((doubled) => ({ doubled }));
  if (spread === 'partial') return partialFolds(roll, demands);
  return [{}];
}

/**
 * What may be doubled in a sequence: everything; halves on the fold alone; halves unfolded and cut as pairs; nothing;
 * a single demand; and each of the first with one demand after another left for the single layer.
 */
function sequences(roll: RollCloth, demands: readonly Demand[]): Doubled[][] {
  const { rules } = roll;
  const lanes = lanesOf(roll, 'folded');
  const most = demands.map((demand) => mostDoubled(demand, rules, lanes));
  const ways = [
    demands.map((demand) => usualDoubling(demand, rules, lanes)),
    demands.map(({ id }, i) => ({ id, fold: most[i]!.fold, pairs: 0 })),
    demands.map(({ id }, i) => ({ id, fold: 0, pairs: most[i]!.pairs })),
  ];
  const seen = new Set<string>();
  const distinct: Doubled[][] = [];
  const add = (way: Doubled[]): void => {
    const key = JSON.stringify(way);
    if (seen.has(key)) return;
    seen.add(key);
    distinct.push(way);
  };
  const nothing = demands.map(({ id }): Doubled => ({ id, fold: 0, pairs: 0 }));
  for (const way of [ways[0]!, nothing, ...ways.slice(1)]) add(way);
  for (const [index, entry] of ways[0]!.entries()) {
    if (entry.fold + entry.pairs > 0) add(nothing.with(index, entry));
  }
  for (const way of ways) {
    for (const [index, { fold, pairs }] of way.entries()) {
      if (fold + pairs === 0) continue;
      const replaced = (other: Partial<Doubled>): Doubled[] =>
        way.map((entry, i) => (i === index ? { ...entry, ...other } : entry));
      add(replaced({ fold: 0, pairs: 0 }));
      // One placement fewer: an odd half unfolded, a pair opened.
      if (fold > 1) add(replaced({ fold: fold - 1 }));
      if (pairs > 1) add(replaced({ pairs: pairs - 1 }));
    }
  }
  return distinct;
}

/** Depths at which some demand just fits on the fold or doubled, each with and without the pairs that fit. */
function partialFolds(roll: RollCloth, demands: readonly Demand[]): Arrangement[] {
  const { rules } = roll;
  const deepest = roll.wholeWidth / 2 - roll.edge;
  const depths: number[] = [];
  const add = (width: number | null): void => {
    if (width === null || width > deepest + 1e-6 || width <= 0) return;
    if (!depths.some((depth) => Math.abs(depth - width) < SAME_DEPTH_MM))
      depths.push(Math.min(width, deepest));
  };
  const hasFolds = demands.some((demand) => foldWidth(demand, rules, false) !== null);
  for (const demand of demands) add(foldWidth(demand, rules, false));
  if (!hasFolds || depths.length < 3) for (const demand of demands) addPairWidth(demand, roll, rules, add);
  const least = Math.max(0, ...demands.map((demand) => foldWidth(demand, rules, false) ?? 0));
  // Every half that may lie on the fold shall have room there.
  const deepEnough = depths.filter((depth) => depth >= Math.min(least, deepest) - SAME_DEPTH_MM);
  const ways = deepEnough.flatMap((depthMm): Arrangement[] => {
    const lanes = lanesOf(roll, 'partial', depthMm);
    const all = demands.map((demand) => usualDoubling(demand, rules, lanes));
    const halves = all.map(({ id, fold }) => ({ id, fold, pairs: 0 }));
    const hasPairs = all.some(({ pairs }) => pairs > 0);
    const isNothing = halves.every(({ fold }) => fold === 0);
    return [
      ...(isNothing ? [] : [{ doubled: halves, depthMm }]),
      ...(hasPairs ? [{ doubled: all, depthMm }] : []),
    ];
  });
  return ways.length > 0 ? ways : [{}];
}

function addPairWidth(
  demand: Demand,
  roll: RollCloth,
  rules: ClothRules,
  add: (width: number | null) => void,
): void {
  if (mostDoubled(demand, rules, lanesOf(roll, 'folded')).pairs > 0) add(wholeWidth(demand, rules));
}
