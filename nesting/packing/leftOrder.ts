/**
 * Bounding boxes of copies where they lie, and the copies in the order of their left edges. Which copies a box can meet at
 * all is then a stretch of that order: those whose left edge is left of its right one, but no further left of its left one
 * than the longest copy is long.
 *
 *     bounds[4i … 4i+3]   minX minY maxX maxY of copy i
 *     order[k], lefts[k]  the copy in place k, and its left edge
 */
export class LeftOrder {
  readonly bounds: Float64Array;
  readonly order: Int32Array;
  readonly lefts: Float64Array;
  /** Where each copy stands in the order. */
  readonly #place: Int32Array;
  /** The greatest length along x that any copy can have. */
  readonly longest: number;

  constructor(count: number, longest: number) {
    this.bounds = new Float64Array(4 * count);
    this.order = Int32Array.from({ length: count }, (_, i) => i);
    this.lefts = new Float64Array(count);
    this.#place = this.order.slice();
    this.longest = longest;
  }

  /** Orders everything anew after `bounds` was filled; by insertion, because mostly little has changed. */
  sort(): void {
    const { bounds, order, lefts } = this;
    for (let k = 0; k < order.length; k++) {
      const copy = order[k] as number;
      const left = bounds[4 * copy] as number;
      let m = k;
      while (m > 0 && (lefts[m - 1] as number) > left) {
        lefts[m] = lefts[m - 1] as number;
        order[m] = order[m - 1] as number;
        m--;
      }
      lefts[m] = left;
      order[m] = copy;
    }
    for (let k = 0; k < order.length; k++) this.#place[order[k] as number] = k;
  }

  /** Moves one copy to its place again after its bounds have changed. */
  move(copy: number): void {
    const { order, lefts } = this;
    const place = this.#place;
    const left = this.bounds[4 * copy] as number;
    let k = place[copy] as number;
    while (k > 0 && (lefts[k - 1] as number) > left) {
      lefts[k] = lefts[k - 1] as number;
      order[k] = order[k - 1] as number;
      place[order[k] as number] = k;
      k--;
    }
    while (k < order.length - 1 && (lefts[k + 1] as number) < left) {
      lefts[k] = lefts[k + 1] as number;
      order[k] = order[k + 1] as number;
      place[order[k] as number] = k;
      k++;
    }
    lefts[k] = left;
    order[k] = copy;
    place[copy] = k;
  }

  /** First place in the order of a copy that can reach to the right of `left`. */
  firstFrom(left: number): number {
    return this.firstNotBefore(left - this.longest);
  }

  /** First place in the order of a copy whose left edge is not left of `least`; the number of copies if there is none. */
  firstNotBefore(least: number): number {
    const { lefts } = this;
    let low = 0;
    let high = lefts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((lefts[middle] as number) < least) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
