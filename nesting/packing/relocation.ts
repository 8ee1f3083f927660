import type { Field } from '../nfp/overlapField.ts';
import type { LatticeSteps } from './lattice.ts';
import type { OverlapState } from './overlapState.ts';
import type { Random } from './random.ts';
import { Ranges } from './ranges.ts';
import { Windows } from './windows.ts';

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
  /** Pattern search of the kept ones: first and last step. */
  coarseStep: 0.25,
  coarseEnd: 0.02,
  /**
   * Pattern search of the best of them: it ends at a step this small, or at a part of how deep the copy overlaps,
   * whichever is less, but no finer than the last.
   */
  fineStep: 0.02,
  fineEnd: 1e-3,
  finePart: 0.05,
  finest: 1e-7,
} as const;

/** On a strip with more copies than this, a move looks into so many windows, each so many mean pieces long. */
export const WINDOWS = { fromCopies: 300, count: 3, pieces: 5 } as const;

/**
 * Moves single copies to the place of least weighted overlap that sampling and refinement can find. Sampling in
 * three ways and refining the best few by pattern search (Hooke & Jeeves 1961) follows Gardeyn, Vanden Berghe &
 * Wauters 2025; depths instead of overlap proxies follow Umetani et al. 2009.
 */
export class Relocation {
  readonly #state: OverlapState;
  readonly #random: Random;
  readonly #ranges: Ranges;
  /** Fields of the current move, one a room and pose that was asked for; the arrays are used again and again. */
  readonly #fields: Field[] = [];
  #fieldsUsed = 0;
  /** Which field belongs to a room and pose (`room · poses + pose`), valid if stamped with the current move. */
  readonly #fieldAt: Int32Array;
  readonly #stampAt: Int32Array;
  #stamp = 0;
  /** Rooms that may be used now, by item. */
  #openRooms: Int32Array[] = [];
  readonly #near: Field;
  // The range of the pose under consideration.
  #minX = 0;
  #minY = 0;
  #maxX = 0;
  #maxY = 0;
  // The best samples, best first; parallel arrays.
  readonly #keptX = new Float64Array(SAMPLING.kept);
  readonly #keptY = new Float64Array(SAMPLING.kept);
  readonly #keptValue = new Float64Array(SAMPLING.kept);
  readonly #keptPose = new Int32Array(SAMPLING.kept);
  readonly #keptRoom = new Int32Array(SAMPLING.kept);
  readonly #keptWindow = new Int32Array(SAMPLING.kept);
  /** The windows of the current move, its own first; null if it looks everywhere. */
  readonly #windows: Windows | null;
  readonly #lattices: readonly (LatticeSteps | null)[];
  #snappedX = 0;
  #snappedY = 0;
  // What the pattern search works on.
  #x = 0;
  #y = 0;
  #value = 0;
  /** Evaluations so far, for measuring. */
  evaluations = 0;

