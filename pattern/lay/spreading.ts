import {
  type Arrangement,
  alternatives,
  type RollCloth,
  type Spread,
  type Spreading,
  spreadOnRemnant,
  spreadOnRoll,
} from '../../nesting/cloth/index.ts';
import { offsetRing } from '../../nesting/geometry/offset.ts';
import type { Cloth, Roll } from '../exchange/project.ts';
import { hasUsableWidth, remnantCloth, rollCloth } from './clothRules.ts';
import type { CutDemand } from './demands.ts';

/** What is known of a spread before it is packed, or while it is. */
export interface SpreadingOptions {
  /** As a lay keeps it; the spread's usual way where it is missing. */
  readonly arrangement?: Arrangement | undefined;
  /** Washed length that lies before the last stretch: on a roll with flaws it tells where they come to lie there. */
  readonly startMm?: number;
}

/**
 * The packing problems that a cloth, spread one way, makes of demands: what a lay searches, and what a lay that is
 * changed by hand is held against. Null where selvedges and margins leave no usable cloth. Asking for a spread that
 * the cloth must not have is a mistake: it throws a `RangeError`.
 */
export function spreadingOf(
  cloth: Cloth,
  demands: readonly CutDemand[],
  spread: Spread,
  { arrangement = {}, startMm = 0 }: SpreadingOptions = {},
): Spreading | null {
  const wanted = demands.map(({ demand }) => demand);
  if (cloth.kind === 'remnant') {
    const usable = remnantCloth(
      cloth,
      (ring, by) => offsetRing(ring, -by, { join: 'miter', miterLimit: 2 })[0] ?? [],
    );
    return usable.outline.length < 3 ? null : spreadOnRemnant(usable, wanted, arrangement);
  }
  const usable = usableRoll(cloth, demands);
  return hasUsableWidth(usable) ? spreadOnRoll(usable, wanted, spread, arrangement, startMm) : null;
}

/** The roll as it counts for packing these demands. */
export function usableRoll(roll: Roll, demands: readonly CutDemand[]): RollCloth {
  return rollCloth(roll, {
    hasMotif: demands.some(({ piece }) => piece.motif !== undefined),
    isOnBorder: demands.some(({ demand }) => demand.onBorder !== undefined),
    isMatched: demands.some(({ demand, piece }) => demand.anchor !== undefined && piece.motif === undefined),
  });
}

/** The ways to use a spread of a roll, the usual one first. */
export function arrangementsOf(
  roll: Roll,
  demands: readonly CutDemand[],
  spread: Spread,
): readonly Arrangement[] {
  return alternatives(
    usableRoll(roll, demands),
    demands.map(({ demand }) => demand),
    spread,
  );
}
