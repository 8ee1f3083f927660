import type { ClothRules } from '../../nesting/cloth/index.ts';

/** Rules of a plain cloth, one way of the grain, but for what is said otherwise. */
export const rules = (over: Partial<ClothRules> = {}): ClothRules => ({
  turn: 'grain',
  tiltDeg: 0,
  nap: 'none',
  stretchAlike: false,
  upDeg: null,
  reversible: false,
  gap: 0,
  ...over,
});
