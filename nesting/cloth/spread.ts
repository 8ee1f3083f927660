import { convexHull, leastWidth } from '../geometry/convexHull.ts';
import { turnBy } from '../geometry/transforms.ts';
import { lengthBound } from '../packing/lengthBound.ts';
import type { Item, Outline, Pose, Problem } from '../packing/types.ts';
import { ANGLE_TOLERANCE_DEG, admissiblePoses, angleBetween, foldPoses, liesAlong } from './poses.ts';
import type {
  ClothRules,
  Demand,
  Hand,
  ItemMeaning,
  Refusal,
  Remark,
  RemnantCloth,
  RollCloth,
  Spread,
} from './types.ts';

/** One stretch of cloth, spread one way, with the packing problem that fills it. */
export interface Stretch {
  readonly spread: Spread;
  readonly problem: Problem;
  readonly meanings: readonly ItemMeaning[];
  /** No layout of this stretch can be shorter, in mm; 0 for a remnant. */
  readonly leastLength: number;
}

export interface Spreading {
  /** In the order in which the cloth is cut: doubled first, then opened out. Empty stretches are left out. */
  readonly stretches: readonly Stretch[];
  readonly refusals: readonly Refusal[];
  readonly remarks: readonly Remark[];
}

/** Slack when a width is compared with the cloth's: sums of decimal measures miss by rounding. Millimetres. */
const WIDTH_SLACK_MM = 1e-6;

/**
 * Why this roll may not be folded lengthwise; null if it may. On a folded cloth the upper layer's print runs the
 * other way across, so a print whose up points across the cloth would stand on its head there.
 */
export function whyNotFolded(roll: RollCloth): 'notFoldable' | 'printAcross' | null {
  if (roll.foldedDepth === null) return 'notFoldable';
  const up = roll.rules.upDeg;
  if (up !== null && Math.min(angleBetween(up, 0), angleBetween(up, 180)) > ANGLE_TOLERANCE_DEG)
    return 'printAcross';
  return null;
}

/** Packing problems for a roll. Asking for `folded` where `whyNotFolded` has a reason is a mistake: it throws. */
export function spreadOnRoll(roll: RollCloth, demands: readonly Demand[], spread: Spread): Spreading {
  const gathered = new Gathered();
  let open = demands;
  if (spread === 'folded') {
    const reason = whyNotFolded(roll);
    if (reason !== null) throw new RangeError(`roll ${roll.id} cannot be folded: ${reason}`);
    open = demands.flatMap((demand) => gathered.foldedItems(demand, roll));
  }
  for (const demand of open) gathered.singleItems(demand, roll.rules, roll.width);
  const strip = (kind: Spread, width: number): Stretch[] => {
    const { items, meanings } = gathered[kind];
    if (items.length === 0) return [];
    const container = { kind: 'strip', id: roll.id, width } as const;
    const problem = { name: `${roll.id} ${kind}`, containers: [container], items, gap: roll.rules.gap };
    return [{ spread: kind, problem, meanings, leastLength: lengthBound(problem).length }];
  };
  return {
    stretches: [...strip('folded', roll.foldedDepth ?? 0), ...strip('single', roll.width)],
    refusals: gathered.refusals,
    remarks: gathered.remarks,
  };
}

/** The packing problem for a remnant, spread singly. What has no place on it the search finds out. */
export function spreadOnRemnant(remnant: RemnantCloth, demands: readonly Demand[]): Spreading {
  const gathered = new Gathered();
  for (const demand of demands) gathered.singleItems(demand, remnant.rules, Infinity);
  const { items, meanings } = gathered.single;
  if (items.length === 0) return { stretches: [], refusals: [], remarks: [] };
  const { id, outline, flaws, rules } = remnant;
  const container = { kind: 'sheet', id, quantity: 1, outline, blocked: flaws } as const;
  // What a remnant can't hold goes to other cloth, so its share is wanted even where not all can fit.
  const problem = { name: id, containers: [container], items, gap: rules.gap, bestSubset: true };
  return {
    stretches: [{ spread: 'single', problem, meanings, leastLength: 0 }],
    refusals: gathered.refusals,
    remarks: gathered.remarks,
  };
}

/** Whether the mirror image of a demand can be laid as the piece itself within the rules: hands do not matter. */
export function isOwnMirrorImage(demand: Demand, rules: ClothRules): boolean {
  if (turnsFreely(rules)) return demand.mirrorTurns.length > 0;
  const plain = admissiblePoses(demand, rules, false);
  const mirrored = admissiblePoses(demand, rules, true);
  // Mirrored and turned by t the piece is as drawn, so mirrored at r it lies as the plain piece at r − t.
  return demand.mirrorTurns.some((turn) =>
    mirrored.some((m) =>
      plain.some((p) => angleBetween(m.rotation - turn, p.rotation) <= ANGLE_TOLERANCE_DEG),
    ),
  );
}

