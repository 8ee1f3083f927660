import { convexHull, leastWidth } from '../geometry/convexHull.ts';
import { turnBy } from '../geometry/transforms.ts';
import type { Outline, Pose } from '../packing/types.ts';
import type { Lane } from './layers.ts';
import {
  ANGLE_TOLERANCE_DEG,
  admissiblePoses,
  angleBetween,
  foldPoses,
  keepsGrain,
  snapDegrees,
  turnOf,
  turnsFreely,
} from './poses.ts';
import type { ClothRules, Demand, Doubled, Remark } from './types.ts';

/** Slack when a width is compared with the cloth's: sums of decimal measures miss by rounding. Millimetres. */
export const WIDTH_SLACK_MM = 1e-6;

/** The most doubled placements that a stretch allows a demand; why not more, where that may surprise. */
export interface MostDoubled {
  /** Whole copies from the half on the fold. */
  readonly fold: number;
  /** Doubled placements of the whole piece, if none lies on the fold. */
  readonly pairs: number;
  /** Do two copies of one hand count as a pair? */
  readonly isHandless: boolean;
  readonly remark?: Remark['kind'];
}

/** Into how many sets the copies of a demand divide that may point either way, each set its own. */
export function setsOf({ sets = 1, plain, mirrored }: Demand, rules: ClothRules): number {
  const counts =
    rules.nap === 'upAndDown' && rules.upDeg === null && plain % sets === 0 && mirrored % sets === 0;
  return counts ? sets : 1;
}

/** How much of a demand can be cut doubled on these lanes. */
export function mostDoubled(demand: Demand, rules: ClothRules, lanes: readonly Lane[]): MostDoubled {
  const doubled = lanes.filter(({ layers }) => layers === 2);
  const sets = setsOf(demand, rules);
  const total = demand.plain + demand.mirrored;
  const turn = turnOf(demand, rules);
  const isHandless = rules.reversible || isOwnMirrorImage(demand, rules);
  // The upper layer is the mirror image: what rises to the left on one layer rises to the right on the other.
  if (turn === 'biasLeft' || turn === 'biasRight') {
    return { fold: 0, pairs: 0, isHandless, ...(total > 1 ? { remark: 'oneHandBias' as const } : {}) };
  }
  const fitsWhole = hasRoom(wholeWidth(demand, rules), doubled);
  const perSet = { plain: demand.plain / sets, mirrored: demand.mirrored / sets };
  const pairsPerSet = isHandless ? Math.floor(total / sets / 2) : Math.min(perSet.plain, perSet.mirrored);
  const pairs = fitsWhole ? sets * pairsPerSet : 0;
  if (!demand.half) return { fold: 0, pairs, isHandless };
  const folds = doubled.filter(({ fold }) => fold !== 'none');
  if (folds.length === 0) {
    return { fold: 0, pairs, isHandless, ...(lanes.length > 1 ? { remark: 'foldFaded' as const } : {}) };
  }
  const poses = posesOnFold(demand, rules, isAcross(folds));
  if (poses.length === 0) return { fold: 0, pairs, isHandless, remark: 'foldOffGrain' };
  return { fold: hasRoom(smallestWidth(demand.half.outline, poses), folds) ? total : 0, pairs, isHandless };
}

/** Whether the fold of these lanes runs across the cloth. */
export const isAcross = (lanes: readonly Lane[]): boolean => lanes.some(({ fold }) => fold === 'end');

/**
 * The poses of a demand's half on the fold that keep the grain; none where its fold edge runs off the grain. On a fold
 * across the cloth the fold edge stands at x = 0 with the body behind it, else it lies at y = 0 with the body above.
 */
export function posesOnFold(
  demand: Demand,
  rules: ClothRules,
  across: boolean,
  napDeg: 0 | 180 = 0,
): readonly Pose[] {
  if (!demand.half) return [];
  const turn = turnOf(demand, rules);
  // A quarter turn brings the one kind of fold onto the other: the print's up is asked for turned back by it.
  const asked = across && rules.upDeg !== null ? { ...rules, upDeg: rules.upDeg + 90 } : rules;
  const all = foldPoses(demand.half, demand, asked, napDeg).map(
    (pose): Pose => (across ? { ...pose, rotation: snapDegrees(pose.rotation - 90) } : pose),
  );
  return turn === 'quarter' || turn === 'free' ? all : all.filter((pose) => keepsGrain(demand, rules, pose));
}

