/**
 * The packing problem and its answer, in plain data that can cross a thread or a file.
 *
 * The engine knows numbered outlines, the poses each may take and the containers they go into. It does not
 * know sewing: grain, nap, hands and folds were turned into poses before (see `nesting/cloth`).
 *
 * Conventions (all of `nesting`): millimetres and degrees; x runs along the cloth from the cut end, y across
 * it from the selvedge or the fold; y is up, so counter-clockwise is positive. A ring is not closed (the first
 * vertex is not repeated). Outer rings run counter-clockwise. Touching is not overlapping.
 */

export type Point = readonly [x: number, y: number];

/** A simple closed ring of at least three points, not repeated at the end. */
export type Outline = readonly Point[];

/**
 * How an outline is laid: mirrored first (x → −x) if `mirrored`, then turned counter-clockwise by `rotation`
 * degrees about the origin, then shifted. Quarter turns are exact.
 */
export interface Pose {
  readonly rotation: number;
  readonly mirrored: boolean;
  /** The piece may be turned by any angle up to so many degrees either way from `rotation`. Not together with `lattice`. */
  readonly tilt?: number;
  /** Where a piece in this pose may lie: anywhere unless given. Two poses may differ in this alone. */
  readonly lattice?: Lattice;
}

/**
 * Positions (x, y) of a reference point that are `origin` and whole steps of `u` and `v` away from it: the repeat of a
 * print, straight, half drop or brick. Where `v` is null the piece slides freely at right angles to `u`, as along a
 * stripe.
 */
export interface Lattice {
  readonly origin: Point;
  readonly u: Point;
  readonly v: Point | null;
  /** Positions may miss the lattice by so much along either axis (across the lines of a single vector), mm; 0 unless given. */
  readonly tolerance?: number;
}

/** Cloth without end: y from 0 to `width`, x from 0 onwards (to `maxLength` where that is given). */
export interface StripContainer {
  readonly kind: 'strip';
  readonly id: string;
  readonly width: number;
  readonly maxLength?: number;
  /** Flaws, holes, places kept free: no piece may enter one. */
  readonly blocked?: readonly Outline[];
}

/** A piece of cloth with a fixed outline; `blocked` are holes and flaws that no piece may enter. */
export interface SheetContainer {
  readonly kind: 'sheet';
  readonly id: string;
  readonly quantity: number;
  readonly outline: Outline;
  readonly blocked: readonly Outline[];
}

export type Container = StripContainer | SheetContainer;

/** So many copies of one outline. Copies are interchangeable and numbered from 0. */
export interface Item {
  readonly id: string;
  readonly outline: Outline;
  readonly quantity: number;
  /** Admissible poses, at least one. */
  readonly poses: readonly Pose[];
  /** Any angle is allowed (the flags of `poses` still say whether mirrored copies may be used). */
  readonly anyAngle?: boolean;
  /** The piece lies on the fold: in every admissible pose its lowest points must be at y = 0. Strips only. */
  readonly onFold?: boolean;
  /** Ids of the containers it may go into; all of them where this is missing. */
  readonly containers?: readonly string[];
}

/**
 * One packing problem: either strips, or one or more sheets (in order of preference).
 * Strip: place everything, keep it short. Sheets: place as much as possible, on few sheets, earlier ones first.
 *
 * Several strips are lanes of one cloth, cut to one common length, which is what is kept short: the doubled part of
 * a partly folded cloth beside its single part, or the two halves of a cloth folded from both selvedges.
 */
export interface Problem {
  readonly name: string;
  readonly containers: readonly Container[];
  readonly items: readonly Item[];
  /** Least distance between two pieces, in mm. The distance to the container's edge is 0: shrink it before. */
  readonly gap: number;
  /**
   * Place as much as possible even where it is proved that not everything fits (the verdict stays `cannot fit`).
   * Without it such a problem is answered at once with an empty layout.
   */
  readonly bestSubset?: boolean;
  /**
   * Copies that lie where they are and never move; the others are packed around them. They must be legal among
   * themselves: see `verify`, which holds every layout against them as well.
   */
  readonly fixed?: readonly Placement[];
}

