import { Field } from '../nfp/overlapField.ts';
import type { Arrangement } from './arrangement.ts';
import type { Model } from './model.ts';
import type { Random } from './random.ts';

/** Stands for a room's table that was not asked for yet; −1 is none. */
const UNKNOWN_TABLE = -2;

/**
 * A search's working state: an arrangement in which pieces may overlap, how deep each pair does, and how much
 * each pair's depth counts. All n × n matrices are symmetric and flat; row i starts at i · n.
 *
 *     depth[i·n + j]    depth of overlap of copies i and j, mm
 *     factor[i·n + j]   what that depth costs per mm: weight times scale
 *     scale[i·n + j]    least factor: (Aᵢ · Aⱼ / mean area²)^¼, so that large pieces sort themselves out first
 *     outside[i]        how far copy i is outside its sheet or in blocked area
 *     bounds[4i … 4i+3] bounding box of copy i where it lies: minX minY maxX maxY
 *
 * `bounds`, and the list of copies in the order of their left edges, say which copies a figure can meet at all: those
 * whose left edge is left of its right one, but no further left of its left one than the longest copy is long.
 */
export class OverlapState {
  readonly model: Model;
  readonly arrangement: Arrangement;
  readonly n: number;
  readonly depth: Float64Array;
  readonly factor: Float64Array;
  readonly scale: Float64Array;
  readonly outside: Float64Array;
  readonly outsideFactor: Float64Array;
  readonly outsideScale: Float64Array;
  readonly bounds: Float64Array;
  /** Question and answer of `weigh`: x, y, limit; sum. */
  readonly probe = new Float64Array(4);
  /** Copies by their left edges, and these edges, `place` of a copy in both lists; the greatest length of any copy. */
  readonly #order: Int32Array;
  readonly #lefts: Float64Array;
  readonly #place: Int32Array;
  #longest = 0;
  readonly #roomTables: Int32Array;
  /** Depths up to this count as touching. */
  readonly touch: number;
  /** Length within which pieces on a strip must stay. */
  length = Number.POSITIVE_INFINITY;

  constructor(model: Model, arrangement: Arrangement, touch: number) {
    this.model = model;
    this.arrangement = arrangement;
    this.touch = touch;
    const n = arrangement.size;
    this.n = n;
    this.depth = new Float64Array(n * n);
    this.factor = new Float64Array(n * n);
    this.scale = new Float64Array(n * n);
    this.outside = new Float64Array(n);
    this.outsideFactor = new Float64Array(n);
    this.outsideScale = new Float64Array(n);
    this.bounds = new Float64Array(4 * n);
    this.#order = Int32Array.from({ length: n }, (_, i) => i);
    this.#place = this.#order.slice();
    this.#lefts = new Float64Array(n);
    this.#roomTables = new Int32Array(model.rooms.length * model.poses.count).fill(UNKNOWN_TABLE);
    const box = model.poses.spacedBox;
    for (const poses of model.itemPoses)
      for (const p of poses)
        this.#longest = Math.max(this.#longest, (box[4 * p + 2] as number) - (box[4 * p] as number));
    const mean = model.totalArea / n || 1;
    for (let i = 0; i < n; i++) {
      const a = this.#areaOf(i) / mean;
      this.outsideScale[i] = Math.sqrt(a);
      for (let j = 0; j < n; j++) this.scale[i * n + j] = (a * (this.#areaOf(j) / mean)) ** 0.25;
    }
    this.resetWeights();
  }

  #areaOf(copy: number): number {
    return this.model.itemArea[this.itemOf(copy)] as number;
  }

  itemOf(copy: number): number {
    return this.model.copies[copy]?.item ?? 0;
  }

  resetWeights(): void {
    this.factor.set(this.scale);
    this.outsideFactor.set(this.outsideScale);
  }

  /** Works out all depths anew. */
  refresh(): void {
    const { n, depth, bounds } = this;
    depth.fill(0);
    for (let i = 0; i < n; i++) this.#bound(i);
    const order = this.#order;
    const lefts = this.#lefts;
    // Insertion sort: mostly little has changed.
    for (let k = 0; k < n; k++) {
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
    for (let k = 0; k < n; k++) this.#place[order[k] as number] = k;
    for (let i = 0; i < n; i++) this.#deepen(i);
  }

  /** Works out the depths of one copy with all others, after it was moved. */
  refreshCopy(i: number): void {
    const { n, depth } = this;
    for (let j = 0, k = i * n; j < n; j++, k++) {
      if (depth[k] === 0) continue;
      depth[k] = 0;
      depth[j * n + i] = 0;
    }
    this.#bound(i);
    this.#reorder(i);
    this.#deepen(i);
  }

  #bound(i: number): void {
    const { bounds } = this;
    const box = this.model.poses.spacedBox;
    const { pose, x, y } = this.arrangement;
    const p = 4 * (pose[i] as number);
    const px = x[i] as number;
    const py = y[i] as number;
    bounds[4 * i] = px + (box[p] as number);
    bounds[4 * i + 1] = py + (box[p + 1] as number);
    bounds[4 * i + 2] = px + (box[p + 2] as number);
    bounds[4 * i + 3] = py + (box[p + 3] as number);
  }

  /** Moves a copy to its place in the order again. */
  #reorder(i: number): void {
    const order = this.#order;
    const lefts = this.#lefts;
    const place = this.#place;
    const left = this.bounds[4 * i] as number;
    let k = place[i] as number;
    while (k > 0 && (lefts[k - 1] as number) > left) {
      lefts[k] = lefts[k - 1] as number;
      order[k] = order[k - 1] as number;
      place[order[k] as number] = k;
      k--;
    }
    while (k < this.n - 1 && (lefts[k + 1] as number) < left) {
      lefts[k] = lefts[k + 1] as number;
      order[k] = order[k + 1] as number;
      place[order[k] as number] = k;
      k++;
    }
    lefts[k] = left;
    order[k] = i;
    place[i] = k;
  }

