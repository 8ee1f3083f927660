import { TOUCH_RELATIVE } from '../geometry/tolerances.ts';
import type { Arrangement } from './arrangement.ts';
import type { LatticeSteps } from './lattice.ts';
import type { Model, Room } from './model.ts';
import { positionRange } from './ranges.ts';
import { ScanLine } from './scanLine.ts';
import type { Container } from './types.ts';

/** Scan lines a piece: fine enough to find most gaps that the piece fits into, the slide does the rest. */
const LINES_PER_PIECE = 8;

/** With more placed copies than this, corners of no-fit polygons are not tried one by one. */
const MAX_COPIES_FOR_CORNERS = 120;

/**
 * Bottom-left placement (Baker, Coffman & Rivest 1980; with no-fit polygons: Dowsland, Vaid & Dowsland 2002):
 * one copy after the other goes as far left, then as low, as it can, into any gap that is left.
 *
 * The free region is looked at along vertical lines from left to right; corners of the no-fit polygons to the
 * left of the place found are tried as well (tight fits are there), and the copy then slides left and down.
 */
export class GreedyPlacer {
  readonly #model: Model;
  readonly #line: ScanLine;
  /** Copies placed so far, by room. */
  #placed: number[][] = [];
  /** No free place for a pose of a room to the left of this: `room · poses + pose`. */
  #emptyUpTo = new Float64Array(0);
  readonly #touch: number;
  #x = 0;
  #y = 0;

  constructor(model: Model) {
    this.#model = model;
    this.#touch = model.size * TOUCH_RELATIVE;
    this.#line = new ScanLine(model.pairs, this.#touch);
  }