  constructor(state: OverlapState, random: Random) {
    this.#state = state;
    this.#random = random;
    this.#ranges = new Ranges(state.model);
    this.#lattices = state.model.lattices;
    this.#near = state.newField();
    const slots = state.model.rooms.length * state.model.poses.count;
    this.#fieldAt = new Int32Array(slots);
    this.#stampAt = new Int32Array(slots);
    this.openRooms(() => true);
    const isLong = state.model.stripWidth > 0 && state.n > WINDOWS.fromCopies;
    this.#windows = isLong ? new Windows(WINDOWS.count) : null;
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
    const x = arrangement.x[copy] as number;
    const y = arrangement.y[copy] as number;
    // Where a lattice leaves no place within the length, the copy stays beyond it, but on its lattice.
    if (!this.#snap(pose, x, y) && !this.#snapAnywhere(arrangement.room[copy] as number, copy, pose, x, y))
      return;
    arrangement.x[copy] = this.#snappedX;
    arrangement.y[copy] = this.#snappedY;
  }

  /** Puts a copy in a random pose at a random place of a room; false if it has none there. */
  scatter(copy: number, room: number): boolean {
    const { arrangement, model } = this.#state;
    const poses = model.itemPoses[this.#state.itemOf(copy)] as Int32Array;
    for (let tries = 0; tries < 2 * poses.length; tries++) {
      const pose = poses[this.#random.below(poses.length)] as number;
      if (!this.#setRange(room, copy, pose)) continue;
      const x = this.#random.between(this.#minX, this.#maxX);
      if (!this.#snap(pose, x, this.#random.between(this.#minY, this.#maxY))) continue;
      arrangement.room[copy] = room;
      arrangement.pose[copy] = pose;
      arrangement.x[copy] = this.#snappedX;
      arrangement.y[copy] = this.#snappedY;
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
    const random = this.#random;
    const room0 = arrangement.room[copy] as number;
    const poses = model.itemPoses[state.itemOf(copy)] as Int32Array;
    const before = state.costOf(copy);
    if (before === 0) return false;
    this.#stamp++;
    this.#fieldsUsed = 0;
    this.#keptValue.fill(before);
    this.#keptPose.fill(-1);
    const pose0 = arrangement.pose[copy] as number;
    const x0 = arrangement.x[copy] as number;
    const y0 = arrangement.y[copy] as number;
    const side = this.#shorterSide(pose0);

    const windows = this.#openWindows(copy);
    const rooms = this.roomsOf(copy);
    for (let k = 0; k < SAMPLING.anywhere; k++) {
      const pose = poses[random.below(poses.length)] as number;
      const room = rooms.length === 1 ? room0 : (rooms[random.below(rooms.length)] as number);
      const window = windows === 0 ? 0 : k % windows;
      if (!this.#setRange(room, copy, pose, window)) continue;
      const x = random.between(this.#minX, this.#maxX);
      this.#try(copy, pose, room, window, x, random.between(this.#minY, this.#maxY));
    }
    for (let k = 0; k < SAMPLING.contacts; k++) {
      const pose = poses[random.below(poses.length)] as number;
      const room = rooms.length === 1 ? room0 : (rooms[random.below(rooms.length)] as number);
      this.#tryContact(copy, pose, room, windows === 0 ? 0 : k % windows);
    }
    const radius = SAMPLING.radius * side;
    for (let k = 0; k < SAMPLING.nearby; k++) {
      const pose = k % 2 === 0 ? pose0 : (poses[random.below(poses.length)] as number);
      if (!this.#setRange(room0, copy, pose, 0)) continue;
      const x = x0 + random.between(-radius, radius);
      this.#try(copy, pose, room0, 0, x, y0 + random.between(-radius, radius));
    }

    let bestValue = before;
    let bestX = x0;
    let bestY = y0;
    let bestPose = pose0;
    let bestRoom = room0;
    let bestWindow = 0;
    for (let k = 0; k < SAMPLING.kept; k++) {
      const pose = this.#keptPose[k] as number;
      if (pose < 0) continue;
      const room = this.#keptRoom[k] as number;
      this.#refine(copy, room, pose, k, SAMPLING.coarseStep, SAMPLING.coarseEnd);
      if (this.#value < bestValue) {
        bestValue = this.#value;
        bestX = this.#x;
        bestY = this.#y;
        bestPose = pose;
        bestRoom = room;
        bestWindow = this.#keptWindow[k] as number;
      }
    }
    // If no sample was better, where it is may still want a nudge.
    this.#keptX[0] = bestX;
    this.#keptY[0] = bestY;
    this.#keptValue[0] = bestValue;
    this.#keptWindow[0] = bestWindow;
    const deep = (SAMPLING.finePart * state.deepestOf(copy)) / side;
    const fineEnd = Math.max(SAMPLING.finest, Math.min(SAMPLING.fineEnd, deep));
    this.#refine(copy, bestRoom, bestPose, 0, SAMPLING.fineStep, fineEnd);
    if (this.#value >= before) return false;
    arrangement.room[copy] = bestRoom;
    arrangement.pose[copy] = bestPose;
    arrangement.x[copy] = this.#x;
    arrangement.y[copy] = this.#y;
    state.refreshCopy(copy);
    return true;
  }

  #shorterSide(pose: number): number {
    const box = this.#state.model.poses.bodyBox;
    return Math.min(
      (box[4 * pose + 2] as number) - (box[4 * pose] as number),
      (box[4 * pose + 3] as number) - (box[4 * pose + 1] as number),
    );
  }

  /** Chooses the windows of a move: one around the copy, the others anywhere. Returns how many, 0 for none. */
  #openWindows(copy: number): number {
    const windows = this.#windows;
    if (!windows) return 0;
    const { arrangement, model, length } = this.#state;
    const box = model.poses.bodyBox;
    const p = 4 * (arrangement.pose[copy] as number);
    const side = Math.sqrt(model.totalArea / this.#state.n);
    const diagonal = Math.hypot(
      (box[p + 2] as number) - (box[p] as number),
      (box[p + 3] as number) - (box[p + 1] as number),
    );
    const width = Math.max(WINDOWS.pieces * side, 2 * diagonal);
    const middle = (arrangement.x[copy] as number) + ((box[p] as number) + (box[p + 2] as number)) / 2;
    windows.set(0, middle, width);
    for (let k = 1; k < windows.count; k++)
      windows.set(k, this.#random.between(width / 2, Math.max(width / 2, length - width / 2)), width);
    return windows.count;
  }

  /** Sets the range of a pose, within one of the windows of the move if it has windows. */
  #setRange(room: number, copy: number, pose: number, window = -1): boolean {
    const state = this.#state;
    const offset = this.#ranges.offset(room, state.itemOf(copy), pose);
    if (offset < 0) return false;
    const range = this.#ranges.values;
    this.#minX = range[offset] as number;
    this.#minY = range[offset + 1] as number;
    this.#maxX = range[offset + 2] as number;
    this.#maxY = range[offset + 3] as number;
    if (state.model.stripWidth > 0) {
      const limit = state.length - (state.model.poses.bodyBox[4 * pose + 2] as number);
      this.#maxX = Math.max(this.#minX, Math.min(this.#maxX, limit));
      if (window >= 0 && this.#windows) {
        const { bodyBox } = state.model.poses;
        const low = (this.#windows.low[window] as number) - (bodyBox[4 * pose] as number);
        const high = (this.#windows.high[window] as number) - (bodyBox[4 * pose + 2] as number);
        if (low > this.#maxX || high < this.#minX || high < low) return false;
        this.#minX = Math.max(this.#minX, low);
        this.#maxX = Math.min(this.#maxX, high);
      }
    }
    return true;
  }

  /** Brings a position into the range that is set, and onto the pose's lattice if it has one; false if it has no place. */
  #snap(pose: number, x: number, y: number): boolean {
    const lattice = this.#lattices[pose];
    if (!lattice) {
      this.#snappedX = this.#clampX(x);
      this.#snappedY = this.#clampY(y);
      return true;
    }
    if (!lattice.snap(x, y, this.#minX, this.#minY, this.#maxX, this.#maxY)) return false;
    this.#snappedX = lattice.x;
    this.#snappedY = lattice.y;
    return true;
  }

  /** The same in the whole range of a pose, however long the strip is now. */
  #snapAnywhere(room: number, copy: number, pose: number, x: number, y: number): boolean {
    const offset = this.#ranges.offset(room, this.#state.itemOf(copy), pose);
    if (offset < 0) return false;
    const { values } = this.#ranges;
    this.#minX = values[offset] as number;
    this.#minY = values[offset + 1] as number;
    this.#maxX = values[offset + 2] as number;
    this.#maxY = values[offset + 3] as number;
    return this.#snap(pose, x, y) || this.#snap(pose, this.#minX, this.#minY);
  }

  #clampX(x: number): number {
    return Math.min(Math.max(x, this.#minX), this.#maxX);
  }

  #clampY(y: number): number {
    return Math.min(Math.max(y, this.#minY), this.#maxY);
  }

  /** The field of the copy in a pose and room, filled at the first question of a move. */
  #fieldOf(copy: number, pose: number, room: number): Field {
    const slot = room * this.#state.model.poses.count + pose;
    if (this.#stampAt[slot] === this.#stamp) return this.#fields[this.#fieldAt[slot] as number] as Field;
    const at = this.#fieldsUsed++;
    if (at === this.#fields.length) this.#fields.push(this.#state.newField());
    const field = this.#fields[at] as Field;
    this.#stampAt[slot] = this.#stamp;
    this.#fieldAt[slot] = at;
    this.#state.collect(field, copy, pose, room, this.#windows);
    return field;
  }

  /** A sample; kept if it is among the best. The range of the pose must be set. */
  #try(copy: number, pose: number, room: number, window: number, sampleX: number, sampleY: number): void {
    if (!this.#snap(pose, sampleX, sampleY)) return;
    const x = this.#snappedX;
    const y = this.#snappedY;
    const kept = this.#keptValue;
    let k: number = SAMPLING.kept - 1;
    const limit = kept[k] as number;
    this.evaluations++;
    const value = this.#fieldOf(copy, pose, room).value(x, y, limit);
    if (value >= limit) return;
    while (k > 0 && (kept[k - 1] as number) > value) {
      kept[k] = kept[k - 1] as number;
      this.#keptX[k] = this.#keptX[k - 1] as number;
      this.#keptY[k] = this.#keptY[k - 1] as number;
      this.#keptPose[k] = this.#keptPose[k - 1] as number;
      this.#keptRoom[k] = this.#keptRoom[k - 1] as number;
      this.#keptWindow[k] = this.#keptWindow[k - 1] as number;
      k--;
    }
    kept[k] = value;
    this.#keptX[k] = x;
    this.#keptY[k] = y;
    this.#keptPose[k] = pose;
    this.#keptRoom[k] = room;
    this.#keptWindow[k] = window;
  }

  /** A sample where the copy touches a random other one of its room. */
  #tryContact(copy: number, pose: number, room: number, window: number): void {
    if (!this.#setRange(room, copy, pose, window)) return;
    const field = this.#fieldOf(copy, pose, room);
    if (field.count === 0) return;
    const random = this.#random;
    const { tables } = this.#state.model.pairs;
    const { lookup } = field;
    const l = 8 * random.below(field.count);
    const table = lookup[l + 7] as number;
    const from = tables.place[5 * table + 2] as number;
    const to = tables.place[5 * table + 3] as number;
    const e = 8 * (from + random.below(to - from));
    const t = random.unit();
    const ax = tables.edges[e] as number;
    const ay = tables.edges[e + 1] as number;
    const tx = ax + t * ((tables.edges[e + 6] as number) - ax);
    const ty = ay + t * ((tables.edges[e + 7] as number) - ay);
    // Back from the table's frame; the inverse of the matrix is its transpose.
    const x = (lookup[l] as number) + (lookup[l + 2] as number) * tx + (lookup[l + 4] as number) * ty;
    const y = (lookup[l + 1] as number) + (lookup[l + 3] as number) * tx + (lookup[l + 5] as number) * ty;
    this.#try(copy, pose, room, window, x, y);
  }

  /** No search: the kept sample is the result. */
  #rest(k: number): void {
    this.#x = this.#keptX[k] as number;
    this.#y = this.#keptY[k] as number;
    this.#value = this.#keptValue[k] as number;
  }

  /** Pattern search from kept sample k; the result is in #x, #y, #value. */
  #refine(copy: number, room: number, pose: number, k: number, firstStep: number, lastStep: number): void {
    const random = this.#random;
    if (!this.#setRange(room, copy, pose, this.#keptWindow[k])) {
      this.#rest(k);
      return;
    }
    const lattice = this.#lattices[pose];
    if (lattice) {
      this.#refineOnLattice(
        lattice,
        this.#fieldOf(copy, pose, room),
        k,
        firstStep,
        lastStep * this.#shorterSide(pose),
      );
      return;
    }
    const side = this.#shorterSide(pose);
    const end = lastStep * side;
    let step = firstStep * side;
    let x = this.#keptX[k] as number;
    let y = this.#keptY[k] as number;
    let value = this.#keptValue[k] as number;
    const from = this.#fieldOf(copy, pose, room);
    const near = this.#near;
    let reach = 0;
    let centreX = 0;
    let centreY = 0;
    while (step > end && value > 0) {
      if (Math.abs(x - centreX) + step > reach || Math.abs(y - centreY) + step > reach) {
        reach = 4 * step;
        centreX = x;
        centreY = y;
        near.narrow(from, x - reach, y - reach, x + reach, y + reach);
      }
      // Along a random one of four axes, both ways.
      const axis = random.below(4);
      const dx = axis === 1 ? 0 : axis === 0 ? step : step * Math.SQRT1_2;
      const dy = axis === 0 ? 0 : axis === 1 ? step : axis === 2 ? step * Math.SQRT1_2 : -step * Math.SQRT1_2;
      const plusX = this.#clampX(x + dx);
      const plusY = this.#clampY(y + dy);
      const minusX = this.#clampX(x - dx);
      const minusY = this.#clampY(y - dy);
      this.evaluations += 2;
      const plus = near.value(plusX, plusY, value);
      const minus = near.value(minusX, minusY, Math.min(plus, value));
      if (minus < value && minus < plus) {
        x = minusX;
        y = minusY;
        value = minus;
        step *= 1.1;
      } else if (plus < value) {
        x = plusX;
        y = plusY;
        value = plus;
        step *= 1.1;
      } else step *= 0.5;
    }
    this.#x = x;
    this.#y = y;
    this.#value = value;
  }

  /**
   * The same on a lattice: steps of its vectors, both ways, as long as one of them is better; along the lines of a
   * single vector also by pattern search, with a step in parts of the vector first.
   */
  #refineOnLattice(lattice: LatticeSteps, field: Field, k: number, firstStep: number, end: number): void {
    this.#rest(k);
    const { steps, free } = lattice;
    for (let improved = true; improved && this.#value > 0; ) {
      improved = false;
      for (let s = 0; s < steps.length && !improved; s += 2)
        for (let sign = -1; sign <= 1 && !improved; sign += 2)
          improved = this.#stepOnLattice(
            lattice,
            field,
            sign * (steps[s] as number),
            sign * (steps[s + 1] as number),
          );
    }
    if (!free) return;
    let step = firstStep * Math.hypot(steps[0] as number, steps[1] as number);
    while (step > end && this.#value > 0) {
      const better =
        this.#stepOnLattice(lattice, field, step * free[0], step * free[1]) ||
        this.#stepOnLattice(lattice, field, -step * free[0], -step * free[1]);
      step *= better ? 1.1 : 0.5;
    }
  }

  #stepOnLattice(lattice: LatticeSteps, field: Field, dx: number, dy: number): boolean {
    const isThere = lattice.snap(this.#x + dx, this.#y + dy, this.#minX, this.#minY, this.#maxX, this.#maxY);
    if (!isThere) return false;
    const { x, y } = lattice;
    this.evaluations++;
    const value = field.value(x, y, this.#value);
    if (value >= this.#value) return false;
    this.#x = x;
    this.#y = y;
    this.#value = value;
    return true;
  }
}
