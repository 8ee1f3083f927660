import type { LatticeSteps } from './lattice.ts';
import type { OverlapState } from './overlapState.ts';
import type { Random } from './random.ts';
import { Ranges } from './ranges.ts';
import { PositionBounds, REFINEMENT, Refinement, type RefinementSteps } from './refinement.ts';

/** How a copy looks for a better place. Lengths are parts of the shorter side of its bounding box. */
export const SAMPLING = {
  /** Points anywhere in the container. */
  anywhere: 20,
  /** Points on the boundary of the no-fit polygon of a random other copy. */
  contacts: 20,
  /** Points near where the copy is. */
  nearby: 20,
  /** Radius of "near". */
  radius: 0.5,
  /** So many of the best samples are refined. */
  kept: 3,
  /** Their refinement ends at a step this small. */
  coarseEnd: 0.02,
  /**
   * That of the best of them, refined again, ends at a step this small, or at a part of how deep the copy overlaps,
   * whichever is less, but no finer than the last.
   */
  fineEnd: 1e-3,
  finePart: 0.05,
  finest: 1e-7,
} as const;

/**
 * Moves single copies to the place of least weighted overlap that sampling and refinement can find. Sampling in
 * three ways and refining the best few follows Gardeyn, Vanden Berghe & Wauters 2025; depths instead of overlap
 * proxies follow Umetani et al. 2009.
 */
export class Relocation {
  readonly #state: OverlapState;
  readonly #random: Random;
  readonly #ranges: Ranges;
  /** Rooms that may be used now, by item. */
  #openRooms: Int32Array[] = [];
  /** The range of the pose under consideration. */
  readonly #bounds = new PositionBounds();
  readonly #refinement: Refinement;
  // The best samples, best first; parallel arrays.
  readonly #keptX = new Float64Array(SAMPLING.kept);
  readonly #keptY = new Float64Array(SAMPLING.kept);
  readonly #keptValue = new Float64Array(SAMPLING.kept);
  readonly #keptPose = new Int32Array(SAMPLING.kept);
  readonly #keptRoom = new Int32Array(SAMPLING.kept);
  readonly #lattices: readonly (LatticeSteps | null)[];
  /** The position under consideration. */
  readonly #at = new Float64Array(2);
  #samples = 0;

  constructor(state: OverlapState, random: Random) {
    this.#state = state;
    this.#random = random;
    this.#ranges = new Ranges(state.model);
    this.#lattices = state.model.lattices;
    this.#refinement = new Refinement(state, random, this.#bounds);
    this.openRooms(() => true);
  }

  /** Evaluations so far, for measuring. */
  get evaluations(): number {
    return this.#samples + this.#refinement.evaluations;
  }

  /** Says which rooms copies may move to from now on; those an item may not enter are left out anyway. */
  openRooms(isOpen: (room: number) => boolean): void {
    const { model } = this.#state;
    this.#openRooms = model.itemPoses.map((poses, item) => {
      const rooms: number[] = [];
      model.rooms.forEach(({ container }, room) => {
        if (!isOpen(room) || !model.allowed[item]?.[container]) return;
        if (poses.some((pose) => this.#ranges.offset(room, item, pose) >= 0)) rooms.push(room);
      });
      return Int32Array.from(rooms);
    });
  }

  /** Rooms that a copy may move to. */
  roomsOf(copy: number): Int32Array {
    return this.#openRooms[this.#state.itemOf(copy)] as Int32Array;
  }

