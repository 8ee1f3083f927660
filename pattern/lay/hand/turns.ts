import type { Pose } from '../../../nesting/index.ts';
import { type CopyId, type HandLay, placementOf, posesOf } from './handLay.ts';

/** A piece that may lie at any angle catches on multiples of this, in degrees … */
const CATCH_EVERY = 15;
/** … and, turned finely, only within this of one that it may lie at anyway. */
const CATCH_FINELY = 2;
/** As fine as a hand turns. */
const FINEST = 0.5;

/** How a copy may be turned by hand, its hand kept. */
export interface Turns {
  /** More than one way to lie. */
  readonly canTurn: boolean;
  /** Angles between those: any, or off the grain within what the cloth allows. */
  readonly canTurnFinely: boolean;
}

/** How a copy may be turned where it lies, in the hand it has. */
export function turnsOf(hand: HandLay, id: CopyId): Turns {
  const { poses, anyAngle } = sameHand(hand, id);
  const canTurnFinely = anyAngle || poses.some(({ tilt = 0 }) => tilt > 0);
  return { canTurn: canTurnFinely || poses.length > 1, canTurnFinely };
}

/**
 * The pose a copy takes if it is wanted at an angle (degrees, counter-clockwise): the nearest its cloth allows.
 * @param finely whether angles between the usual ones are meant: any angle, or off the grain within its tolerance
 */
export function turnNear(hand: HandLay, id: CopyId, rotation: number, finely: boolean): Pose {
  const { poses, anyAngle, mirrored } = sameHand(hand, id);
  const nearest = poses.reduce(
    (best, pose) =>
      Math.abs(between(pose.rotation, rotation)) < Math.abs(between(best.rotation, rotation)) ? pose : best,
    poses[0] ?? { rotation, mirrored },
  );
  const off = between(nearest.rotation, rotation);
  const turned = (degrees: number): Pose => ({ rotation: ((degrees % 360) + 360) % 360, mirrored });
  if (anyAngle) {
    if (!finely) {
      const even = Math.round(rotation / CATCH_EVERY) * CATCH_EVERY;
      return turned(Math.abs(off) < Math.abs(between(even, rotation)) ? nearest.rotation : even);
    }
    return turned(Math.abs(off) <= CATCH_FINELY ? nearest.rotation : Math.round(rotation / FINEST) * FINEST);
  }
  const { tilt = 0 } = nearest;
  if (!finely || tilt === 0) return turned(nearest.rotation);
  return turned(nearest.rotation + Math.max(-tilt, Math.min(tilt, Math.round(off / FINEST) * FINEST)));
}

/** The pose a step of a degree further, or back: as far as the cloth lets it, past what it would catch on. */
export function finelyTurned(hand: HandLay, id: CopyId, from: number, by: 1 | -1): Pose {
  const { anyAngle, mirrored } = sameHand(hand, id);
  if (anyAngle) return { rotation: (from + by + 360) % 360, mirrored };
  return turnNear(hand, id, from + by, true);
}

function sameHand(hand: HandLay, id: CopyId) {
  const mirrored = placementOf(hand, id)?.mirrored ?? false;
  const { poses, anyAngle } = posesOf(hand, id);
  return { poses: poses.filter((pose) => pose.mirrored === mirrored), anyAngle, mirrored };
}

/** From one angle to another the shorter way round, in degrees above −180 and up to 180. */
function between(from: number, to: number): number {
  const rest = (((to - from) % 360) + 360) % 360;
  return rest > 180 ? rest - 360 : rest;
}
