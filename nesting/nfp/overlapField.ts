import type { DepthTables } from './depthTables.ts';
import type { PairTables } from './pairTables.ts';

/** Doubles an entry: where it can matter, and how to look its depth up. */
const BOX = 4;
const LOOKUP = 8;

/** Stand for an entry where what counts most in an evaluation is nothing, or the sheet. */
const NO_ENTRY = -1;
const SHEET_ENTRY = -2;

/**
 * The other figures as one pose of a moving figure meets them, in flat arrays:
 *
 *     box     [minX minY maxX maxY]           positions of the moving figure that can overlap this one at all
 *     lookup  [x y  a b c d  factor table]    table position (a·dx + b·dy, c·dx + d·dy) for dx = position − x
 *
 * The matrix carries the pair's frame and sign (see `PairTables`), so every entry is looked up alike.
 */
export class Field {
  count = 0;
  box: Float64Array;
  lookup: Float64Array;
  /** Table of a sheet's outside, or −1, and what its depth counts. */
  sheet = -1;
  sheetFactor = 0;
  readonly #tables: DepthTables;
  /** x, y, limit and result of an evaluation; entry and edge of what counts most in it; the way out of that. */
  readonly #io = new Float64Array(8);

  constructor(pairs: PairTables, capacity: number) {
    this.#tables = pairs.tables;
    this.box = new Float64Array(BOX * capacity);
    this.lookup = new Float64Array(LOOKUP * capacity);
  }

  clear(): void {
    this.count = 0;
    this.sheet = -1;
  }

  /**
   * Adds a figure of pose p at (x, y) as pose q meets it; its depth will count `factor`. `column` is that of q in
   * `pairs`.
   */
  add(
    pairs: PairTables,
    column: Int32Array,
    q: number,
    p: number,
    x: number,
    y: number,
    factor: number,
  ): void {
    const poses = pairs.poses;
    const spaced = poses.spacedBox;
    const box = this.box;
    const lookup = this.lookup;
    const b = BOX * this.count;
    const l = LOOKUP * this.count++;
    box[b] = x + (spaced[4 * p] as number) - (spaced[4 * q + 2] as number);
    box[b + 1] = y + (spaced[4 * p + 1] as number) - (spaced[4 * q + 3] as number);
    box[b + 2] = x + (spaced[4 * p + 2] as number) - (spaced[4 * q] as number);
    box[b + 3] = y + (spaced[4 * p + 3] as number) - (spaced[4 * q + 1] as number);
    let link = column[p] as number;
    if (link < 0) link = pairs.link(p, q);
    const swapped = (link & 1) !== 0;
    const m = 4 * (swapped ? q : p);
    const sign = swapped ? -1 : 1;
    const matrix = poses.matrix;
    lookup[l] = x;
    lookup[l + 1] = y;
    lookup[l + 2] = sign * (matrix[m] as number);
    lookup[l + 3] = sign * (matrix[m + 2] as number);
    lookup[l + 4] = sign * (matrix[m + 1] as number);
    lookup[l + 5] = sign * (matrix[m + 3] as number);
    lookup[l + 6] = factor;
    lookup[l + 7] = link >> 1;
  }

  /** Sum of all depths at (x, y), each times its factor; gives up with what it has once that reaches `limit`. */
  value(x: number, y: number, limit: number): number {
    // Numbers handed to a method too large to be inlined are boxed one by one; in a typed array they are not.
    const io = this.#io;
    io[0] = x;
    io[1] = y;
    io[2] = limit;
    this.#evaluate();
    return io[3] as number;
  }

  /**
   * The shortest way out of the figure that counted most in the evaluation before `findExit`, as a shift of the moving
   * figure; (0, 0) if nothing counted. Other figures may lie in the way.
   */
  get exitX(): number {
    return this.#io[6] as number;
  }

  get exitY(): number {
    return this.#io[7] as number;
  }

  /** Works out the way out of what counted most in the last evaluation, for `exitX` and `exitY`. */
  findExit(): void {
    const io = this.#io;
    const l = io[4] as number;
    io[6] = 0;
    io[7] = 0;
    if (l === NO_ENTRY) return;
    const { lookup } = this;
    const { edges } = this.#tables;
    const e = io[5] as number;
    const isSheet = l === SHEET_ENTRY;
    const dx = (io[0] as number) - (isSheet ? 0 : (lookup[l] as number));
    const dy = (io[1] as number) - (isSheet ? 0 : (lookup[l + 1] as number));
    const a = isSheet ? 1 : (lookup[l + 2] as number);
    const b = isSheet ? 0 : (lookup[l + 3] as number);
    const c = isSheet ? 0 : (lookup[l + 4] as number);
    const d = isSheet ? 1 : (lookup[l + 5] as number);
    const qx = a * dx + b * dy - (edges[e] as number);
    const qy = c * dx + d * dy - (edges[e + 1] as number);
    const ux = edges[e + 2] as number;
    const uy = edges[e + 3] as number;
    const along = Math.min(Math.max(qx * ux + qy * uy, 0), edges[e + 4] as number);
    const wayX = along * ux - qx;
    const wayY = along * uy - qy;
    // The inverse of a rotation or reflection is its transpose.
    io[6] = a * wayX + c * wayY;
    io[7] = b * wayX + d * wayY;
  }

  /** Reads x, y and the limit from #io, writes the sum to it. */
  #evaluate(): void {
    const io = this.#io;
    const x = io[0] as number;
    const y = io[1] as number;
    const limit = io[2] as number;
    const tables = this.#tables;
    let sum = 0;
    let most = 0;
    io[4] = NO_ENTRY;
    const probe = tables.probe;
    if (this.sheet >= 0) {
      probe[0] = x;
      probe[1] = y;
      probe[4] = Number.POSITIVE_INFINITY;
      tables.lookUp(this.sheet);
      sum = this.sheetFactor * (probe[2] as number);
      if (sum > 0) {
        most = sum;
        io[4] = SHEET_ENTRY;
        io[5] = probe[3] as number;
      }
      if (sum >= limit) {
        io[3] = sum;
        return;
      }
    }
    const own = this.box;
    const lookup = this.lookup;
    const count = this.count;
    for (let n = 0, b = 0; n < count; n++, b += BOX) {
      if (
        x <= (own[b] as number) ||
        y <= (own[b + 1] as number) ||
        x >= (own[b + 2] as number) ||
        y >= (own[b + 3] as number)
      )
        continue;
      const l = LOOKUP * n;
      const dx = x - (lookup[l] as number);
      const dy = y - (lookup[l + 1] as number);
      probe[0] = (lookup[l + 2] as number) * dx + (lookup[l + 3] as number) * dy;
      probe[1] = (lookup[l + 4] as number) * dx + (lookup[l + 5] as number) * dy;
      const factor = lookup[l + 6] as number;
      probe[4] = (limit - sum) / factor;
      tables.lookUp(lookup[l + 7] as number);
      const counts = factor * (probe[2] as number);
      if (counts === 0) continue;
      sum += counts;
      if (counts > most) {
        most = counts;
        io[4] = l;
        io[5] = probe[3] as number;
      }
      if (sum >= limit) break;
    }
    io[3] = sum;
  }
}
