import type { PairTables } from '../nfp/pairTables.ts';

/**
 * Free stretches on a line: which positions along a vertical or horizontal line a piece's reference point may
 * take. Forbidden intervals are collected from the regions that the line crosses, then asked about. Intervals
 * are open: their ends touch.
 */
export class ScanLine {
  readonly #pairs: PairTables;
  #low = new Float64Array(256);
  #high = new Float64Array(256);
  #count = 0;
  #sorted = false;
  #crossings = new Float64Array(64);
  #vertical = true;
  #at = 0;

  readonly #slack: number;

  /** Intervals that overlap by no more than `slack` leave a free point between them. */
  constructor(pairs: PairTables, slack: number) {
    this.#pairs = pairs;
    this.#slack = slack;
  }

  /** Starts anew on the line x = `at` (`vertical`) or y = `at`. */
  start(vertical: boolean, at: number): void {
    this.#vertical = vertical;
    this.#at = at;
    this.#count = 0;
    this.#sorted = false;
  }

  /** Forbids where pose q would overlap pose p, which lies at (px, py). */
  forbidOverlap(p: number, px: number, py: number, q: number): void {
    const link = this.#pairs.link(p, q);
    const swapped = (link & 1) !== 0;
    const m = this.#pairs.poses.matrix;
    const o = 4 * (swapped ? q : p);
    const sign = swapped ? -1 : 1;
    this.#forbid(
      link >> 1,
      sign * (m[o] as number),
      sign * (m[o + 1] as number),
      sign * (m[o + 2] as number),
      sign * (m[o + 3] as number),
      px,
      py,
    );
  }

  /** Forbids a region as it stands. */
  forbidTable(table: number): void {
    this.#forbid(table, 1, 0, 0, 1, 0, 0);
  }

  /**
   * The lowest free value in [min, max], or NaN. One that misses `max` by no more than the slack is `max`: the
   * last of a row of pieces that fill a width exactly carries the rounding of all the sums before it.
   */
  lowest(min: number, max: number): number {
    this.#sort();
    let free = min;
    for (let i = 0; i < this.#count; i++) {
      if ((this.#low[i] as number) >= free - this.#slack) break;
      if ((this.#high[i] as number) > free) free = this.#high[i] as number;
    }
    if (free <= max) return free;
    return free <= max + this.#slack ? max : Number.NaN;
  }

  /** How far down one can go from a free value without meeting a forbidden one, but not below `min`. */
  floorOf(value: number, min: number): number {
    let floor = min;
    for (let i = 0; i < this.#count; i++) {
      const high = this.#high[i] as number;
      if (high > floor && high <= value + this.#slack) floor = high;
    }
    return floor;
  }

  #forbid(table: number, a: number, b: number, c: number, d: number, dx: number, dy: number): void {
    const tables = this.#pairs.tables;
    const edges = tables.edges;
    const from = 8 * (tables.place[5 * table + 2] as number);
    const to = 8 * (tables.place[5 * table + 3] as number);
    const at = this.#at;
    let found = 0;
    let crossings = this.#crossings;
    // Rows of the matrix: `across` the line and `along` it.
    const [ca, cb, cd, la, lb, ld] = this.#vertical ? [a, b, dx, c, d, dy] : [c, d, dy, a, b, dx];
    for (let e = from; e < to; e += 8) {
      const ax = edges[e] as number;
      const ay = edges[e + 1] as number;
      const bx = edges[e + 6] as number;
      const by = edges[e + 7] as number;
      const start = ca * ax + cb * ay + cd;
      const end = ca * bx + cb * by + cd;
      if (start <= at === end <= at) continue;
      const t = (at - start) / (end - start);
      const first = la * ax + lb * ay + ld;
      const last = la * bx + lb * by + ld;
      if (found === crossings.length) {
        const larger = new Float64Array(2 * found);
        larger.set(crossings);
        crossings = larger;
        this.#crossings = larger;
      }
      const value = first + t * (last - first);
      let k = found++;
      while (k > 0 && (crossings[k - 1] as number) > value) {
        crossings[k] = crossings[k - 1] as number;
        k--;
      }
      crossings[k] = value;
    }
    if (tables.place[5 * table + 4] === 1) {
      let below = Number.NEGATIVE_INFINITY;
      for (let k = 0; k < found; k += 2) {
        this.#add(below, crossings[k] as number);
        below = crossings[k + 1] as number;
      }
      this.#add(below, Number.POSITIVE_INFINITY);
    } else
      for (let k = 0; k + 1 < found; k += 2) this.#add(crossings[k] as number, crossings[k + 1] as number);
  }

  #add(low: number, high: number): void {
    if (!(high > low)) return;
    if (this.#count === this.#low.length) {
      const lows = new Float64Array(2 * this.#count);
      const highs = new Float64Array(2 * this.#count);
      lows.set(this.#low);
      highs.set(this.#high);
      this.#low = lows;
      this.#high = highs;
    }
    this.#low[this.#count] = low;
    this.#high[this.#count++] = high;
  }

  /** Insertion sort by lower end: few intervals, mostly in order. */
  #sort(): void {
    if (this.#sorted) return;
    this.#sorted = true;
    const low = this.#low;
    const high = this.#high;
    for (let i = 1; i < this.#count; i++) {
      const l = low[i] as number;
      const h = high[i] as number;
      let k = i;
      while (k > 0 && (low[k - 1] as number) > l) {
        low[k] = low[k - 1] as number;
        high[k] = high[k - 1] as number;
        k--;
      }
      low[k] = l;
      high[k] = h;
    }
  }
}
