import { normaliseDegrees } from '../geometry/transforms.ts';
import type { Pose } from '../packing/types.ts';
import type { ClothRules, Demand, Half } from './types.ts';

/** Angles closer than this count as equal: drawn grain lines are rarely exact to more. Degrees. */
export const ANGLE_TOLERANCE_DEG = 0.5;
/** Rotations within this of a quarter turn are made exact, so that outlines keep their coordinates. Degrees. */
const QUARTER_SNAP_DEG = 1e-9;

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

/** Whether a line (not a direction) in the piece lies along the cloth in this pose. */
export function liesAlong(lineDeg: number, pose: Pose): boolean {
  const on = directionOnCloth(lineDeg, pose) % 180;
  return Math.min(on, 180 - on) <= ANGLE_TOLERANCE_DEG;
}

/**
 * The turns a piece of one hand may take on a cloth.
 *
 * A print with an up decides alone: the top points there. Nap lets one of the two grain-wise turns stand, the
 * one whose top points away from the cut end. Otherwise grain and the cloth's freedom decide.
 */
export function admissiblePoses(
  demand: Pick<Demand, 'grainDeg' | 'topDeg'>,
  rules: ClothRules,
  mirrored: boolean,
): readonly Pose[] {
  const pose = (rotation: number): Pose => ({ rotation: snapDegrees(rotation), mirrored });
  const flipped = (deg: number): number => (mirrored ? 180 - deg : deg);
  if (rules.upDeg !== null) return [pose(rules.upDeg - flipped(demand.topDeg))];
  const along = -flipped(demand.grainDeg);
  if (rules.oneWay) {
    if (rules.turn !== 'grain') return [pose(-flipped(demand.topDeg))];
    const both = [pose(along), pose(along + 180)];
    const away = both.filter(
      (p) => angleBetween(directionOnCloth(demand.topDeg, p), 0) < 90 - ANGLE_TOLERANCE_DEG,
    );
    // A top that lies across the grain points neither way: its left-hand turn stands for all copies.
    return away.length > 0
      ? away.slice(0, 1)
      : both.filter((p) => angleBetween(directionOnCloth(demand.topDeg, p), 90) < 90).slice(0, 1);
  }
  const turns = rules.turn === 'grain' ? [0, 180] : [0, 90, 180, 270];
  return turns.map((turn) => pose(along + turn));
}

/**
 * The poses in which a half piece lies with its fold edge on the fold (y = 0) and its body above. There are two
 * ways, end for end, of which the second lays the half face down: on a fold that gives the same whole piece.
 */
export function foldPoses(half: Half, demand: Pick<Demand, 'topDeg'>, rules: ClothRules): readonly Pose[] {
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
  if (rules.oneWay) {
    const away = both.filter(
      (p) => angleBetween(directionOnCloth(demand.topDeg, p), 0) < 90 - ANGLE_TOLERANCE_DEG,
    );
    return away.length > 0 ? away.slice(0, 1) : both.slice(0, 1);
  }
  return both;
}
