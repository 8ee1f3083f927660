import type { DepthTables } from './depthTables.ts';

/** Half-planes that a region is made of, at most: more are never needed near one polygon, but nothing may run on. */
const MOST_PLANES = 24;

/**
 * A convex part of what a no-fit polygon leaves free around a position, as half-planes: as long as the reference point
 * stays in all of them, and within the reach that was asked for, nothing overlaps.
 *
 * Greedy, as in the inflation of regions free of obstacles (Deits & Tedrake 2015; from memory): the line of the nearest
 * edge is a half-plane, all beyond it is cut off, then that of the nearest edge that is left, until none is within reach.
 * Around a position in the forbidden part the region is that of the nearest point of its boundary.
 *
 *              ____________
 *             |  forbidden |       · position       ‖ first half-plane
 *             |     ‖‖‖‖‖‖‖|‖‖‖‖   the edges above it are cut off and never looked at
 *             |_____|  ·
 *
 *     planes   [nx ny c]   nx·x + ny·y ≥ c, the normal (nx, ny) of unit length; 3 doubles each of `count`
 */
export class FreeRegion {
  count = 0;
  readonly planes = new Float64Array(3 * MOST_PLANES);
  readonly #tables: DepthTables;
  /** What is left of the edges: ax ay bx by each, and the offset of the whole edge in the tables. */
  #stretches = new Float64Array(4 * 256);
  #edges = new Int32Array(256);
  #left = 0;
  #x = 0;
  #y = 0;
  #touch = 0;

  constructor(tables: DepthTables) {
    this.#tables = tables;
  }

  /**
   * Works out `planes` for a table around the position (x, y). What is nearer than `touch` counts as touching.
   * All lengths in the units of the tables.
   */
  around(table: number, x: number, y: number, reach: number, touch: number): void {
    const { edges, probe } = this.#tables;
    this.count = 0;
    this.#x = x;
    this.#y = y;
    this.#touch = touch;
    const depth = this.#tables.depth(table, x, y);
    const nearest = probe[3] as number;
    this.#collect(table, reach + depth);
    if (depth > 0) {
      const ux = edges[nearest + 2] as number;
      const uy = edges[nearest + 3] as number;
      const length = edges[nearest + 4] as number;
      const along = (x - (edges[nearest] as number)) * ux + (y - (edges[nearest + 1] as number)) * uy;
      const onEdge = Math.min(Math.max(along, 0), length);
      this.#x = (edges[nearest] as number) + onEdge * ux;
      this.#y = (edges[nearest + 1] as number) + onEdge * uy;
      if (along > 0 && along < length) this.#addLine(nearest);
      else if (depth > touch) this.#add((this.#x - x) / depth, (this.#y - y) / depth, this.#x, this.#y);
    }
    while (this.#left > 0 && this.count < MOST_PLANES && this.#cutNearest(reach + depth));
  }

  /** Takes in the edges of a table that are not wholly out of reach. */
  #collect(table: number, reach: number): void {
    const { edges, place } = this.#tables;
    const from = place[5 * table + 2] as number;
    const to = place[5 * table + 3] as number;
    const x = this.#x;
    const y = this.#y;
    if (to - from > this.#edges.length) {
      this.#edges = new Int32Array(2 * (to - from));
      this.#stretches = new Float64Array(8 * (to - from));
    }
    this.#left = 0;
    for (let e = 8 * from; e < 8 * to; e += 8) {
      const ax = edges[e] as number;
      const ay = edges[e + 1] as number;
      const bx = edges[e + 6] as number;
      const by = edges[e + 7] as number;
      if (
        Math.max(ax, bx) < x - reach ||
        Math.min(ax, bx) > x + reach ||
        Math.max(ay, by) < y - reach ||
        Math.min(ay, by) > y + reach
      )
        continue;
      this.#stretches.set([ax, ay, bx, by], 4 * this.#left);
      this.#edges[this.#left++] = e;
    }
  }

  /** Adds the half-plane of the nearest stretch that is left, which cuts that off; false if it is out of reach. */
  #cutNearest(reach: number): boolean {
    const stretches = this.#stretches;
    const x = this.#x;
    const y = this.#y;
    const touch = this.#touch;
    let least = reach;
    let best = -1;
    let nearX = 0;
    let nearY = 0;
    let facing = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < this.#left; k++) {
      const ax = stretches[4 * k] as number;
      const ay = stretches[4 * k + 1] as number;
      const dx = (stretches[4 * k + 2] as number) - ax;
      const dy = (stretches[4 * k + 3] as number) - ay;
      const square = dx * dx + dy * dy;
      const part = square > 0 ? ((x - ax) * dx + (y - ay) * dy) / square : 0;
      const on = Math.min(1, Math.max(0, part));
      const px = ax + on * dx;
      const py = ay + on * dy;
      const distance = Math.hypot(x - px, y - py);
      if (distance > least + touch) continue;
      // Where two edges meet, both are as near: the line of the one that faces the position more leaves more room.
      const line = this.#above(this.#edges[k] as number);
      if (best >= 0 && distance >= least - touch && line <= facing) continue;
      least = Math.min(least, distance);
      best = k;
      nearX = px;
      nearY = py;
      facing = line;
    }
    if (best < 0) return false;
    // A stretch whose end is a cut may be near without facing the position.
    if (facing >= -touch || least <= touch) this.#addLine(this.#edges[best] as number);
    else this.#add((x - nearX) / least, (y - nearY) / least, nearX, nearY);
    return true;
  }

  /** How far the position is on the free side of an edge's line; negative on the other. */
  #above(e: number): number {
    const { edges } = this.#tables;
    const qx = this.#x - (edges[e] as number);
    const qy = this.#y - (edges[e + 1] as number);
    return qx * (edges[e + 3] as number) - qy * (edges[e + 2] as number);
  }

  /** The free side of an edge's line. */
  #addLine(e: number): void {
    const { edges } = this.#tables;
    this.#add(edges[e + 3] as number, -(edges[e + 2] as number), edges[e] as number, edges[e + 1] as number);
  }

  /** Adds the half-plane with its border through (px, py), and leaves of the stretches what lies in it. */
  #add(nx: number, ny: number, px: number, py: number): void {
    const c = nx * px + ny * py;
    this.planes.set([nx, ny, c], 3 * this.count++);
    const stretches = this.#stretches;
    const touch = this.#touch;
    let left = 0;
    for (let k = 0; k < this.#left; k++) {
      const ax = stretches[4 * k] as number;
      const ay = stretches[4 * k + 1] as number;
      const bx = stretches[4 * k + 2] as number;
      const by = stretches[4 * k + 3] as number;
      const a = nx * ax + ny * ay - c;
      const b = nx * bx + ny * by - c;
      if (a <= touch && b <= touch) continue;
      const t = a / (a - b);
      const cutX = ax + t * (bx - ax);
      const cutY = ay + t * (by - ay);
      stretches[4 * left] = a < 0 ? cutX : ax;
      stretches[4 * left + 1] = a < 0 ? cutY : ay;
      stretches[4 * left + 2] = b < 0 ? cutX : bx;
      stretches[4 * left + 3] = b < 0 ? cutY : by;
      this.#edges[left++] = this.#edges[k] as number;
    }
    this.#left = left;
  }
}
