import { normaliseDegrees } from '../geometry/transforms.ts';
import type { Pose } from '../packing/types.ts';
import type { ClothRules, Demand, Half, Turn } from './types.ts';

/** Angles closer than this count as equal: drawn grain lines are rarely exact to more. Degrees. */
export const ANGLE_TOLERANCE_DEG = 0.5;
/** Rotations within this of a quarter turn are made exact, so that outlines keep their coordinates. Degrees. */
const QUARTER_SNAP_DEG = 1e-9;

/** Directions on the cloth in which a grain line may point, by the rule for it. A line points both ways. */
const GRAIN_DIRECTIONS: Readonly<Record<Turn, readonly number[]>> = {
  grain: [0, 180],
  cross: [90, 270],
  bias: [45, 135, 225, 315],
  biasLeft: [45, 225],
  biasRight: [135, 315],
  quarter: [0, 90, 180, 270],
  free: [0, 90, 180, 270],
};

/** `degrees` in [0, 360), quarter turns exact: a grain line of 89.999 999 999 9° was drawn upright. */
export function snapDegrees(degrees: number): number {
  const turned = normaliseDegrees(degrees);
  const quarter = Math.round(turned / 90) * 90;
  return Math.abs(turned - quarter) <= QUARTER_SNAP_DEG ? quarter % 360 : turned;
}

/** Smallest difference between two directions, 0 … 180 degrees. */
export function angleBetween(a: number, b: number): number {
  const difference = normaliseDegrees(a - b);
  return Math.min(difference, 360 - difference);
}

/** A direction of the piece after mirroring (x → −x) and turning. */
export function directionOnCloth(directionDeg: number, pose: Pose): number {
  return snapDegrees((pose.mirrored ? 180 - directionDeg : directionDeg) + pose.rotation);
}

type Directions = Pick<Demand, 'grainDeg' | 'topDeg' | 'turn'>;

/** The rule for a piece's grain line: its own, unless the cloth has no grain at all. */
export function turnOf({ turn }: Pick<Demand, 'turn'>, rules: ClothRules): Turn {
  return turn === undefined || rules.turn === 'free' ? rules.turn : turn;
}

/** Whether a piece may lie at any angle. */
export function turnsFreely(demand: Pick<Demand, 'turn'>, rules: ClothRules): boolean {
  return turnOf(demand, rules) === 'free' && rules.nap === 'none' && rules.upDeg === null;
}

/** Whether the grain line lies as the rule for it asks in this pose, which a print's up may have overruled. */
export function keepsGrain(demand: Directions, rules: ClothRules, pose: Pose): boolean {
  const on = directionOnCloth(demand.grainDeg, pose) - (rules.skewDeg ?? 0);
  const turn = turnOf(demand, rules);
  return (
    turn === 'free' || GRAIN_DIRECTIONS[turn].some((deg) => angleBetween(deg, on) <= ANGLE_TOLERANCE_DEG)
  );
}

/**
 * The turns a piece of one hand may take on a cloth, each with the tilt off the grain that is allowed.
 *
 * A print with an up decides alone: the top points there, except that what is to lie on the bias does. Nap leaves the
 * grain-wise turns whose top points along the cloth, away from the cut end. Otherwise the grain decides. Where the print
 * runs off the grain all of that is turned with the print.
 */
export function admissiblePoses(demand: Directions, rules: ClothRules, mirrored: boolean): readonly Pose[] {
  const turn = turnOf(demand, rules);
  const tilt = turn === 'free' ? 0 : rules.tiltDeg;
  const skew = rules.skewDeg ?? 0;
  const pose = (rotation: number): Pose => ({
    rotation: snapDegrees(rotation),
    mirrored,
    ...(tilt > 0 ? { tilt } : {}),
  });
  const flipped = (deg: number): number => (mirrored ? 180 - deg : deg);
  const onBias = turn === 'bias' || turn === 'biasLeft' || turn === 'biasRight';
  const withTopAt = (deg: number): Pose => pose(deg + skew - flipped(demand.topDeg));
  const byGrain = GRAIN_DIRECTIONS[turn].map((deg) => pose(deg + skew - flipped(demand.grainDeg)));
  if (rules.upDeg !== null) {
    return onBias ? pointing(demand, byGrain, rules.upDeg + skew) : [withTopAt(rules.upDeg)];
  }
  const anyQuarter = turn === 'quarter' || turn === 'free';
  switch (rules.nap) {
    case 'none':
      return byGrain;
    case 'twoWay':
      return anyQuarter ? [withTopAt(0), withTopAt(180)] : byGrain;
    case 'oneWay':
    case 'upAndDown':
      return anyQuarter ? [withTopAt(0)] : pointing(demand, byGrain, skew);
  }
}

/**
 * Those of `poses` in which the top points to the side of `deg`. A top that lies square to it in all of them points
 * neither way: its turn to the left of `deg` stands for all copies.
 */
function pointing(demand: Directions, poses: readonly Pose[], deg: number): readonly Pose[] {
  const near = (p: Pose, to: number): number => angleBetween(directionOnCloth(demand.topDeg, p), to);
  const there = poses.filter((p) => near(p, deg) < 90 - ANGLE_TOLERANCE_DEG);
  if (there.length > 0) {
    // A top that leans both ways (on the bias) may do so to either side, but the nearer ones come first and alone.
    const nearest = Math.min(...there.map((p) => near(p, deg)));
    return there.filter((p) => near(p, deg) <= nearest + ANGLE_TOLERANCE_DEG);
  }
  return poses.filter((p) => near(p, deg + 90) < 90).slice(0, 1);
}

/** A pose turned end for end, as all pieces of a set are whose nap points back to the cut end. */
export function endForEnd(pose: Pose): Pose {
  return { ...pose, rotation: snapDegrees(pose.rotation + 180) };
}

/**
 * The poses in which a half piece lies with its fold edge on the fold (y = 0) and its body above. There are two
 * ways, end for end, of which the second lays the half face down: on a fold that gives the same whole piece. With nap
 * the top points along the cloth, to `napDeg`.
 */
export function foldPoses(
  half: Half,
  demand: Pick<Demand, 'topDeg'>,
  rules: ClothRules,
  napDeg: 0 | 180 = 0,
): readonly Pose[] {
  const [[ax, ay], [bx, by]] = half.fold;
  const toDeg = 180 / Math.PI;
  // The body lies to the left of the boundary's direction; mirrored, it runs the other way round.
  const plain: Pose = { rotation: snapDegrees(-Math.atan2(by - ay, bx - ax) * toDeg), mirrored: false };
  const mirrored: Pose = { rotation: snapDegrees(-Math.atan2(ay - by, bx - ax) * toDeg), mirrored: true };
  const both = [plain, mirrored];
  if (rules.upDeg !== null) {
    const up = rules.upDeg;
    return both.filter((p) => angleBetween(directionOnCloth(demand.topDeg, p), up) <= ANGLE_TOLERANCE_DEG);
  }
  if (rules.nap === 'oneWay' || rules.nap === 'upAndDown') {
    const away = both.filter(
      (p) => angleBetween(directionOnCloth(demand.topDeg, p), napDeg) < 90 - ANGLE_TOLERANCE_DEG,
    );
    return away.length > 0 ? away.slice(0, 1) : both.slice(0, 1);
  }
  return both;
}