  /** First place in the order of a copy that can reach to the right of `left`. */
  #firstFrom(left: number): number {
    const lefts = this.#lefts;
    const least = left - this.#longest;
    let low = 0;
    let high = this.n;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((lefts[middle] as number) < least) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** Fills row and column i, which hold nothing, with the depths of copy i. */
  #deepen(i: number): void {
    const { n, depth, touch, model, bounds } = this;
    const { room, pose, x, y } = this.arrangement;
    const own = room[i] as number;
    this.outside[i] = 0;
    if (own < 0) return;
    const q = pose[i] as number;
    const qx = x[i] as number;
    const qy = y[i] as number;
    const left = bounds[4 * i] as number;
    const low = bounds[4 * i + 1] as number;
    const right = bounds[4 * i + 2] as number;
    const high = bounds[4 * i + 3] as number;
    for (let k = this.#firstFrom(left); k < n; k++) {
      if ((this.#lefts[k] as number) >= right) break;
      const j = this.#order[k] as number;
      const b = 4 * j;
      if (
        (bounds[b + 2] as number) <= left ||
        (bounds[b + 1] as number) >= high ||
        (bounds[b + 3] as number) <= low ||
        j === i ||
        room[j] !== own
      )
        continue;
      const d = model.pairs.depth(pose[j] as number, x[j] as number, y[j] as number, q, qx, qy);
      if (d <= touch) continue;
      depth[i * n + j] = d;
      depth[j * n + i] = d;
    }
    const table = this.#roomTable(own, q);
    if (table < 0) return;
    const d = model.pairs.tables.depth(table, qx, qy);
    this.outside[i] = d <= touch ? 0 : d;
  }

  /** Scaled but unweighted depth of everything: what separation brings to 0. */
  totalOverlap(): number {
    const { n, depth, scale } = this;
    let sum = 0;
    for (let i = 0; i < n; i++) {
      sum += (this.outsideScale[i] as number) * (this.outside[i] as number);
      for (let j = 0; j < i; j++) sum += (scale[i * n + j] as number) * (depth[i * n + j] as number);
    }
    return sum;
  }

  /** What copy i contributes to the weighted overlap. */
  costOf(i: number): number {
    const { n, depth, factor } = this;
    let sum = (this.outsideFactor[i] as number) * (this.outside[i] as number);
    for (let k = i * n; k < i * n + n; k++) {
      const d = depth[k] as number;
      if (d > 0) sum += d * (factor[k] as number);
    }
    return sum;
  }

  /** How deep copy i is in any other or outside. */
  deepestOf(i: number): number {
    const { n, depth } = this;
    let most = this.outside[i] as number;
    for (let k = i * n; k < i * n + n; k++) if ((depth[k] as number) > most) most = depth[k] as number;
    return most;
  }

  /**
   * Fills a field with the other copies of a room that pose q of copy i can meet while its reference point is in a
   * rectangle: minX minY maxX maxY.
   */
  collect(field: Field, i: number, q: number, inRoom: number, rectangle: Float64Array): void {
    const { n, factor, model, bounds } = this;
    const { room, pose, x, y } = this.arrangement;
    const { pairs } = model;
    const column = pairs.column(q);
    const box = model.poses.spacedBox;
    const left = (rectangle[0] as number) + (box[4 * q] as number);
    const low = (rectangle[1] as number) + (box[4 * q + 1] as number);
    const right = (rectangle[2] as number) + (box[4 * q + 2] as number);
    const high = (rectangle[3] as number) + (box[4 * q + 3] as number);
    field.clear();
    for (let k = this.#firstFrom(left); k < n; k++) {
      if ((this.#lefts[k] as number) >= right) break;
      const j = this.#order[k] as number;
      const b = 4 * j;
      if (
        (bounds[b + 2] as number) <= left ||
        (bounds[b + 1] as number) >= high ||
        (bounds[b + 3] as number) <= low ||
        j === i ||
        room[j] !== inRoom
      )
        continue;
      field.add(
        pairs,
        column,
        q,
        pose[j] as number,
        x[j] as number,
        y[j] as number,
        factor[i * n + j] as number,
      );
    }
    field.sheet = this.#roomTable(inRoom, q);
    field.sheetFactor = this.outsideFactor[i] as number;
  }

  /**
   * What copy i would contribute to the weighted overlap in pose q of a room, at the position in `probe`; gives up with
   * what it has once that reaches the limit. The answer is in `probe` as well: numbers handed to and from a method that is
   * not inlined would be boxed one by one.
   */
  weigh(i: number, q: number, inRoom: number): void {
    const { n, factor, model, bounds, probe } = this;
    const { room, pose, x, y } = this.arrangement;
    const { pairs, poses } = model;
    const { tables } = pairs;
    const { matrix } = poses;
    const column = pairs.column(q);
    const box = poses.spacedBox;
    const qx = probe[0] as number;
    const qy = probe[1] as number;
    const limit = probe[2] as number;
    let sum = 0;
    const table = this.#roomTable(inRoom, q);
    if (table >= 0) {
      tables.probe[0] = qx;
      tables.probe[1] = qy;
      tables.lookUp(table);
      sum = (this.outsideFactor[i] as number) * (tables.probe[2] as number);
    }
    const left = qx + (box[4 * q] as number);
    const low = qy + (box[4 * q + 1] as number);
    const right = qx + (box[4 * q + 2] as number);
    const high = qy + (box[4 * q + 3] as number);
    for (let k = this.#firstFrom(left); k < n && sum < limit; k++) {
      if ((this.#lefts[k] as number) >= right) break;
      const j = this.#order[k] as number;
      const b = 4 * j;
      if (
        (bounds[b + 2] as number) <= left ||
        (bounds[b + 1] as number) >= high ||
        (bounds[b + 3] as number) <= low ||
        j === i ||
        room[j] !== inRoom
      )
        continue;
      const p = pose[j] as number;
      let link = column[p] as number;
      if (link < 0) link = pairs.link(p, q);
      const swapped = (link & 1) !== 0;
      const dx = swapped ? (x[j] as number) - qx : qx - (x[j] as number);
      const dy = swapped ? (y[j] as number) - qy : qy - (y[j] as number);
      const m = 4 * (swapped ? q : p);
      // The inverse of a rotation or reflection is its transpose.
      tables.probe[0] = (matrix[m] as number) * dx + (matrix[m + 2] as number) * dy;
      tables.probe[1] = (matrix[m + 1] as number) * dx + (matrix[m + 3] as number) * dy;
      tables.lookUp(link >> 1);
      sum += (factor[i * n + j] as number) * (tables.probe[2] as number);
    }
    probe[3] = sum;
  }

  /** `Model.roomTable`, remembered in a flat array: it is asked for with every sample. */
  #roomTable(room: number, pose: number): number {
    const slot = room * this.model.poses.count + pose;
    let table = this.#roomTables[slot] as number;
    if (table === UNKNOWN_TABLE) {
      table = this.model.roomTable(room, pose);
      this.#roomTables[slot] = table;
    }
    return table;
  }

  /** A random other copy of a room, or −1 if a few draws find none. */
  otherThan(i: number, inRoom: number, random: Random): number {
    const { room } = this.arrangement;
    for (let draws = 0; draws < 8; draws++) {
      const j = random.below(this.n);
      if (j !== i && room[j] === inRoom) return j;
    }
    return -1;
  }

  newField(): Field {
    return new Field(this.model.pairs, this.n);
  }
}