  /** Brings a copy's position into its range, for instance after the strip was shortened. */
  clamp(copy: number): void {
    const { arrangement } = this.#state;
    const pose = arrangement.pose[copy] as number;
    if (!this.#setRange(arrangement.room[copy] as number, copy, pose)) return;
    const at = this.#at;
    at[0] = arrangement.x[copy] as number;
    at[1] = arrangement.y[copy] as number;
    // Where a lattice leaves no place within the length, the copy stays beyond it, but on its lattice.
    if (!this.#snap(pose) && !this.#snapAnywhere(arrangement.room[copy] as number, copy, pose)) return;
    arrangement.x[copy] = at[0];
    arrangement.y[copy] = at[1];
  }

  /** Puts a copy in a random pose at a random place of a room; false if it has none there. */
  scatter(copy: number, room: number): boolean {
    const { arrangement, model } = this.#state;
    const poses = model.itemPoses[this.#state.itemOf(copy)] as Int32Array;
    for (let tries = 0; tries < 2 * poses.length; tries++) {
      const pose = poses[this.#random.below(poses.length)] as number;
      if (!this.#setRange(room, copy, pose)) continue;
      this.#setAnywhere();
      if (!this.#snap(pose)) continue;
      arrangement.room[copy] = room;
      arrangement.pose[copy] = pose;
      arrangement.x[copy] = this.#at[0] as number;
      arrangement.y[copy] = this.#at[1] as number;
      return true;
    }
    return false;
  }

  /**
   * Looks for a better place for a copy and takes it. Returns whether it moved; depths are then
   * up to date.
   */
  improve(copy: number): boolean {
    const state = this.#state;
    const { arrangement, model } = state;
    const before = state.costOf(copy);
    if (before === 0) return false;
    this.#keptValue.fill(before);
    this.#keptPose.fill(-1);
    const room0 = arrangement.room[copy] as number;
    const pose0 = arrangement.pose[copy] as number;
    const x0 = arrangement.x[copy] as number;
    const y0 = arrangement.y[copy] as number;
    const poses = model.itemPoses[state.itemOf(copy)] as Int32Array;
    const rooms = this.roomsOf(copy);
    this.#sampleAnywhere(copy, poses, rooms);
    this.#sampleContacts(copy, poses, rooms);
    this.#sampleNearby(copy, poses);

    const refinement = this.#refinement;
    let bestValue = before;
    let bestX = x0;
    let bestY = y0;
    let bestPose = pose0;
    let bestRoom = room0;
    for (let k = 0; k < SAMPLING.kept; k++) {
      const pose = this.#keptPose[k] as number;
      if (pose < 0) continue;
      const room = this.#keptRoom[k] as number;
      this.#refine(copy, room, pose, k, REFINEMENT.coarse, SAMPLING.coarseEnd);
      if (refinement.value < bestValue) {
        bestValue = refinement.value;
        bestX = refinement.x;
        bestY = refinement.y;
        bestPose = pose;
        bestRoom = room;
      }
    }
    // If no sample was better, where it is may still want a nudge.
    this.#keptX[0] = bestX;
    this.#keptY[0] = bestY;
    this.#keptValue[0] = bestValue;
    const deep = (SAMPLING.finePart * state.deepestOf(copy)) / this.#shorterSide(pose0);
    const fineEnd = Math.max(SAMPLING.finest, Math.min(SAMPLING.fineEnd, deep));
    this.#refine(copy, bestRoom, bestPose, 0, REFINEMENT.fine, fineEnd);
    if (refinement.value >= before) return false;
    arrangement.room[copy] = bestRoom;
    arrangement.pose[copy] = bestPose;
    arrangement.x[copy] = refinement.x;
    arrangement.y[copy] = refinement.y;
    state.refreshCopy(copy);
    return true;
  }

  // Short methods, each with its own loop: a compiler has only so much room for inlining in one, and what it doesn't inline
  // boxes every number it returns.

  #sampleAnywhere(copy: number, poses: Int32Array, rooms: Int32Array): void {
    const random = this.#random;
    for (let k = 0; k < SAMPLING.anywhere; k++) {
      const pose = poses[random.below(poses.length)] as number;
      const room = this.#anyRoom(copy, rooms);
      if (!this.#setRange(room, copy, pose)) continue;
      this.#setAnywhere();
      this.#try(copy, pose, room);
    }
  }

  #sampleContacts(copy: number, poses: Int32Array, rooms: Int32Array): void {
    const random = this.#random;
    for (let k = 0; k < SAMPLING.contacts; k++) {
      const pose = poses[random.below(poses.length)] as number;
      const room = this.#anyRoom(copy, rooms);
      const other = this.#state.otherThan(copy, room, random);
      if (other < 0 || !this.#setRange(room, copy, pose)) continue;
      this.#touch(other, pose);
      this.#try(copy, pose, room);
    }
  }

  #sampleNearby(copy: number, poses: Int32Array): void {
    const { arrangement } = this.#state;
    const random = this.#random;
    const at = this.#at;
    const pose0 = arrangement.pose[copy] as number;
    const room = arrangement.room[copy] as number;
    const radius = SAMPLING.radius * this.#shorterSide(pose0);
    for (let k = 0; k < SAMPLING.nearby; k++) {
      const pose = k % 2 === 0 ? pose0 : (poses[random.below(poses.length)] as number);
      if (!this.#setRange(room, copy, pose)) continue;
      at[0] = (arrangement.x[copy] as number) + random.between(-radius, radius);
      at[1] = (arrangement.y[copy] as number) + random.between(-radius, radius);
      this.#try(copy, pose, room);
    }
  }

  #setAnywhere(): void {
    const bounds = this.#bounds;
    this.#at[0] = this.#random.between(bounds.minX, bounds.maxX);
    this.#at[1] = this.#random.between(bounds.minY, bounds.maxY);
  }

  #anyRoom(copy: number, rooms: Int32Array): number {
    if (rooms.length === 1) return this.#state.arrangement.room[copy] as number;
    return rooms[this.#random.below(rooms.length)] as number;
  }

  #shorterSide(pose: number): number {
    const box = this.#state.model.poses.bodyBox;
    return Math.min(
      (box[4 * pose + 2] as number) - (box[4 * pose] as number),
      (box[4 * pose + 3] as number) - (box[4 * pose + 1] as number),
    );
  }

  /** Sets the range of a pose; false if it has none in the room. */
  #setRange(room: number, copy: number, pose: number): boolean {
    const state = this.#state;
    const offset = this.#ranges.offset(room, state.itemOf(copy), pose);
    if (offset < 0) return false;
    const range = this.#ranges.values;
    const bounds = this.#bounds;
    bounds.minX = range[offset] as number;
    bounds.minY = range[offset + 1] as number;
    bounds.maxX = range[offset + 2] as number;
    bounds.maxY = range[offset + 3] as number;
    if (state.model.stripWidth > 0) {
      const limit = state.length - (state.model.poses.bodyBox[4 * pose + 2] as number);
      bounds.maxX = Math.max(bounds.minX, Math.min(bounds.maxX, limit));
    }
    return true;
  }

  /** Brings a position into the range that is set, and onto the pose's lattice if it has one; false if it has no place. */
  #snap(pose: number): boolean {
    const { minX, minY, maxX, maxY } = this.#bounds;
    const at = this.#at;
    const lattice = this.#lattices[pose];
    if (!lattice) {
      at[0] = Math.min(Math.max(at[0] as number, minX), maxX);
      at[1] = Math.min(Math.max(at[1] as number, minY), maxY);
      return true;
    }
    if (!lattice.snap(at[0] as number, at[1] as number, minX, minY, maxX, maxY)) return false;
    at[0] = lattice.x;
    at[1] = lattice.y;
    return true;
  }

  /** The same in the whole range of a pose, however long the strip is now. */
  #snapAnywhere(room: number, copy: number, pose: number): boolean {
    const offset = this.#ranges.offset(room, this.#state.itemOf(copy), pose);
    if (offset < 0) return false;
    const { values } = this.#ranges;
    const bounds = this.#bounds;
    bounds.minX = values[offset] as number;
    bounds.minY = values[offset + 1] as number;
    bounds.maxX = values[offset + 2] as number;
    bounds.maxY = values[offset + 3] as number;
    if (this.#snap(pose)) return true;
    this.#at[0] = bounds.minX;
    this.#at[1] = bounds.minY;
    return this.#snap(pose);
  }

  /** Looks at the position in #at; kept if it is among the best. The range of the pose must be set. */
  #try(copy: number, pose: number, room: number): void {
    if (!this.#snap(pose)) return;
    const x = this.#at[0] as number;
    const y = this.#at[1] as number;
    const kept = this.#keptValue;
    let k: number = SAMPLING.kept - 1;
    const limit = kept[k] as number;
    this.#samples++;
    const { probe } = this.#state;
    probe[0] = x;
    probe[1] = y;
    probe[2] = limit;
    this.#state.weigh(copy, pose, room);
    const value = probe[3] as number;
    if (value >= limit) return;
    while (k > 0 && (kept[k - 1] as number) > value) {
      kept[k] = kept[k - 1] as number;
      this.#keptX[k] = this.#keptX[k - 1] as number;
      this.#keptY[k] = this.#keptY[k - 1] as number;
      this.#keptPose[k] = this.#keptPose[k - 1] as number;
      this.#keptRoom[k] = this.#keptRoom[k - 1] as number;
      k--;
    }
    kept[k] = value;
    this.#keptX[k] = x;
    this.#keptY[k] = y;
    this.#keptPose[k] = pose;
    this.#keptRoom[k] = room;
  }

  /** Makes a position where the pose touches another copy the next sample. */
  #touch(other: number, pose: number): void {
    const state = this.#state;
    const random = this.#random;
    const { arrangement } = state;
    const { pairs, poses } = state.model;
    const { tables } = pairs;
    const p = arrangement.pose[other] as number;
    const link = pairs.link(p, pose);
    const swapped = (link & 1) !== 0;
    const sign = swapped ? -1 : 1;
    const m = 4 * (swapped ? pose : p);
    const table = 5 * (link >> 1);
    const from = tables.place[table + 2] as number;
    const to = tables.place[table + 3] as number;
    const e = 8 * (from + random.below(to - from));
    const t = random.unit();
    const ax = tables.edges[e] as number;
    const ay = tables.edges[e + 1] as number;
    const tx = sign * (ax + t * ((tables.edges[e + 6] as number) - ax));
    const ty = sign * (ay + t * ((tables.edges[e + 7] as number) - ay));
    const { matrix } = poses;
    const at = this.#at;
    at[0] = (arrangement.x[other] as number) + (matrix[m] as number) * tx + (matrix[m + 1] as number) * ty;
    at[1] =
      (arrangement.y[other] as number) + (matrix[m + 2] as number) * tx + (matrix[m + 3] as number) * ty;
  }

  /** Improves kept sample k; the result is in the refinement. */
  #refine(
    copy: number,
    room: number,
    pose: number,
    k: number,
    steps: RefinementSteps,
    lastStep: number,
  ): void {
    const refinement = this.#refinement;
    refinement.start(this.#keptX[k] as number, this.#keptY[k] as number, this.#keptValue[k] as number);
    if (!this.#setRange(room, copy, pose)) return;
    refinement.run(copy, pose, room, this.#shorterSide(pose), steps, lastStep);
  }
}
