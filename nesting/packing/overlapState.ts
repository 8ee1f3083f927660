import { Field } from '../nfp/overlapField.ts';
import type { Arrangement } from './arrangement.ts';
import { LeftOrder } from './leftOrder.ts';
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
 *
 * Few of all pairs ever overlap. Those that do, or whose factor is not back at the least since they did, are listed as
 * active; all sums and all changes of weights go over these only.
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
  /** Question and answer of `weigh`: x, y, limit; sum. */
  readonly probe = new Float64Array(4);
  readonly #order: LeftOrder;
  /** Active pairs, as i · n + j with i > j, and a flag for each pair. */
  #active = new Int32Array(256);
  #activeCount = 0;
  readonly #isActive: Uint8Array;
  readonly #marks: Uint8Array;
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
    this.#isActive = new Uint8Array(n * n);
    this.#marks = new Uint8Array(n);
    this.#roomTables = new Int32Array(model.rooms.length * model.poses.count).fill(UNKNOWN_TABLE);
    this.#order = new LeftOrder(n, longestPose(model));
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
    this.#isActive.fill(0);
    this.#activeCount = 0;
  }

  /** Works out all depths anew. */
  refresh(): void {
    this.depth.fill(0);
    for (let i = 0; i < this.n; i++) this.#bound(i);
    this.#order.sort();
    for (let i = 0; i < this.n; i++) this.#deepen(i);
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
    this.#order.move(i);
    this.#deepen(i);
  }

  #bound(i: number): void {
    const { bounds } = this.#order;
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

  /** Fills row and column i, which hold nothing, with the depths of copy i. */
  #deepen(i: number): void {
    const { n, depth, touch, model } = this;
    const { bounds, order, lefts } = this.#order;
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
    for (let k = this.#order.firstFrom(left); k < n; k++) {
      if ((lefts[k] as number) >= right) break;
      const j = order[k] as number;
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
      this.#activate(i > j ? i * n + j : j * n + i);
    }
    const table = this.#roomTable(own, q);
    if (table < 0) return;
    const d = model.pairs.tables.depth(table, qx, qy);
    this.outside[i] = d <= touch ? 0 : d;
  }

  #activate(pair: number): void {
    if (this.#isActive[pair] === 1) return;
    this.#isActive[pair] = 1;
    if (this.#activeCount === this.#active.length) {
      const longer = new Int32Array(2 * this.#activeCount);
      longer.set(this.#active);
      this.#active = longer;
    }
    this.#active[this.#activeCount++] = pair;
  }

  /** Scaled but unweighted depth of everything: what separation brings to 0. */
  totalOverlap(): number {
    const { n, depth, scale } = this;
    let sum = 0;
    for (let i = 0; i < n; i++) sum += (this.outsideScale[i] as number) * (this.outside[i] as number);
    for (let a = 0; a < this.#activeCount; a++) {
      const pair = this.#active[a] as number;
      sum += (scale[pair] as number) * (depth[pair] as number);
    }
    return sum;
  }

  /** Lists the copies that overlap something, or lie outside, by their numbers. */
  overlapping(into: number[]): void {
    const { n, depth, outside } = this;
    const marks = this.#marks;
    for (let i = 0; i < n; i++) marks[i] = (outside[i] as number) > 0 ? 1 : 0;
    for (let a = 0; a < this.#activeCount; a++) {
      const pair = this.#active[a] as number;
      if (depth[pair] === 0) continue;
      const i = Math.floor(pair / n);
      marks[i] = 1;
      marks[pair - i * n] = 1;
    }
    into.length = 0;
    for (let i = 0; i < n; i++) if (marks[i] === 1) into.push(i);
  }

  /**
   * Weights of what overlaps grow by a factor between `least` and `most`, by depth; those of the rest shrink to `decay`
   * of themselves, but not below 1.
   */
  adjustWeights(least: number, most: number, decay: number): void {
    const { n, depth, factor, scale, outside, outsideFactor, outsideScale } = this;
    const active = this.#active;
    let deepest = 0;
    for (let a = 0; a < this.#activeCount; a++)
      deepest = Math.max(deepest, depth[active[a] as number] as number);
    for (let i = 0; i < n; i++) deepest = Math.max(deepest, outside[i] as number);
    if (deepest === 0) return;
    let kept = 0;
    for (let a = 0; a < this.#activeCount; a++) {
      const pair = active[a] as number;
      const d = depth[pair] as number;
      const f = factor[pair] as number;
      const s = scale[pair] as number;
      const isOver = d === 0 && f * decay <= s;
      const adjusted = d > 0 ? f * (least + (most - least) * (d / deepest)) : isOver ? s : f * decay;
      const i = Math.floor(pair / n);
      factor[pair] = adjusted;
      factor[(pair - i * n) * n + i] = adjusted;
      if (isOver) this.#isActive[pair] = 0;
      else active[kept++] = pair;
    }
    this.#activeCount = kept;
    for (let i = 0; i < n; i++) {
      const d = outside[i] as number;
      const f = outsideFactor[i] as number;
      if (d > 0) outsideFactor[i] = f * (least + (most - least) * (d / deepest));
      else outsideFactor[i] = Math.max(outsideScale[i] as number, f * decay);
    }
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
    const { n, factor, model } = this;
    const { bounds, order, lefts } = this.#order;
    const { room, pose, x, y } = this.arrangement;
    const { pairs } = model;
    const column = pairs.column(q);
    const box = model.poses.spacedBox;
    const left = (rectangle[0] as number) + (box[4 * q] as number);
    const low = (rectangle[1] as number) + (box[4 * q + 1] as number);
    const right = (rectangle[2] as number) + (box[4 * q + 2] as number);
    const high = (rectangle[3] as number) + (box[4 * q + 3] as number);
    field.clear();
    for (let k = this.#order.firstFrom(left); k < n; k++) {
      if ((lefts[k] as number) >= right) break;
      const j = order[k] as number;
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
    const { n, factor, model, probe } = this;
    const { bounds, order, lefts } = this.#order;
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
      tables.probe[4] = Number.POSITIVE_INFINITY;
      tables.lookUp(table);
      sum = (this.outsideFactor[i] as number) * (tables.probe[2] as number);
    }
    const left = qx + (box[4 * q] as number);
    const low = qy + (box[4 * q + 1] as number);
    const right = qx + (box[4 * q + 2] as number);
    const high = qy + (box[4 * q + 3] as number);
    // Copies that begin within the box first, then those before it, backwards: what is nearest most likely settles it.
    const middle = this.#order.firstNotBefore(left);
    const least = left - this.#order.longest;
    let step = 1;
    for (let k = middle; sum < limit; k += step) {
      if (step > 0 && (k === n || (lefts[k] as number) >= right)) {
        step = -1;
        k = middle - 1;
      }
      if (step < 0 && (k < 0 || (lefts[k] as number) < least)) break;
      const j = order[k] as number;
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
      const counts = factor[i * n + j] as number;
      tables.probe[4] = (limit - sum) / counts;
      tables.lookUp(link >> 1);
      sum += counts * (tables.probe[2] as number);
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

/** The greatest extent along x of any pose, gap included. */
function longestPose({ poses, itemPoses }: Model): number {
  let longest = 0;
  for (const list of itemPoses)
    for (const p of list)
      longest = Math.max(
        longest,
        (poses.spacedBox[4 * p + 2] as number) - (poses.spacedBox[4 * p] as number),
      );
  return longest;
}
