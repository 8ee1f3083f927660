/** Grain, nap, print, fold, sides and gap: demands on a cloth become anonymous packing problems. */
export { alternatives } from './alternatives.ts';
export { isOwnMirrorImage } from './doubling.ts';
export type { Stretch } from './gathered.ts';
export {
  type Lane,
  lengthsOfCloth,
  onLane,
  onStretch,
  type StretchSpread,
  usableWidth,
} from './layers.ts';
export { admissiblePoses, angleBetween, directionOnCloth, foldPoses, snapDegrees } from './poses.ts';
export { hasChoiceOfGrain, type Spreading, spreadOnRemnant, spreadOnRoll } from './spread.ts';
export type * from './types.ts';
export { type WhyNot, wayRound, whyNotSpread } from './whyNotSpread.ts';
export { withoutPlace } from './withoutPlace.ts';
