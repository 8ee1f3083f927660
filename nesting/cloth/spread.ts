import { boundingBox } from '../geometry/rings.ts';
import { placeRing } from '../geometry/transforms.ts';
import { lengthBound } from '../packing/lengthBound.ts';
import type { Item, Lattice, Outline, Pose, Problem } from '../packing/types.ts';
import {
  isAcross,
  isOwnMirrorImage,
  leftSingle,
  mostDoubled,
  posesOnFold,
  setsOf,
  smallestWidth,
  usualDoubling,
  WIDTH_SLACK_MM,
  wholeWidth,
} from './doubling.ts';
import { flawsOn, type Lane, lanesOf, type StretchSpread, usableWidth } from './layers.ts';
import { admissiblePoses, endForEnd, keepsGrain, turnOf, turnsFreely } from './poses.ts';
import { canLie, onRepeat } from './repeats.ts';
import type {
  Arrangement,
  Band,
  ClothRules,
  Demand,
  Doubled,
  Hand,
  ItemMeaning,
  Refusal,
  Remark,
  RemnantCloth,
  Repeat,
  RollCloth,
  Spread,
} from './types.ts';
import { whyNotSpread } from './whyNotSpread.ts';

/** One stretch of cloth, spread one way, with the packing problem that fills it. */
export interface Stretch {
  readonly spread: StretchSpread;
  readonly problem: Problem;
  readonly meanings: readonly ItemMeaning[];
  /** Of a roll: what of its width may be laid on, from the lower edge up; each is a strip of the problem. */
  readonly lanes: readonly Lane[];
  /** How far across it may be laid on, from y = 0, in mm; 0 for a remnant. */
  readonly width: number;
  /** No layout of this stretch can be shorter, in mm; 0 for a remnant. */
  readonly leastLength: number;
}

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
  const remarks: Remark[] = [];
  const stretches: Gathered[] = [];
  const doubled: Doubled[] = [];
  let open = demands;
  if (kind !== 'single') {
    const first = new Gathered(rules, kind, lanesOf(roll, kind, depthMm));
    // A fold across the cloth is as long as the cloth is wide, and no longer.
    let room = isAcross(first.lanes) ? usableWidth(roll, kind) : Infinity;
    open = demands.flatMap((demand) => {
      const most = mostDoubled(demand, rules, first.lanes);
      if (most.remark) remarks.push({ demand: demand.id, kind: most.remark });
      const asked =
        arrangement.doubled?.find(({ id }) => id === demand.id) ??
        (arrangement.doubled ? { fold: 0, pairs: 0 } : usualDoubling(demand, rules, first.lanes));
      const wide = (foldWidth(demand, rules, isAcross(first.lanes)) ?? 0) + rules.gap;
      const fold = Math.min(
        asked.fold,
        most.fold,
        wide > 0 ? Math.floor((room + rules.gap) / wide) : Infinity,
      );
      room -= fold * wide;
      const rest = demand.plain + demand.mirrored - fold;
      // What the fold has no room for is unfolded and still cut from both layers.
      const wanted = asked.pairs + Math.floor((asked.fold - fold) / 2);
      const pairs = Math.min(wanted, most.pairs, most.isHandless ? Math.floor(rest / 2) : Infinity);
      doubled.push({ id: demand.id, fold, pairs });
      first.onFold(demand, fold);
      first.pairs(demand, pairs);
      const left = leftSingle(demand, { fold, pairs }, most.isHandless);
      if (left.plain + left.mirrored === 0) return [];
      const single = { ...demand, ...left };
      // Beside a partial fold there is single cloth too.
      return first.single(single) ? [] : [single];
    });
    stretches.push(first);
  }
  const isAnchored = roll.repeat !== undefined && demands.some(({ anchor }) => anchor !== undefined);
  // Places on the repeat are counted over the whole width, so what is faded is kept clear like a flaw then.
  const openLanes = lanesOf(isAnchored ? { ...roll, faded: [] } : roll, 'single');
  const opened = new Gathered(rules, 'single', openLanes, roll.repeat, -roll.edge);
  const refusals: Refusal[] = [];
  for (const demand of open) {
    if (!opened.single(demand)) {
      const has = Math.max(0, ...opened.lanes.map(({ from, to }) => to - from));
      const { id, plain, mirrored } = demand;
      const needs = wholeWidth(demand, rules);
      const offRepeat = needs <= has + WIDTH_SLACK_MM ? { offRepeat: true } : {};
      refusals.push({ demand: id, plain, mirrored, needs, has, ...offRepeat });
    }
  }
  stretches.push(opened);
  for (const demand of demands) {
    const turn = turnOf(demand, rules);
    if (turn === 'quarter' || turn === 'free') continue;
    const poses = admissiblePoses(demand, rules, false);
    if (!poses.every((pose) => keepsGrain(demand, rules, pose))) {
      remarks.push({ demand: demand.id, kind: 'grainAcross' });
    }
  }
  const filled = stretches.filter(({ items }) => items.length > 0);
  return {
    stretches: filled.map((gathered, i) => {
      const start = i === 0 ? 0 : startMm;
      const width = usableWidth(roll, gathered.spread, depthMm);
      const faded = isAnchored && gathered === opened ? roll.faded.map((band) => fadedFlaw(band)) : [];
      const flawed = faded.length > 0 ? { ...roll, flaws: [...roll.flaws, ...faded] } : roll;
      return gathered.stretch(roll, width, (lane) => flawsOn(flawed, gathered.spread, lane, start, depthMm));
    }),
    refusals,
    remarks,
    arrangement: {
      ...(kind === 'single' ? {} : { doubled }),
      ...(depthMm === undefined ? {} : { depthMm }),
      ...(hasChoiceOfGrain(roll.rules) ? { turn: rules.turn as 'grain' | 'cross' } : {}),
    },
  };
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
  const gathered = new Gathered(rules, 'single', [], remnant.repeat, 0);
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

