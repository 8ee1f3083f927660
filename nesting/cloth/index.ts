/** Grain, nap, print, fold, sides and gap: demands on a cloth become anonymous packing problems. */
export { admissiblePoses, angleBetween, directionOnCloth, foldPoses, snapDegrees } from './poses.ts';
export {
  isOwnMirrorImage,
  type Spreading,
  type Stretch,
  spreadOnRemnant,
  spreadOnRoll,
  whyNotFolded,
} from './spread.ts';
export type * from './types.ts';
