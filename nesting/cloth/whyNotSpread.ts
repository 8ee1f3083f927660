import { ANGLE_TOLERANCE_DEG, angleBetween } from './poses.ts';
import type { RollCloth, Spread } from './types.ts';

/**
 * Why a cloth may not be spread in some way: it is not to be folded; its print would stand on its head in the upper
 * layer, or its nap run the other way; an uneven plaid would not meet itself; motifs or bars of the lower layer can't be
 * seen; a border or a print off the grain runs another way in the upper layer; nobody can tell where flaws come to lie.
 */
export type WhyNot =
  | 'notFoldable'
  | 'printAcross'
  | 'napTurned'
  | 'printTurned'
  | 'unevenBars'
  | 'motifHidden'
  | 'matchHidden'
  | 'borderHidden'
  | 'skewed'
  | 'flawsHidden'
  | 'tooNarrow'
  | 'notNeeded';

/**
 * Why this roll may not be spread so; null if it may.
 *
 * Folded lengthwise, the upper layer's print runs the other way across; folded crosswise, the other way along, until the
 * fold is cut and the upper layer is turned end for end, which makes it the first again.
 */
export function whyNotSpread(roll: RollCloth, spread: Spread): WhyNot | null {
  if (spread === 'single') return null;
  if (!roll.foldable) return 'notFoldable';
  const { look, rules } = roll;
  if (look.hasMotif) return 'motifHidden';
  if (look.bars === 'uneven') return 'unevenBars';
  if (look.isMatched) return 'matchHidden';
  if (look.isOnBorder || roll.border?.field) return 'borderHidden';
  if (rules.skewDeg) return 'skewed';
  const up = rules.upDeg;
  const runs = (deg: number): boolean =>
    up !== null && Math.min(angleBetween(up, deg), angleBetween(up, deg + 180)) <= ANGLE_TOLERANCE_DEG;
  if (spread === 'crosswise') {
    if (runs(0)) return 'printTurned';
    if (up === null && (rules.nap === 'oneWay' || rules.nap === 'upAndDown')) return 'napTurned';
  } else if (runs(90)) return 'printAcross';
  if ((spread === 'crosswise' || spread === 'turned') && roll.flaws.length > 0) return 'flawsHidden';
  const quarter = roll.wholeWidth / 4 - Math.max(roll.edge, rules.gap / 2);
  if ((spread === 'middle' && quarter <= 0) || roll.wholeWidth / 2 - roll.edge <= 0) return 'tooNarrow';
  return null;
}

/**
 * The way round, where a spread is refused: for a crosswise fold, cutting the fold and turning one layer. Null where
 * there is none but the single layer.
 */
export function wayRound(roll: RollCloth, spread: Spread): Spread | null {
  const why = whyNotSpread(roll, spread);
  if (spread !== 'crosswise' || (why !== 'napTurned' && why !== 'printTurned')) return null;
  return whyNotSpread(roll, 'turned') === null ? 'turned' : null;
}