export interface Placement {
  /** Id of the item. */
  readonly item: string;
  /** 0 … quantity − 1. */
  readonly copy: number;
  /** Id of the container. */
  readonly container: string;
  /** Which of several equal sheets, from 0; always 0 on a strip. */
  readonly containerCopy: number;
  readonly rotation: number;
  readonly mirrored: boolean;
  readonly x: number;
  readonly y: number;
}

/** A legal arrangement, perhaps of only some of the copies. */
export interface Layout {
  readonly placements: readonly Placement[];
  /** Copies that found no place, as `{item, copy}`. */
  readonly unplaced: readonly {
    readonly item: string;
    readonly copy: number;
  }[];
  /** Largest x of any placed point on a strip, or on the longest of several; 0 for sheets. */
  readonly length: number;
}

/** Why a problem has no complete layout at all: the outcome of a proof, never of a failed search. */
export interface Impossibility {
  readonly kind: 'area' | 'too-long' | 'too-wide' | 'no-pose' | 'pair' | 'count';
  /** Ids of the items the proof speaks of. */
  readonly items: readonly string[];
  /** The missing amount: mm, or mm² for `area`. */
  readonly shortBy: number;
  /** One English sentence with the numbers in it, for logs and tests; screens word it themselves. */
  readonly reason: string;
}

export type Verdict = 'fits' | 'cannot fit' | 'not found';

export type SearchMethod = 'separation' | 'annealing';

/**
 * Where searches of one problem that run side by side leave their best layouts for each other. Both calls return at
 * once. With an exchange, a search is no longer determined by its seed alone.
 */
export interface Exchange {
  /** Called with each better layout of this search. */
  offer(layout: Layout): void;
  /** The best layout of another search that was not taken before, or null. */
  take(): Layout | null;
}

export interface SearchOptions {
  /** Same seed, same steps, one thread: same layout. */
  readonly seed: number;
  /** Stop after so many steps of the search, if given. */
  readonly maxSteps?: number;
  /** Stop when `clock()` has grown by so many milliseconds, if given. */
  readonly maxMs?: number;
  /** Milliseconds, monotonic. Needed with `maxMs`; handed in because nesting reads no clock of its own. */
  readonly clock?: () => number;
  /** Asked between steps, often enough to stop within 50 ms. */
  readonly shouldStop?: () => boolean;
  /**
   * `separation` (unless given): overlap minimisation from the first layout on. `annealing`: over order and pose
   * of bottom-left placement; kept as the baseline to measure against.
   */
  readonly method?: SearchMethod;
  /** A legal layout of the problem, complete or not, to begin with instead of the engine's own first ones. */
  readonly start?: Layout;
  /** Best layouts of other searches of the same problem, to go on from. */
  readonly exchange?: Exchange;
  /** Called with the first legal layout and with each better one. */
  readonly onBetter?: (layout: Layout, step: number) => void;
}

export interface SearchResult {
  readonly verdict: Verdict;
  /** The best layout found; empty when `cannot fit` was proved before any search. */
  readonly layout: Layout;
  readonly impossible?: Impossibility;
  readonly steps: number;
  /** What `verify` found wrong with layouts that were dropped: faults of the engine, in words for a log. */
  readonly engineFaults?: readonly string[];
}

/** The part of an `AbortSignal` that is used here; named apart because this folder compiles without DOM or Node. */
export interface StopSignal {
  readonly aborted: boolean;
  addEventListener(type: 'abort', listener: () => void): void;
  removeEventListener(type: 'abort', listener: () => void): void;
}

/** Signature of whatever runs a search: the worker pool in the server, a plain call in a test. */
export type Solve = (
  problem: Problem,
  options: {
    readonly seed: number;
    /** Milliseconds to go on looking for better layouts. */
    readonly maxMs: number;
    readonly maxSteps?: number;
    readonly method?: SearchMethod;
    readonly signal?: StopSignal;
    readonly onBetter?: (layout: Layout) => void;
  },
) => Promise<SearchResult>;
