import type { ClothRules, RemnantCloth, RollCloth } from '../../nesting/cloth/index.ts';
import type { Cloth, Remnant, Roll } from '../exchange/project.ts';

/** Where a print's up points, in degrees on the cloth (0 = along it, away from the cut end; left is +y). */
const UP_DEG = { none: null, away: 0, left: 90, back: 180, right: 270 } as const;

export function clothRules(cloth: Cloth): ClothRules {
  return {
    turn: cloth.turn,
    oneWay: cloth.nap === 'oneWay',
    upDeg: UP_DEG[cloth.printUp],
    reversible: cloth.reversible,
    gap: cloth.gapMm,
  };
}

/**
 * The roll as it counts for packing: selvedges and the margin beside them are off. The fold is not an edge, so
 * no margin is kept there. Widths may come out zero or negative; `usableWidthNotice` speaks of that.
 */
export function rollCloth(roll: Roll): RollCloth {
  const edge = roll.selvedgeMm + roll.edgeMarginMm;
  return {
    kind: 'roll',
    id: roll.id,
    width: roll.widthMm - 2 * edge,
    foldedDepth: roll.foldable ? roll.widthMm / 2 - edge : null,
    rules: clothRules(roll),
  };
}

/** Length cut from the roll beside what the pieces take: squaring the cut end, and the margin at both ends. */
export function endLossMm(roll: Roll): number {
  return roll.squaringMm + 2 * roll.edgeMarginMm;
}

/** The remnant with its margin taken off; `outline` is empty where nothing is left. */
export function remnantCloth(
  remnant: Remnant,
  shrink: (ring: Remnant['outline'], byMm: number) => Remnant['outline'],
): RemnantCloth {
  return {
    kind: 'remnant',
    id: remnant.id,
    outline: remnant.edgeMarginMm > 0 ? shrink(remnant.outline, remnant.edgeMarginMm) : remnant.outline,
    flaws: remnant.flaws,
    rules: clothRules(remnant),
  };
}
