import { solve } from 'yalps';
import { FreeRegion } from '../nfp/freeRegion.ts';
import { type Arrangement, usedLength } from './arrangement.ts';
import type { OverlapState } from './overlapState.ts';
import { Ranges } from './ranges.ts';

export const COMPACTION = {
  /** How far a copy may move along each axis in one program; a part of the strip's width. */
  reach: 0.05,
  /** A program that shortens by less than this part is the last. */
  least: 1e-6,
  /** Programs from one arrangement, at most. */
  programs: 6,
  /** Copies, at most: time grows with about their cube, and a program of a hundred takes 0.03 s. */
  copies: 120,
  /** Pivots a variable, at most; a few suffice unless the solver goes round in circles. */
  pivots: 20,
} as const;

/** What the last digits of a solution are rounded to, in parts of the reach. */
const PRECISION = 1e-11;

/** Cost of a copy's way from the lower left, against that of the strip's length: it decides between equal solutions. */
const PULL = 1e-7;

/** The column of the strip's length. */
const LENGTH = 0;

/**
 * Moves all copies of a strip at once to where the strip is shortest, by linear programming over their contacts (Li &
 * Milenkovic 1995; Gomes & Oliveira 2006). Each pair that can meet keeps to a convex part of its free region (see
 * `FreeRegion`), so what the program finds is the best within these parts, and free of overlap; then the same around the
 * new arrangement, as long as it pays.
 *
 * It may begin with overlap: then it lets the strip out just as far as this arrangement of neighbours needs, if that is
 * possible at all (their separation, with the length as what is minimised).
 *
 * Lengths in a program are parts of the reach, counted from the lower left of where a copy may go:
 *
 *     column 0            the strip's length beyond what no solution can do without
 *     columns 1 …         a copy's way along x or y, at least 0; none where the range leaves no choice, as at a fold
 *     rows                Σ coefficient · column ≤ bound
 */
export class Compaction {
  /** Copies lie on a strip, move freely, and are few enough. */
  readonly isPossible: boolean;
  readonly #state: OverlapState;
  readonly #ranges: Ranges;
  readonly #region: FreeRegion;
  readonly #reach: number;
  /** Lower left of where each copy may go, as x y a copy; how far it may go from there; and its columns, or −1. */
  readonly #least: Float64Array;
  readonly #span: Float64Array;
  readonly #column: Int32Array;
  #bounds: number[] = [];
  /** Coefficients by column, as pairs of row and value. */
  #columns: [number, number][][] = [];

  constructor(state: OverlapState) {
    const { model, n } = state;
    this.isPossible =
      model.stripWidth > 0 && n <= COMPACTION.copies && model.lattices.every((lattice) => lattice === null);
    this.#state = state;
    this.#ranges = new Ranges(model);
    this.#region = new FreeRegion(model.pairs.tables);
    this.#reach = COMPACTION.reach * model.size;
    this.#least = new Float64Array(2 * n);
    this.#span = new Float64Array(2 * n);
    this.#column = new Int32Array(2 * n);
  }

  /**
   * Shortens the state's arrangement as long as it pays and `shouldStop` is false, which is asked between programs. True if
   * it ends shorter than `length`, in mm, and without overlap; else the state is left anywhere.
   */
  run(length: number, shouldStop: () => boolean): boolean {
    const state = this.#state;
    const { arrangement, model } = state;
    let shortest = length;
    let best: Arrangement | null = null;
    for (let k = 0; k < COMPACTION.programs && !shouldStop(); k++) {
      if (!this.#solve()) break;
      const reached = usedLength(model, arrangement);
      // From an overlap the first program may stop at the reach, while a second goes on.
      if (reached >= shortest && (best || k > 0)) break;
      if (reached < shortest) {
        state.length = reached;
        state.refresh();
        if (state.totalOverlap() > 0) break;
        const pays = reached < shortest * (1 - COMPACTION.least);
        shortest = reached;
        best = arrangement.clone();
        if (!pays) break;
      }
    }
    if (!best) return false;
    arrangement.copyFrom(best);
    state.length = shortest;
    state.refresh();
    return true;
  }

  /** Solves one program around the arrangement and moves the copies; false if it has no solution. */
  #solve(): boolean {
    const { arrangement, n } = this.#state;
    this.#begin();
    this.#addLength();
    for (let i = 0; i < n; i++) {
      this.#addRoom(i);
      for (let j = 0; j < i; j++) if (arrangement.room[i] === arrangement.room[j]) this.#addPair(i, j);
    }
    const columns = this.#columns;
    const { status, variables } = solve(
      {
        direction: 'minimize',
        objective: -1,
        constraints: this.#bounds.map((max, row) => [row, { max }] as const),
        variables: columns.map((entries, column) => [column, entries] as const),
      },
      { precision: PRECISION, maxPivots: COMPACTION.pivots * columns.length },
    );
    if (status !== 'optimal') return false;
    const values = new Float64Array(columns.length);
    for (const [column, value] of variables) values[column] = value;
    for (let k = 0; k < 2 * n; k++) {
      const column = this.#column[k] as number;
      const way = column < 0 ? 0 : this.#reach * (values[column] as number);
      const along = k % 2 === 0 ? arrangement.x : arrangement.y;
      along[k >> 1] = (this.#least[k] as number) + Math.min(way, this.#span[k] as number);
    }
    return true;
  }

  /** Sets out the columns, and how far each copy may go. */
  #begin(): void {
    const { arrangement, n } = this.#state;
    const reach = this.#reach;
    this.#bounds = [];
    this.#columns = [[[-1, 1]]];
    for (let k = 0; k < 2 * n; k++) {
      const i = k >> 1;
      const item = this.#state.itemOf(i);
      const offset = this.#ranges.offset(arrangement.room[i] as number, item, arrangement.pose[i] as number);
      const at = (k % 2 === 0 ? arrangement.x : arrangement.y)[i] as number;
      const range = this.#ranges.values;
      const from = Math.max(range[offset + (k % 2)] as number, at - reach);
      const to = Math.min(range[offset + 2 + (k % 2)] as number, at + reach);
      this.#least[k] = from;
      this.#span[k] = Math.max(0, to - from);
      this.#column[k] = to > from ? this.#columns.length : -1;
      if (to > from) {
        this.#columns.push([[-1, PULL * (1 + k / n)]]);
        this.#addRow((to - from) / reach, [k, 1]);
      }
    }
  }