/** How far across the cloth the half of a demand reaches on the fold; null where it may not lie on it. */
export function foldWidth(demand: Demand, rules: ClothRules, across: boolean): number | null {
  const poses = posesOnFold(demand, rules, across);
  return demand.half && poses.length > 0 ? smallestWidth(demand.half.outline, poses) : null;
}

/** Collects the items of one stretch while the demands are gone through. */
class Gathered {
  readonly items: Item[] = [];
  readonly meanings: ItemMeaning[] = [];
  readonly rules: ClothRules;
  readonly spread: StretchSpread;
  readonly lanes: readonly Lane[];

  private readonly repeat: Repeat | undefined;
  /** Where the cloth's own y = 0 lies in the axes of the stretch. */
  private readonly across: number;

  constructor(
    rules: ClothRules,
    spread: StretchSpread,
    lanes: readonly Lane[],
    repeat: Repeat | undefined = undefined,
    across = 0,
  ) {
    this.rules = rules;
    this.repeat = repeat;
    this.across = across;
    this.spread = spread;
    this.lanes = lanes;
  }

  onFold(demand: Demand, quantity: number): void {
    if (!demand.half) return;
    const { outline } = demand.half;
    const across = isAcross(this.lanes);
    const poses = (napDeg: 0 | 180): readonly Pose[] => {
      const all = posesOnFold(demand, this.rules, across, napDeg);
      return across ? all.map((pose) => ({ ...pose, lattice: atCrosswiseFold(outline, pose) })) : all;
    };
    const width = foldWidth(demand, this.rules, across) ?? 0;
    this.add(demand, 'fold', quantity, outline, poses(0), poses(180), this.lanesFor(width, 2, true));
  }

  pairs(demand: Demand, quantity: number): void {
    // Whichever way up the paper lies on doubled cloth, one layer gives the plain piece, the other the mirrored.
    const poses = [
      ...admissiblePoses(demand, this.rules, false),
      ...admissiblePoses(demand, this.rules, true),
    ];
    const lanes = this.lanesFor(wholeWidth(demand, this.rules), 2, false);
    this.add(demand, 'pair', quantity, demand.outline, poses, poses.map(endForEnd), lanes);
  }

  /** Single copies; false if no lane of a roll is wide enough for them. */
  single(demand: Demand): boolean {
    const { rules } = this;
    const lanes = this.lanesFor(wholeWidth(demand, rules), 1, false);
    // A remnant has no lanes: what has no place on it the search finds out.
    if (lanes !== undefined && lanes.length === 0) return false;
    const posesOf = (isMirrored: boolean, back: boolean): readonly Pose[] => {
      const free = admissiblePoses(demand, rules, isMirrored);
      const turned = back ? free.map(endForEnd) : free;
      const kept = onRepeat(turned, demand.anchor, this.repeat, this.across);
      const widths = this.lanes.map(({ from, to }) => to - from);
      return widths.length === 0
        ? kept
        : kept.filter((pose) => widths.some((wide) => canLie(demand.outline, pose, wide)));
    };
    const [plain, mirrored] = [posesOf(false, false), posesOf(true, false)];
    const [plainBack, mirroredBack] = [posesOf(false, true), posesOf(true, true)];
    const isOwn = isOwnMirrorImage(demand, rules) && !(this.repeat && demand.anchor);
    const isWanted = (hand: 'plain' | 'mirrored'): boolean => demand[hand] > 0 || isOwn || rules.reversible;
    if (
      (isWanted('plain') && plain.length === 0) ||
      (isWanted('mirrored') && !isOwn && mirrored.length === 0)
    ) {
      return false;
    }
    const put = (hand: Hand, quantity: number, poses: readonly Pose[], back: readonly Pose[]): void =>
      this.add(demand, hand, quantity, demand.outline, poses, back, lanes);
    if (isOwn) {
      put('either', demand.plain + demand.mirrored, plain, plainBack);
    } else if (rules.reversible) {
      put('either', demand.plain + demand.mirrored, [...plain, ...mirrored], [...plainBack, ...mirroredBack]);
    } else {
      put('plain', demand.plain, plain, plainBack);
      put('mirrored', demand.mirrored, mirrored, mirroredBack);
    }
    return true;
  }

