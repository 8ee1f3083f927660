import { Field } from '../nfp/overlapField.ts';
import type { Arrangement } from './arrangement.ts';
import type { Model } from './model.ts';
import type { Windows } from './windows.ts';

/**
 * A search's working state: an arrangement in which pieces may overlap, how deep each pair does, and how much
 * each pair's depth counts. All n × n matrices are symmetric and flat; row i starts at i · n.
 *
 *     depth[i·n + j]    depth of overlap of copies i and j, mm
 *     factor[i·n + j]   what that depth costs per mm: weight times scale
 *     scale[i·n + j]    least factor: (Aᵢ · Aⱼ / mean area²)^¼, so that large pieces sort themselves out first
 *     outside[i]        how far copy i is outside its sheet or in blocked area
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
    this.depth.fill(0);
    for (let i = 0; i < this.n; i++) this.refreshCopy(i);
  }

  /** Works out the depths of one copy with all others, after it was moved. */
  refreshCopy(i: number): void {
    const { n, depth, touch, model } = this;
    const { room, pose, x, y } = this.arrangement;
    const box = model.poses.spacedBox;
    const own = room[i] as number;
    const q = pose[i] as number;
    const qx = x[i] as number;
    const qy = y[i] as number;
    const left = qx + (box[4 * q] as number);
    const low = qy + (box[4 * q + 1] as number);
    const right = qx + (box[4 * q + 2] as number);
    const high = qy + (box[4 * q + 3] as number);
    for (let j = 0; j < n; j++) {
      let d = 0;
      if (j !== i && own >= 0 && room[j] === own) {
        const p = pose[j] as number;
        const px = x[j] as number;
        const py = y[j] as number;
        if (
          px + (box[4 * p] as number) < right &&
          px + (box[4 * p + 2] as number) > left &&
          py + (box[4 * p + 1] as number) < high &&
          py + (box[4 * p + 3] as number) > low
        )
          d = model.pairs.depth(p, px, py, q, qx, qy);
        if (d <= touch) d = 0;
      }
      depth[i * n + j] = d;
      depth[j * n + i] = d;
    }
    this.outside[i] = 0;
    const table = own >= 0 ? model.roomTable(own, q) : -1;
    if (table >= 0) {
      const d = model.pairs.tables.depth(table, qx, qy);
      this.outside[i] = d <= touch ? 0 : d;
    }
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
   * Fills a field with all other copies of a room, as pose q of copy i would meet them; with windows along x given,
   * only with those that reach into one of them.
   */
  collect(field: Field, i: number, q: number, inRoom: number, windows: Windows | null): void {
    const { n, factor, model } = this;
    const { room, pose, x, y } = this.arrangement;
    const { pairs } = model;
    const column = pairs.column(q);
    const box = model.poses.spacedBox;
    field.clear();
    for (let j = 0; j < n; j++) {
      if (j === i || room[j] !== inRoom) continue;
      if (windows) {
        const p = 4 * (pose[j] as number);
        const at = x[j] as number;
        if (!windows.meets(at + (box[p] as number), at + (box[p + 2] as number))) continue;
      }
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
    field.sheet = model.roomTable(inRoom, q);
    field.sheetFactor = this.outsideFactor[i] as number;
  }

  newField(): Field {
    return new Field(this.model.pairs, this.n);
  }
}
