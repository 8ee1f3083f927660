import type { Outline, Point } from '../packing/types.ts';

/**
 * Cloth and what is to be cut from it, in the few words the rules need. Directions are degrees in the axes they
 * belong to: a piece's own axes for a demand, the cloth's axes (0 = along the cloth, away from the cut end) for
 * rules.
 */

/** `grain`: the grain line lies along the cloth. `quarter`: quarter turns as well. `free`: any angle. */
export type Turn = 'grain' | 'quarter' | 'free';

export interface ClothRules {
  readonly turn: Turn;
  /** Pile, sheen: all pieces point the same way along the cloth. */
  readonly oneWay: boolean;
  /** Where the print's up points on the cloth, in degrees; null for a cloth without an up. */
  readonly upDeg: number | null;
  /** Either side may be the right side: a piece of the other hand is the same piece turned over. */
  readonly reversible: boolean;
  /** Least distance between pieces in mm. */
  readonly gap: number;
}

/** A roll as it counts for packing: selvedges and margins are off already. */
export interface RollCloth {
  readonly kind: 'roll';
  readonly id: string;
  /** Whole usable width in mm, opened out. */
  readonly width: number;
  /** Usable depth in mm from the lengthwise fold to the usable edge; null where the cloth must not be folded. */
  readonly foldedDepth: number | null;
  readonly rules: ClothRules;
}

export interface RemnantCloth {
  readonly kind: 'remnant';
  readonly id: string;
  readonly outline: Outline;
  readonly flaws: readonly Outline[];
  readonly rules: ClothRules;
}

/** The half of a piece that is laid on a fold. `fold` runs along the half's counter-clockwise boundary. */
export interface Half {
  readonly outline: Outline;
  readonly fold: readonly [Point, Point];
}

/** So many copies of one piece from one material. */
export interface Demand {
  readonly id: string;
  /** The whole piece's cut line as drawn, right side up. */
  readonly outline: Outline;
  /** Where the piece was drawn as a half: each copy may then be cut from the half on a fold. */
  readonly half?: Half;
  /** Copies as drawn. */
  readonly plain: number;
  /** Copies as the mirror image. */
  readonly mirrored: number;
  /** Grain line, a line in the piece's axes. */
  readonly grainDeg: number;
  /** The piece's top, a direction in the piece's axes. */
  readonly topDeg: number;
  /**
   * Turns (degrees) that make the mirror image (x → −x) the piece as drawn again, up to a shift. Empty for a
   * piece that is not its own mirror image.
   */
  readonly mirrorTurns: readonly number[];
}

export type Spread = 'single' | 'folded';

/** What one placement of an item gives. */
export type Hand = 'plain' | 'mirrored' | 'pair' | 'fold' | 'either';

/** Tells what an item of a packing problem stands for. */
export interface ItemMeaning {
  readonly item: string;
  readonly demand: string;
  readonly hand: Hand;
}

/** Copies of a demand that have no place in a spread, with the reason as data. */
export interface Refusal {
  readonly demand: string;
  readonly plain: number;
  readonly mirrored: number;
  /** Smallest size across the cloth that the rules allow, and what there is, in mm. */
  readonly needs: number;
  readonly has: number;
}

/** A rule that had to give way, or that the maker may not expect. */
export interface Remark {
  readonly demand: string;
  readonly kind: 'grainAcross' | 'foldOffGrain';
}
