import type { Field } from '../nfp/overlapField.ts';
import type { LatticeSteps } from './lattice.ts';
import type { OverlapState } from './overlapState.ts';
import type { Random } from './random.ts';

/** How a place is improved. Lengths are parts of the shorter side of the copy's bounding box. */
export const REFINEMENT = {
  /** Pushes out of an overlap, at most; and how far they may lead. */
  pushes: 10,
  reach: 0.5,
  /** First steps of the pattern search of a sample: usually, and after a push. */
  coarse: { first: 0.25, pushed: 0.05 },
  /** The same for the best sample, refined again. */
  fine: { first: 0.02, pushed: 0.02 },
} as const;

export type RefinementSteps = { readonly first: number; readonly pushed: number };

/** A push goes so much further than the overlap is deep: rounding must not leave a trace of it. */
const BEYOND = 1 + 1e-9;

/** The rectangle that a reference point must stay in. */
export class PositionBounds {
  minX = 0;
  minY = 0;
  maxX = 0;
  maxY = 0;

  clampX(x: number): number {
    return Math.min(Math.max(x, this.minX), this.maxX);
  }

  clampY(y: number): number {
    return Math.min(Math.max(y, this.minY), this.maxY);
  }
}

/**
 * Improves the place of one copy in one pose. First it is pushed out of what it overlaps most, by the shortest way, as
 * long as that helps: a few evaluations find a gap that is near (the idea of projecting onto one constraint after the
 * other; Kaczmarz 1937). Then pattern search (Hooke & Jeeves 1961) balances what is left. On a lattice the steps are its
 * vectors.
 */
export class Refinement {
  readonly #state: OverlapState;
  readonly #random: Random;
  readonly #bounds: PositionBounds;
  /** What the copy meets while its reference point is in the rectangle minX minY maxX maxY. */
  readonly #near: Field;
  readonly #rectangle = new Float64Array(4);
  /** Where the copy is now, and what its overlap costs there. */
  x = 0;
  y = 0;
  value = 0;
  /** Evaluations so far, for measuring. */
  evaluations = 0;

  /** `bounds` is set by the caller before each run. */
  constructor(state: OverlapState, random: Random, bounds: PositionBounds) {
    this.#state = state;
    this.#random = random;
    this.#bounds = bounds;
    this.#near = state.newField();
  }

  start(x: number, y: number, value: number): void {
    this.x = x;
    this.y = y;
    this.value = value;
  }

  /** Improves the place; `side` is the length that steps are parts of, `lastStep` where pattern search ends. */
  run(
    copy: number,
    pose: number,
    room: number,
    side: number,
    { first, pushed }: RefinementSteps,
    lastStep: number,
  ): void {
    if (this.value <= 0) return;
    const lattice = this.#state.model.lattices[pose];
    if (lattice) {
      this.#descendOnLattice(lattice, copy, pose, room, first, lastStep * side);
      return;
    }
    const isPushed = this.#push(copy, pose, room, REFINEMENT.reach * side);
    this.#descend(copy, pose, room, (isPushed ? pushed : first) * side, lastStep * side);
  }

  /** Pushes the copy out of what it overlaps most, again and again; says whether that helped. */
  #push(copy: number, pose: number, room: number, reach: number): boolean {
    const near = this.#near;
    const bounds = this.#bounds;
    this.#lookAround(copy, pose, room, reach);
    near.value(this.x, this.y, Number.POSITIVE_INFINITY);
    let isPushed = false;
    for (let pushes = 0; pushes < REFINEMENT.pushes && this.value > 0; pushes++) {
      near.findExit();
      const x = bounds.clampX(this.x + BEYOND * near.exitX);
      const y = bounds.clampY(this.y + BEYOND * near.exitY);
      if (!this.#isAround(x, y)) break;
      this.evaluations++;
      const value = near.value(x, y, this.value);
      if (value >= this.value) break;
      this.start(x, y, value);
      isPushed = true;
    }
    return isPushed;
  }

