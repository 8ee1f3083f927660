import type { DepthTables } from './depthTables.ts';
import type { PairTables } from './pairTables.ts';

/** Doubles an entry: where it can matter, and how to look its depth up. */
const BOX = 4;
const LOOKUP = 8;

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
  /** x, y, limit and result of an evaluation. */
  readonly #io = new Float64Array(4);

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

  /** Becomes the part of another field that matters for positions in a rectangle. */
  narrow(from: Field, minX: number, minY: number, maxX: number, maxY: number): void {
    const { box, lookup } = from;
    const ownBox = this.box;
    const own = this.lookup;
    let count = 0;
    for (let k = 0; k < from.count; k++) {
      const b = BOX * k;
      if (
        (box[b] as number) >= maxX ||
        (box[b + 2] as number) <= minX ||
        (box[b + 1] as number) >= maxY ||
        (box[b + 3] as number) <= minY
      )
        continue;
      const o = BOX * count;
      const l = LOOKUP * k;
      const t = LOOKUP * count;
      for (let i = 0; i < BOX; i++) ownBox[o + i] = box[b + i] as number;
      for (let i = 0; i < LOOKUP; i++) own[t + i] = lookup[l + i] as number;
      count++;
    }
    this.count = count;
    this.sheet = from.sheet;
    this.sheetFactor = from.sheetFactor;
  }

  /**
   * Sum of all depths at (x, y), each times its factor; gives up with what it has once that reaches `limit`.
   * The lookup is `DepthTables.depth`, written out because this is where a search spends its time.
   */
  value(x: number, y: number, limit: number): number {
    // Numbers handed to a method too large to be inlined are boxed one by one; in a typed array they are not.
    const io = this.#io;
    io[0] = x;
    io[1] = y;
    io[2] = limit;
    this.#evaluate();
    return io[3] as number;
  }

  /** Reads x, y and the limit from #io, writes the sum to it. */
  #evaluate(): void {
    const io = this.#io;
    const x = io[0] as number;
    const y = io[1] as number;
    const limit = io[2] as number;
    const tables = this.#tables;
    let sum = 0;
    if (this.sheet >= 0) {
      sum = this.sheetFactor * tables.depth(this.sheet, x, y);
      if (sum >= limit) {
        io[3] = sum;
        return;
      }
    }
    const own = this.box;
    const lookup = this.lookup;
    const box = tables.box;
    const place = tables.place;
    const cells = tables.cells;
    let lists = tables.lists;
    const edges = tables.edges;
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
      const tx = (lookup[l + 2] as number) * dx + (lookup[l + 3] as number) * dy;
      const ty = (lookup[l + 4] as number) * dx + (lookup[l + 5] as number) * dy;
      const table = lookup[l + 7] as number;
      const h = 6 * table;
      const px = tx - (box[h] as number);
      const py = ty - (box[h + 1] as number);
      if (!(px > 0 && py > 0 && px < (box[h + 2] as number) && py < (box[h + 3] as number))) continue;
      const p = 5 * table;
      const column = (px * (box[h + 4] as number)) | 0;
      const row = (py * (box[h + 5] as number)) | 0;
      let k = cells[(place[p + 1] as number) + row * (place[p] as number) + column] as number;
      if (k <= 0) {
        if (k === 0) continue;
        k = tables.fillCell(table, column, row);
        if (k === 0) continue;
        lists = tables.lists;
      }
      const end = k + (lists[k] as number);
      let least = Number.POSITIVE_INFINITY;
      let inside = false;
      while (k < end) {
        const e = (lists[++k] as number) << 3;
        const qx = tx - (edges[e] as number);
        const qy = ty - (edges[e + 1] as number);
        const ux = edges[e + 2] as number;
        const uy = edges[e + 3] as number;
        const along = qx * ux + qy * uy;
        const across = ux * qy - uy * qx;
        if (along <= 0) {
          const square = qx * qx + qy * qy;
          if (square < least) {
            least = square;
            const flags = edges[e + 5] as number;
            inside = (flags & 4) !== 0 ? across > 0 : (flags & 1) !== 0;
          }
          continue;
        }
        const over = along - (edges[e + 4] as number);
        const square = across * across + (over > 0 ? over * over : 0);
        if (square < least) {
          least = square;
          const flags = edges[e + 5] as number;
          inside = over > 0 && (flags & 8) === 0 ? (flags & 2) !== 0 : across > 0;
        }
      }
      if (!inside) continue;
      sum += (lookup[l + 6] as number) * Math.sqrt(least);
      if (sum >= limit) break;
    }
    io[3] = sum;
  }
}