function turnsFreely(rules: ClothRules): boolean {
  return rules.turn === 'free' && !rules.oneWay && rules.upDeg === null;
}

/** Collects the items of both kinds of stretch while the demands are gone through. */
class Gathered {
  readonly single: { items: Item[]; meanings: ItemMeaning[] } = { items: [], meanings: [] };
  readonly folded: { items: Item[]; meanings: ItemMeaning[] } = { items: [], meanings: [] };
  readonly refusals: Refusal[] = [];
  readonly remarks: Remark[] = [];

  private add(
    spread: Spread,
    demand: Demand,
    hand: Hand,
    quantity: number,
    poses: readonly Pose[],
    freely: boolean,
  ): void {
    if (quantity === 0) return;
    const id = `${demand.id}:${hand}`;
    const outline = hand === 'fold' && demand.half ? demand.half.outline : demand.outline;
    const item: Item = {
      id,
      outline,
      quantity,
      poses,
      ...(freely ? { anyAngle: true } : {}),
      ...(hand === 'fold' ? { onFold: true } : {}),
    };
    this[spread].items.push(item);
    this[spread].meanings.push({ item: id, demand: demand.id, hand });
  }

  /** Puts what can be cut doubled on the folded stretch; returns what is left for the single layer. */
  foldedItems(demand: Demand, roll: RollCloth): Demand[] {
    const { rules } = roll;
    const depth = roll.foldedDepth ?? 0;
    const total = demand.plain + demand.mirrored;
    if (demand.half) {
      const all = foldPoses(demand.half, demand, rules);
      const poses = rules.turn === 'grain' ? all.filter((pose) => liesAlong(demand.grainDeg, pose)) : all;
      if (poses.length === 0) {
        this.remarks.push({ demand: demand.id, kind: 'foldOffGrain' });
        return [demand];
      }
      if (smallestWidth(demand.half.outline, poses) > depth + WIDTH_SLACK_MM) return [demand];
      this.add('folded', demand, 'fold', total, poses, false);
      return [];
    }
    const freely = turnsFreely(rules);
    // Whichever way up the paper lies on doubled cloth, one layer gives the plain piece, the other the mirrored.
    const poses = [...admissiblePoses(demand, rules, false), ...admissiblePoses(demand, rules, true)];
    const width = freely
      ? leastWidth(convexHull(demand.outline)).width
      : smallestWidth(demand.outline, poses);
    if (width > depth + WIDTH_SLACK_MM) return [demand];
    const handless = rules.reversible || isOwnMirrorImage(demand, rules);
    const pairs = handless ? Math.floor(total / 2) : Math.min(demand.plain, demand.mirrored);
    this.add('folded', demand, 'pair', pairs, poses, freely);
    const rest = handless
      ? { plain: total - 2 * pairs, mirrored: 0 }
      : { plain: demand.plain - pairs, mirrored: demand.mirrored - pairs };
    return rest.plain + rest.mirrored > 0 ? [{ ...demand, ...rest }] : [];
  }

  /** Puts a demand on the single layer, unless it is wider than the cloth in every admissible pose. */
  singleItems(demand: Demand, rules: ClothRules, clothWidth: number): void {
    const freely = turnsFreely(rules);
    const plain = admissiblePoses(demand, rules, false);
    const mirrored = admissiblePoses(demand, rules, true);
    const { id } = demand;
    const width = freely
      ? leastWidth(convexHull(demand.outline)).width
      : smallestWidth(demand.outline, plain);
    if (width > clothWidth + WIDTH_SLACK_MM) {
      this.refusals.push({
        demand: id,
        plain: demand.plain,
        mirrored: demand.mirrored,
        needs: width,
        has: clothWidth,
      });
      return;
    }
    if (rules.turn === 'grain' && plain.some((pose) => !liesAlong(demand.grainDeg, pose))) {
      this.remarks.push({ demand: id, kind: 'grainAcross' });
    }
    if (demand.half || isOwnMirrorImage(demand, rules)) {
      this.add('single', demand, 'either', demand.plain + demand.mirrored, plain, freely);
    } else if (rules.reversible) {
      this.add('single', demand, 'either', demand.plain + demand.mirrored, [...plain, ...mirrored], freely);
    } else {
      this.add('single', demand, 'plain', demand.plain, plain, freely);
      this.add('single', demand, 'mirrored', demand.mirrored, mirrored, freely);
    }
  }
}

/** Smallest extent across the cloth over `poses`, in mm. */
function smallestWidth(outline: Outline, poses: readonly Pose[]): number {
  let smallest = Infinity;
  for (const { rotation, mirrored } of poses) {
    const { sin, cos } = turnBy(rotation);
    let low = Infinity;
    let high = -Infinity;
    for (const [x, y] of outline) {
      const across = (mirrored ? -x : x) * sin + y * cos;
      low = Math.min(low, across);
      high = Math.max(high, across);
    }
    smallest = Math.min(smallest, high - low);
  }
  return smallest;
}
