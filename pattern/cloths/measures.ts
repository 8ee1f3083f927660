import type { Cloth, Remnant, Roll, Spread } from '../exchange/project.ts';

/** What is left of a cloth to lay on: after washing, without its edges and ends. */

/** What of a length and of a width is left after washing, 0 … 1. */
export function washed(cloth: Pick<Cloth, 'shrinkAlongPercent' | 'shrinkAcrossPercent'>): {
  readonly along: number;
  readonly across: number;
} {
  return { along: 1 - cloth.shrinkAlongPercent / 100, across: 1 - cloth.shrinkAcrossPercent / 100 };
}

/** What is lost along each selvedge before washing, margin apart. */
export function edgeLossMm(roll: Pick<Roll, 'widthMm' | 'usableWidthMm' | 'selvedgeMm'>): number {
  return roll.usableWidthMm === null ? roll.selvedgeMm : Math.max(0, (roll.widthMm - roll.usableWidthMm) / 2);
}

/** Washed length that goes beside what the pieces take: squaring both ends, and the margin at both. */
export function endLossMm(roll: Roll): number {
  return roll.squaringMm + roll.squaringEndMm + 2 * roll.edgeMarginMm;
}

/**
 * What is bought of a roll beyond a length that is needed, for safety: its share of that length and the length it names,
 * as far as there is any; mm. 0 where nothing is needed.
 */
export function reserveOf(
  roll: Pick<Roll, 'reservePercent' | 'reserveMm' | 'availableMm'>,
  neededMm: number,
): number {
  if (neededMm <= 0) return 0;
  const wanted = (neededMm * roll.reservePercent) / 100 + roll.reserveMm;
  const left = roll.availableMm === null ? wanted : Math.max(0, roll.availableMm - neededMm);
  return Math.min(wanted, left);
}

/** A ring on a remnant as it lies after washing. */
export function washedRing(
  cloth: Pick<Cloth, 'shrinkAlongPercent' | 'shrinkAcrossPercent'>,
  ring: Remnant['outline'],
): Remnant['outline'] {
  const { along, across } = washed(cloth);
  return along === 1 && across === 1 ? ring : ring.map(([x, y]) => [x * along, y * across] as const);
}

/** How many times a stretch's length is taken from the roll: folded crosswise, the cloth lies there twice. */
export const lengthsTaken = (spread: Spread): 1 | 2 =>
  spread === 'crosswise' || spread === 'turned' ? 2 : 1;