  /**
   * Places copies in the given order; `poseOf(copy)` may name the one pose to use, −1 for the best of all.
   * Copies that find no place are left without a room. Returns how many were placed.
   */
  place(
    arrangement: Arrangement,
    order: ArrayLike<number>,
    poseOf: (copy: number) => number = () => -1,
    shouldStop: () => boolean = () => false,
  ): number {
    const model = this.#model;
    arrangement.room.fill(-1);
    this.#placed = model.rooms.map(() => []);
    this.#emptyUpTo = new Float64Array(model.rooms.length * model.poses.count).fill(Number.NEGATIVE_INFINITY);
    let placed = 0;
    for (let k = 0; k < order.length; k++) {
      if (shouldStop()) break;
      const copy = order[k] as number;
      if (this.#placeCopy(arrangement, copy, poseOf(copy))) placed++;
    }
    return placed;
  }

  #placeCopy(arrangement: Arrangement, copy: number, only: number): boolean {
    const model = this.#model;
    const item = model.copies[copy]?.item ?? 0;
    const all = model.itemPoses[item] as Int32Array;
    const allowed = model.allowed[item] as readonly boolean[];
    let bestEnd = Number.POSITIVE_INFINITY;
    let bestY = 0;
    let bestX = 0;
    let bestPose = -1;
    let bestRoom = -1;
    for (let room = 0; room < model.rooms.length; room++) {
      const { container } = model.rooms[room] as Room;
      if (!allowed[container]) continue;
      for (let k = 0; k < all.length; k++) {
        const pose = all[k] as number;
        if (only >= 0 && pose !== only) continue;
        const right = model.poses.bodyBox[4 * pose + 2] as number;
        if (!this.#find(arrangement, room, item, pose, bestEnd - right)) continue;
        const end = this.#x + right;
        const low = this.#y + (model.poses.bodyBox[4 * pose + 1] as number);
        if (end < bestEnd - this.#touch || (end < bestEnd + this.#touch && low < bestY)) {
          bestEnd = end;
          bestY = low;
          bestX = this.#x;
          bestPose = pose;
          bestRoom = room;
        }
      }
      // Sheets are filled one after the other; of lanes the one is taken in which the copy ends first.
      if (bestPose >= 0 && model.stripWidth === 0) break;
    }
    if (bestPose < 0) return false;
    arrangement.room[copy] = bestRoom;
    arrangement.pose[copy] = bestPose;
    arrangement.x[copy] = bestX;
    arrangement.y[copy] = bestY - (model.poses.bodyBox[4 * bestPose + 1] as number);
    this.#placed[bestRoom]?.push(copy);
    return true;
  }

  /** Looks for the leftmost place of a pose, no further right than `maxX`; leaves it in #x, #y. */
  #find(arrangement: Arrangement, room: number, item: number, pose: number, maxX: number): boolean {
    const model = this.#model;
    const range = positionRange(model, room, item, pose);
    if (!range) return false;
    const { minX, minY, maxY } = range;
    const limit = Math.min(range.maxX, maxX);
    const lattice = model.lattices[pose];
    if (lattice) return this.#findOnLattice(lattice, arrangement, room, pose, { ...range, maxX: limit });
    const box = model.poses.bodyBox;
    const step =
      Math.min(
        (box[4 * pose + 2] as number) - (box[4 * pose] as number),
        (box[4 * pose + 3] as number) - (box[4 * pose + 1] as number),
      ) / LINES_PER_PIECE;
    const slot = room * model.poses.count + pose;
    const start = Math.max(minX, this.#emptyUpTo[slot] as number);
    let x = start;
    let y = Number.NaN;
    for (;;) {
      y = this.#lowestAt(arrangement, room, pose, x, minY, maxY);
      if (!Number.isNaN(y) || x >= limit) break;
      this.#emptyUpTo[slot] = x;
      x = Math.min(x + step, limit);
    }
    const found = !Number.isNaN(y);
    this.#x = found ? x : limit;
    this.#y = y;
    const corner =
      x > start &&
      model.copies.length <= MAX_COPIES_FOR_CORNERS &&
      this.#tryCorners(arrangement, room, pose, start, minY, maxY);
    if (!found && !corner) return false;
    this.#slide(arrangement, room, pose, minX, minY);
    return true;
  }

  /**
   * The same for a pose confined to a lattice: its points, or points along its lines, are tried from left to right.
   * Beyond all that is placed every point is free, so the look ends there.
   */
  #findOnLattice(
    lattice: LatticeSteps,
    arrangement: Arrangement,
    room: number,
    pose: number,
    { minX, minY, maxX, maxY }: { minX: number; minY: number; maxX: number; maxY: number },
  ): boolean {
    const model = this.#model;
    const box = model.poses.spacedBox;
    const { steps } = lattice;
    let shortest = Number.POSITIVE_INFINITY;
    let longest = 0;
    for (let s = 0; s < steps.length; s += 2) {
      const length = Math.hypot(steps[s] as number, steps[s + 1] as number);
      shortest = Math.min(shortest, length);
      longest = Math.max(longest, length);
    }
    const height = (box[4 * pose + 3] as number) - (box[4 * pose + 1] as number);
    const step = Math.min(shortest, height / 2) / 2;
    let end = minX;
    for (const other of this.#placed[room] as number[])
      end = Math.max(
        end,
        (arrangement.x[other] as number) + (box[4 * (arrangement.pose[other] as number) + 2] as number),
      );
    for (const { blocked } of [model.problem.containers[(model.rooms[room] as Room).container] as Container])
      for (const [x] of (blocked ?? []).flat()) end = Math.max(end, x);
    const last = Math.min(maxX, end - (box[4 * pose] as number) + 2 * longest);
    for (let x = minX; x <= last + step; x += step)
      for (let y = minY; y <= maxY + step; y += step) {
        if (!lattice.snap(x, y, minX, minY, maxX, maxY)) continue;
        if (!this.#isFree(arrangement, room, pose, lattice.x, lattice.y)) continue;
        this.#x = lattice.x;
        this.#y = lattice.y;
        return true;
      }
    return false;
  }

  #lowestAt(
    arrangement: Arrangement,
    room: number,
    pose: number,
    x: number,
    minY: number,
    maxY: number,
  ): number {
    this.#line.start(true, x);
    this.#collect(arrangement, room, pose, true, x);
    return this.#line.lowest(minY, maxY);
  }

  /** Forbids on the line whatever the copies of the room and the sheet's outline forbid. */
  #collect(arrangement: Arrangement, room: number, pose: number, vertical: boolean, at: number): void {
    const model = this.#model;
    const box = model.poses.spacedBox;
    const k = vertical ? 0 : 1;
    const low = at + (box[4 * pose + k] as number);
    const high = at + (box[4 * pose + k + 2] as number);
    const axis = vertical ? arrangement.x : arrangement.y;
    for (const other of this.#placed[room] as number[]) {
      const p = arrangement.pose[other] as number;
      const there = axis[other] as number;
      if (there + (box[4 * p + k] as number) >= high || there + (box[4 * p + k + 2] as number) <= low)
        continue;
      this.#line.forbidOverlap(p, arrangement.x[other] as number, arrangement.y[other] as number, pose);
    }
    const table = model.roomTable(room, pose);
    if (table >= 0) this.#line.forbidTable(table);
  }