/** What is doubled unless it is said otherwise: halves on the fold, then as many pairs as there are. */
export function usualDoubling(demand: Demand, rules: ClothRules, lanes: readonly Lane[]): Doubled {
  const most = mostDoubled(demand, rules, lanes);
  return { id: demand.id, fold: most.fold, pairs: most.fold > 0 ? 0 : most.pairs };
}

/** Copies that so many doubled placements leave for a single layer. */
export function leftSingle(
  demand: Demand,
  { fold, pairs }: Pick<Doubled, 'fold' | 'pairs'>,
  isHandless: boolean,
): { plain: number; mirrored: number } {
  const left = { plain: demand.plain - fold, mirrored: demand.mirrored };
  for (let pair = 0; pair < pairs; pair++) {
    if (!isHandless || (left.plain > 0 && left.mirrored > 0)) {
      left.plain -= 1;
      left.mirrored -= 1;
    } else left[left.plain > 0 ? 'plain' : 'mirrored'] -= 2;
  }
  return left;
}

/** Whether the mirror image of a demand can be laid as the piece itself within the rules: hands do not matter. */
export function isOwnMirrorImage(demand: Demand, rules: ClothRules): boolean {
  if (turnsFreely(demand, rules)) return demand.mirrorTurns.length > 0;
  const plain = admissiblePoses(demand, rules, false);
  const mirrored = admissiblePoses(demand, rules, true);
  // Mirrored and turned by t the piece is as drawn, so mirrored at r it lies as the plain piece at r − t.
  return demand.mirrorTurns.some((turn) =>
    mirrored.some((m) =>
      plain.some((p) => angleBetween(m.rotation - turn, p.rotation) <= ANGLE_TOLERANCE_DEG),
    ),
  );
}

/** Least width across the cloth that the whole piece takes within the rules, in mm. */
export function wholeWidth(demand: Demand, rules: ClothRules): number {
  if (turnsFreely(demand, rules)) return leastWidth(convexHull(demand.outline)).width;
  const poses = [...admissiblePoses(demand, rules, false), ...admissiblePoses(demand, rules, true)];
  const tilt = turnOf(demand, rules) === 'free' ? 0 : rules.tiltDeg;
  if (tilt === 0) return smallestWidth(demand.outline, poses);
  // Within a tilt the width is smallest at one of its ends, or where an edge of the hull lies along the cloth.
  const tilted = poses.flatMap((pose) => [
    pose,
    ...tiltsWorthTrying(demand.outline, pose, tilt).map((by) => ({ ...pose, rotation: pose.rotation + by })),
  ]);
  return smallestWidth(demand.outline, tilted);
}

function tiltsWorthTrying(outline: Outline, { rotation, mirrored }: Pose, tilt: number): number[] {
  const hull = convexHull(outline);
  const level = hull.map(([x, y], i) => {
    const [u, v] = hull[(i + 1) % hull.length]!;
    const edge = (Math.atan2(v - y, mirrored ? x - u : u - x) * 180) / Math.PI + rotation;
    return -((((edge % 180) + 270) % 180) - 90);
  });
  return [-tilt, tilt, ...level.filter((by) => Math.abs(by) < tilt)];
}

function hasRoom(width: number, lanes: readonly Lane[]): boolean {
  return lanes.some(({ from, to }) => width <= to - from + WIDTH_SLACK_MM);
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

/** How far across the cloth the half of a demand reaches on the fold; null where it may not lie on it. */
export function foldWidth(demand: Demand, rules: ClothRules, across: boolean): number | null {
  const poses = posesOnFold(demand, rules, across);
  return demand.half && poses.length > 0 ? smallestWidth(demand.half.outline, poses) : null;
}