  /** Pattern search along random axes, from a first to a last step. */
  #descend(copy: number, pose: number, room: number, firstStep: number, lastStep: number): void {
    const random = this.#random;
    const near = this.#near;
    const bounds = this.#bounds;
    let x = this.x;
    let y = this.y;
    let value = this.value;
    for (let step = firstStep; step > lastStep && value > 0; ) {
      if (!this.#isAround(x - step, y - step) || !this.#isAround(x + step, y + step)) {
        this.start(x, y, value);
        this.#lookAround(copy, pose, room, 4 * step);
      }
      // Along a random one of four axes, both ways.
      const axis = random.below(4);
      const dx = axis === 1 ? 0 : axis === 0 ? step : step * Math.SQRT1_2;
      const dy = axis === 0 ? 0 : axis === 1 ? step : axis === 2 ? step * Math.SQRT1_2 : -step * Math.SQRT1_2;
      const plusX = bounds.clampX(x + dx);
      const plusY = bounds.clampY(y + dy);
      const minusX = bounds.clampX(x - dx);
      const minusY = bounds.clampY(y - dy);
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
    this.start(x, y, value);
  }

  /**
   * The same on a lattice: steps of its vectors, both ways, as long as one of them is better; along the lines of a
   * lattice that is free in one direction, pattern search as well. `firstStep` is part of a lattice vector there.
   */
  #descendOnLattice(
    lattice: LatticeSteps,
    copy: number,
    pose: number,
    room: number,
    firstStep: number,
    lastStep: number,
  ): void {
    const { steps, free } = lattice;
    // Nothing is known of the surroundings yet.
    this.#rectangle.fill(Number.NaN);
    const step = (dx: number, dy: number) => this.#stepOnLattice(lattice, copy, pose, room, dx, dy);
    for (let improved = true; improved && this.value > 0; ) {
      improved = false;
      for (let s = 0; s < steps.length && !improved; s += 2)
        for (let sign = -1; sign <= 1 && !improved; sign += 2)
          improved = step(sign * (steps[s] as number), sign * (steps[s + 1] as number));
    }
    if (!free) return;
    let size = firstStep * Math.hypot(steps[0] as number, steps[1] as number);
    while (size > lastStep && this.value > 0) {
      const better = step(size * free[0], size * free[1]) || step(-size * free[0], -size * free[1]);
      size *= better ? 1.1 : 0.5;
    }
  }

  #stepOnLattice(
    lattice: LatticeSteps,
    copy: number,
    pose: number,
    room: number,
    dx: number,
    dy: number,
  ): boolean {
    const { minX, minY, maxX, maxY } = this.#bounds;
    if (!lattice.snap(this.x + dx, this.y + dy, minX, minY, maxX, maxY)) return false;
    const { x, y } = lattice;
    if (!this.#isAround(x, y))
      this.#lookAround(copy, pose, room, 2 * Math.max(Math.abs(x - this.x), Math.abs(y - this.y)));
    this.evaluations++;
    const value = this.#near.value(x, y, this.value);
    if (value >= this.value) return false;
    this.start(x, y, value);
    return true;
  }

  /** Collects what the copy meets within `reach` of where it is. */
  #lookAround(copy: number, pose: number, room: number, reach: number): void {
    const rectangle = this.#rectangle;
    rectangle[0] = this.x - reach;
    rectangle[1] = this.y - reach;
    rectangle[2] = this.x + reach;
    rectangle[3] = this.y + reach;
    this.#state.collect(this.#near, copy, pose, room, rectangle);
  }

  #isAround(x: number, y: number): boolean {
    const rectangle = this.#rectangle;
    return (
      x >= (rectangle[0] as number) &&
      y >= (rectangle[1] as number) &&
      x <= (rectangle[2] as number) &&
      y <= (rectangle[3] as number)
    );
  }
}
