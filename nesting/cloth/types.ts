import type { Outline, Point } from '../packing/types.ts';

/**
 * Cloth and what is to be cut from it, in the few words the rules need. Directions are degrees in the axes they
 * belong to: a piece's own axes for a demand, the cloth's axes (0 = along the cloth, away from the cut end) for
 * rules.
 */

/**
 * Where a piece's grain line lies: along the cloth, across it, on the bias (45° either way, or only rising to the left
 * or to the right as seen from the cut end), at quarter turns, at any angle.
 */
export type Turn = 'grain' | 'cross' | 'bias' | 'biasLeft' | 'biasRight' | 'quarter' | 'free';

/**
 * `oneWay`: every top points the same way along the cloth. `twoWay`: along or against it, never across.
 * `upAndDown`: one way within a set of pieces, sets may differ.
 */
export type Nap = 'none' | 'oneWay' | 'twoWay' | 'upAndDown';

export interface ClothRules {
  readonly turn: Turn;
  /** How far off the grain a piece may lie, either way, in degrees. */
  readonly tiltDeg: number;
  readonly nap: Nap;
  /** All grain lines lie the same way, along or across, even where `turn` would let each piece choose. */
  readonly stretchAlike: boolean;
  /** Where the print's up points on the cloth, in degrees; null for a cloth without an up. */
  readonly upDeg: number | null;
  /** Either side may be the right side: a piece of the other hand is the same piece turned over. */
  readonly reversible: boolean;
  /** Least distance between pieces in mm. */
  readonly gap: number;
  /** So far the print runs off the grain, counter-clockwise, and the pieces with it, in degrees; 0 where missing. */
  readonly skewDeg?: number;
}

/** A roll as it counts for packing: washed, its cut end made square. y from one outer edge to the other. */
export interface RollCloth {
  readonly kind: 'roll';
  readonly id: string;
  /** From outer edge to outer edge, in mm. */
  readonly wholeWidth: number;
  /** What is left out along each of these two edges: selvedge and margin, in mm. */
  readonly edge: number;
  /** May lie in two layers at all: no for vinyl, foam, leather. */
  readonly foldable: boolean;
  /** Strips along the whole cloth that are left out. */
  readonly faded: readonly Band[];
  /** What no piece may enter: x from the squared end. */
  readonly flaws: readonly Outline[];
  /** What recurs on it, where that matters to the pieces; see `whyNotSpread`. */
  readonly look: Look;
  readonly repeat?: Repeat;
  readonly border?: Border;
  readonly rules: ClothRules;
}

/** A border printed along an edge of the cloth, or along both. */
export interface Border {
  /** Lines along the cloth on which the lower edges of pieces lie, and which way across those stand: 1 up, −1 down. */
  readonly lines: readonly { readonly at: number; readonly stands: 1 | -1 }[];
  /** Where pieces that are not on the border may lie, if they must keep off it. y as that of `Repeat.origin`. */
  readonly field: Band | null;
}

/** The lattice on which a print, stripe or plaid recurs, in mm; 0 where it does not in that direction. */
export interface Repeat {
  readonly along: number;
  readonly across: number;
  /** Half drop: the next column across lies half a repeat further along. Brick: the next along, half further across. */
  readonly kind: 'straight' | 'halfDrop' | 'brick';
  /** So far it is turned against the grain, counter-clockwise, in degrees; 0 where missing. */
  readonly skewDeg?: number;
  /** One point of it: x from the squared end, y from the lower outer edge (of a remnant, in its own axes). */
  readonly origin: Point;
}

/** A point of a piece, in its own axes, that must lie on the repeat, so far from its points along and across. */
export interface Anchor {
  readonly at: Point;
  readonly onMotif: Point;
  readonly toleranceMm: number;
}

/** `motif`: pieces are placed on motifs. `matched`: bars or motifs of joined pieces must meet. */
export interface Look {
  readonly bars: 'none' | 'even' | 'uneven';
  readonly hasMotif: boolean;
  readonly isMatched: boolean;
  /** Pieces sit on a border that runs along an edge. */
  readonly isOnBorder?: boolean;
}

/** An interval across the cloth, in mm. */
export interface Band {
  readonly from: number;
  readonly to: number;
}

export interface RemnantCloth {
  readonly kind: 'remnant';
  readonly id: string;
  /** So many alike. */
  readonly quantity: number;
  readonly outline: Outline;
  readonly flaws: readonly Outline[];
  readonly repeat?: Repeat;
  readonly border?: Border;
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
  /** Into how many sets the copies divide; 1 where missing. Counts only for a nap that runs up and down. */
  readonly sets?: number;
  /** How its grain line lies, where that differs from the cloth's rule. */
  readonly turn?: Turn;
  /** Confines it to the cloth's repeat, where the cloth has one. */
  readonly anchor?: Anchor;
  /** Its lower edge, away from its top, lies on the cloth's border, so much of it beyond the border's line, in mm. */
  readonly onBorder?: { readonly beyondMm: number };
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

/**
 * `folded`: lengthwise, selvedges together, what has no partner opened out behind it. `sequence`: the same, doubled
 * only as far as it pays. `crosswise`: cut ends together. `turned`: crosswise, the fold cut open and the upper layer
 * turned end for end. `middle`: both selvedges to the middle. `partial`: folded only so deep as pieces need.
 */
export type Spread = 'single' | 'folded' | 'sequence' | 'crosswise' | 'turned' | 'middle' | 'partial';

/** What one placement of an item gives. */
export type Hand = 'plain' | 'mirrored' | 'pair' | 'fold' | 'either';

/** Tells what an item of a packing problem stands for. */
export interface ItemMeaning {
  readonly item: string;
  readonly demand: string;
  readonly hand: Hand;
}

/** How many doubled placements a demand gets: halves on the fold, and pairs. What is left is cut singly. */
export interface Doubled {
  readonly id: string;
  readonly fold: number;
  readonly pairs: number;
}

/** What is decided of a spread before packing; what is missing, the spread's usual way decides. */
export interface Arrangement {
  readonly doubled?: readonly Doubled[] | undefined;
  /** Of a partial fold: from the fold to what can be used of the upper layer, in mm. */
  readonly depthMm?: number | undefined;
  /** Which way all grain lines lie, on a cloth on which they must lie alike but may choose. */
  readonly turn?: 'grain' | 'cross' | undefined;
}

/** Copies of a demand that have no place in a spread, with the reason as data. */
export interface Refusal {
  readonly demand: string;
  readonly plain: number;
  readonly mirrored: number;
  /** Smallest size across the cloth that the rules allow, and what there is, in mm. */
  readonly needs: number;
  readonly has: number;
  /** It is not too wide, but nowhere across the cloth does it lie as the repeat asks. */
  readonly offRepeat?: boolean;
}

/** A rule that had to give way, or that the maker may not expect. */
export interface Remark {
  readonly demand: string;
  readonly kind: 'grainAcross' | 'skewed' | 'foldOffGrain' | 'oneHandBias' | 'foldFaded';
}