  /** Takes the leftmost free corner of a no-fit polygon that is left of (#x, #y), if there is one. */
  #tryCorners(
    arrangement: Arrangement,
    room: number,
    pose: number,
    minX: number,
    minY: number,
    maxY: number,
  ): boolean {
    const { pairs, poses } = this.#model;
    const { tables } = pairs;
    let found = false;
    const take = (x: number, y: number): void => {
      if (x < minX || x >= this.#x || y < minY || y > maxY) return;
      if (!this.#isFree(arrangement, room, pose, x, y)) return;
      this.#x = x;
      this.#y = y;
      found = true;
    };
    const table = this.#model.roomTable(room, pose);
    if (table >= 0) {
      const to = 8 * (tables.place[5 * table + 3] as number);
      for (let e = 8 * (tables.place[5 * table + 2] as number); e < to; e += 8)
        take(tables.edges[e] as number, clamped(tables.edges[e + 1] as number, minY, maxY));
    }
    for (const other of this.#placed[room] as number[]) {
      const p = arrangement.pose[other] as number;
      const px = arrangement.x[other] as number;
      const py = arrangement.y[other] as number;
      const link = pairs.link(p, pose);
      const swapped = (link & 1) !== 0;
      const sign = swapped ? -1 : 1;
      const m = 4 * (swapped ? pose : p);
      const a = sign * (poses.matrix[m] as number);
      const b = sign * (poses.matrix[m + 1] as number);
      const c = sign * (poses.matrix[m + 2] as number);
      const d = sign * (poses.matrix[m + 3] as number);
      const from = 8 * (tables.place[5 * (link >> 1) + 2] as number);
      const to = 8 * (tables.place[5 * (link >> 1) + 3] as number);
      for (let e = from; e < to; e += 8) {
        const ex = tables.edges[e] as number;
        const ey = tables.edges[e + 1] as number;
        take(a * ex + b * ey + px, c * ex + d * ey + py);
      }
    }
    return found;
  }

  #isFree(arrangement: Arrangement, room: number, pose: number, x: number, y: number): boolean {
    const model = this.#model;
    const table = model.roomTable(room, pose);
    if (table >= 0 && model.pairs.tables.depth(table, x, y) > this.#touch) return false;
    const box = model.poses.spacedBox;
    const left = x + (box[4 * pose] as number);
    const low = y + (box[4 * pose + 1] as number);
    const right = x + (box[4 * pose + 2] as number);
    const high = y + (box[4 * pose + 3] as number);
    for (const other of this.#placed[room] as number[]) {
      const p = arrangement.pose[other] as number;
      const px = arrangement.x[other] as number;
      const py = arrangement.y[other] as number;
      if (
        px + (box[4 * p] as number) >= right ||
        px + (box[4 * p + 2] as number) <= left ||
        py + (box[4 * p + 1] as number) >= high ||
        py + (box[4 * p + 3] as number) <= low
      )
        continue;
      if (model.pairs.depth(p, px, py, pose, x, y) > this.#touch) return false;
    }
    return true;
  }

  /** Slides the piece from (#x, #y) left and down by turns until it rests. */
  #slide(arrangement: Arrangement, room: number, pose: number, minX: number, minY: number): void {
    for (let turn = 0; turn < 4; turn++) {
      const vertical = turn % 2 === 1;
      const fixed = vertical ? this.#x : this.#y;
      const value = vertical ? this.#y : this.#x;
      this.#line.start(vertical, fixed);
      this.#collect(arrangement, room, pose, vertical, fixed);
      // The line may run along a border and see it from its other side: then there is no room to slide.
      if (!(this.#line.lowest(value, value) === value)) continue;
      const rest = this.#line.floorOf(value, vertical ? minY : minX);
      if (vertical) this.#y = rest;
      else this.#x = rest;
    }
  }
}

function clamped(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}