  /** Lanes wide enough, by name; undefined where a cloth has none because it is a remnant. */
  private lanesFor(width: number, layers: 1 | 2, onFold: boolean): readonly string[] | undefined {
    if (this.lanes.length === 0 && this.spread === 'single') return undefined;
    return this.lanes
      .filter((lane) => lane.layers === layers && (!onFold || lane.fold !== 'none'))
      .filter(({ from, to }) => width <= to - from + WIDTH_SLACK_MM)
      .map(({ id }) => id);
  }

  private add(
    demand: Demand,
    hand: Hand,
    quantity: number,
    outline: Outline,
    poses: readonly Pose[],
    back: readonly Pose[],
    lanes: readonly string[] | undefined,
  ): void {
    const sets = setsOf(demand, this.rules);
    const isDivided = sets > 1 && quantity % sets === 0;
    const turnedBack = isDivided ? (quantity / sets) * Math.floor(sets / 2) : 0;
    const put = (id: string, count: number, ways: readonly Pose[]): void => {
      if (count === 0) return;
      this.items.push({
        id,
        outline,
        quantity: count,
        poses: ways,
        ...(turnsFreely(demand, this.rules) && hand !== 'fold' && !(this.repeat && demand.anchor)
          ? { anyAngle: true }
          : {}),
        ...(hand === 'fold' && !isAcross(this.lanes) ? { onFold: true } : {}),
        ...(lanes !== undefined && this.lanes.length > 1 ? { containers: lanes } : {}),
      });
      this.meanings.push({ item: id, demand: demand.id, hand });
    };
    put(`${demand.id}:${hand}`, quantity - turnedBack, poses);
    put(`${demand.id}:${hand}:back`, turnedBack, back);
  }

  stretch(roll: RollCloth, width: number, flawsOf: (lane: Lane) => readonly Outline[]): Stretch {
    const { spread, items, meanings } = this;
    const lies = meanings.some(({ hand }) => hand === 'fold');
    // Seen from the fold only where something lies on it: else the cloth is packed from its cut ends like any other.
    const lanes = this.lanes.map(
      (lane): Lane => (lane.fold === 'end' && !lies ? { ...lane, fold: 'none' } : lane),
    );
    const containers = lanes.map((lane) => {
      const flaws = flawsOf(lane);
      const strip = { kind: 'strip', id: lane.id, width: lane.to - lane.from } as const;
      return flaws.length > 0 ? { ...strip, blocked: flaws } : strip;
    });
    const problem = { name: `${roll.id} ${spread}`, containers, items, gap: this.rules.gap };
    return { spread, problem, meanings, lanes, width, leastLength: leastLength(problem, lanes) };
  }
}

/** Farther than any lay reaches, mm. */
const BEYOND_MM = 1e6;

/** Keeps a half against the crosswise fold, x = 0, free to slide along it. */
function atCrosswiseFold(outline: Outline, { rotation, mirrored }: Pose): Lattice {
  const { minX } = boundingBox(placeRing(outline, rotation, mirrored));
  return { origin: [-minX, 0], u: [BEYOND_MM, 0], v: null };
}

/** No layout can be shorter: all lanes taken as one strip, and those of as many layers by themselves. */
function leastLength(problem: Problem, lanes: readonly Lane[]): number {
  const bounds = [lanes, ...([1, 2] as const).map((n) => lanes.filter(({ layers }) => layers === n))].map(
    (some) => {
      if (some.length === 0) return 0;
      const ids = new Set(some.map(({ id }) => id));
      const items = problem.items.filter(({ containers }) =>
        (containers ?? [...ids]).every((id) => ids.has(id)),
      );
      const width = some.reduce((sum, { from, to }) => sum + to - from, 0);
      const strip = { kind: 'strip', id: 'all', width } as const;
      return lengthBound({ ...problem, containers: [strip], items }).length;
    },
  );
  return Math.max(...bounds);
}
