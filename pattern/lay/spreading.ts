import { type Spread, type Spreading, spreadOnRemnant, spreadOnRoll } from '../../nesting/cloth/index.ts';
import { offsetRing } from '../../nesting/geometry/offset.ts';
import type { Cloth } from '../exchange/project.ts';
import { remnantCloth, rollCloth } from './clothRules.ts';
import type { CutDemand } from './demands.ts';

/**
 * The packing problems that a cloth, spread one way, makes of demands: what a lay searches, and what a lay that is
 * changed by hand is held against. Null where selvedges and margins leave no usable cloth. Asking for a spread that
 * the cloth must not have is a mistake: it throws a `RangeError`.
 */
export function spreadingOf(cloth: Cloth, demands: readonly CutDemand[], spread: Spread): Spreading | null {
  const wanted = demands.map(({ demand }) => demand);
  if (cloth.kind === 'remnant') {
    const usable = remnantCloth(
      cloth,
      (ring, by) => offsetRing(ring, -by, { join: 'miter', miterLimit: 2 })[0] ?? [],
    );
    return usable.outline.length < 3 ? null : spreadOnRemnant(usable, wanted);
  }
  const usable = rollCloth(cloth);
  if (usable.width <= 0 || (spread === 'folded' && (usable.foldedDepth ?? 0) <= 0)) return null;
  return spreadOnRoll(usable, wanted, spread);
}