  /** No copy ends beyond the strip's length. */
  #addLength(): void {
    const { n } = this.#state;
    let least = 0;
    for (let i = 0; i < n; i++) least = Math.max(least, this.#rightOf(i));
    for (let i = 0; i < n; i++) {
      if (this.#rightOf(i) + (this.#span[2 * i] as number) <= least) continue;
      const row = this.#addRow((least - this.#rightOf(i)) / this.#reach, [2 * i, 1]);
      this.#columns[LENGTH]?.push([row, -1]);
    }
  }

  /** Right end of a copy that stays at its least. */
  #rightOf(i: number): number {
    const { arrangement, model } = this.#state;
    return (
      (this.#least[2 * i] as number) +
      (model.poses.bodyBox[4 * (arrangement.pose[i] as number) + 2] as number)
    );
  }

  /** A copy stays out of what is blocked in its strip. */
  #addRoom(i: number): void {
    const { arrangement, model, touch } = this.#state;
    const table = model.roomTable(arrangement.room[i] as number, arrangement.pose[i] as number);
    if (table < 0) return;
    const region = this.#region;
    region.around(
      table,
      arrangement.x[i] as number,
      arrangement.y[i] as number,
      Math.SQRT2 * this.#reach,
      touch,
    );
    for (let k = 0; k < region.count; k++) this.#addPlane(k, 1, 0, 0, 1, i, -1);
  }

  /** Two copies stay apart. */
  #addPair(i: number, j: number): void {
    const { arrangement, model, touch } = this.#state;
    const { poses, pairs } = model;
    const box = poses.spacedBox;
    const p = arrangement.pose[i] as number;
    const q = arrangement.pose[j] as number;
    const dx = (arrangement.x[j] as number) - (arrangement.x[i] as number);
    const dy = (arrangement.y[j] as number) - (arrangement.y[i] as number);
    const both = 2 * this.#reach;
    if (
      dx + (box[4 * q] as number) - both > (box[4 * p + 2] as number) ||
      dx + (box[4 * q + 2] as number) + both < (box[4 * p] as number) ||
      dy + (box[4 * q + 1] as number) - both > (box[4 * p + 3] as number) ||
      dy + (box[4 * q + 3] as number) + both < (box[4 * p + 1] as number)
    )
      return;
    const link = pairs.link(p, q);
    const swapped = (link & 1) !== 0;
    const sign = swapped ? -1 : 1;
    const m = 4 * (swapped ? q : p);
    const a = poses.matrix[m] as number;
    const b = poses.matrix[m + 1] as number;
    const c = poses.matrix[m + 2] as number;
    const d = poses.matrix[m + 3] as number;
    const region = this.#region;
    // The inverse of a rotation or reflection is its transpose.
    region.around(link >> 1, sign * (a * dx + c * dy), sign * (b * dx + d * dy), Math.SQRT2 * both, touch);
    for (let k = 0; k < region.count; k++) this.#addPlane(k, a, b, c, d, swapped ? i : j, swapped ? j : i);
  }

  /**
   * Half-plane k of the region, turned by a matrix, bounds where copy `moving` is seen from copy `other`, or from the origin
   * if that is −1.
   */
  #addPlane(k: number, a: number, b: number, c: number, d: number, moving: number, other: number): void {
    const { planes } = this.#region;
    const least = this.#least;
    const span = this.#span;
    const px = planes[3 * k] as number;
    const py = planes[3 * k + 1] as number;
    const nx = a * px + b * py;
    const ny = c * px + d * py;
    let bound =
      nx * (least[2 * moving] as number) +
      ny * (least[2 * moving + 1] as number) -
      (planes[3 * k + 2] as number);
    let worst =
      Math.min(0, nx * (span[2 * moving] as number)) + Math.min(0, ny * (span[2 * moving + 1] as number));
    if (other >= 0) {
      bound -= nx * (least[2 * other] as number) + ny * (least[2 * other + 1] as number);
      worst -=
        Math.max(0, nx * (span[2 * other] as number)) + Math.max(0, ny * (span[2 * other + 1] as number));
    }
    // Most hold wherever the copies go.
    if (bound + worst >= 0) return;
    const terms: [number, number][] = [
      [2 * moving, -nx],
      [2 * moving + 1, -ny],
    ];
    if (other >= 0) terms.push([2 * other, nx], [2 * other + 1, ny]);
    this.#addRow(bound / this.#reach, ...terms);
  }

  /** Adds a row with coefficients of the copies' ways; returns its number. */
  #addRow(bound: number, ...terms: [number, number][]): number {
    const row = this.#bounds.length;
    this.#bounds.push(bound);
    for (const [k, coefficient] of terms) {
      const column = this.#column[k] as number;
      if (column >= 0 && coefficient !== 0) this.#columns[column]?.push([row, coefficient]);
    }
    return row;
  }
}
