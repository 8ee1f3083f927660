import type { Point } from '../geometry/points.ts';
import type { Lattice } from './types.ts';

/** Neighbours of a rounded position that are tried, each way, when the nearest point of a lattice is out of range. */
const NEIGHBOURS = 3;

/**
 * Brings positions onto a lattice: whole steps of two vectors, or of one, in which case the piece slides freely at
 * right angles to it. Two vectors are first made as short as possible (Lagrange and Gauss), so that rounding finds the
 * nearest point or a neighbour of it.
 *
 * Results are left in `x` and `y`: this is asked millions of times, and a pair would be a new object each time.
 */
export class LatticeSteps {
  x = 0;
  y = 0;
  readonly #ox: number;
  readonly #oy: number;
  readonly #u: Point;
  readonly #v: Point | null;
  readonly #tolerance: number;
  /** Steps along which a search on the lattice goes, as dx dy pairs. */
  readonly steps: Float64Array;

  /** @throws RangeError if the vectors span no lattice */
  constructor({ origin, u, v, tolerance = 0 }: Lattice) {
    [this.#ox, this.#oy] = origin;
    this.#tolerance = tolerance;
    [this.#u, this.#v] = v === null ? [u, null] : reduced(u, v);
    const [ux, uy] = this.#u;
    const area = this.#v ? Math.abs(ux * this.#v[1] - uy * this.#v[0]) : Math.hypot(ux, uy);
    if (!(area > 0 && Number.isFinite(area)))
      throw new RangeError(`a lattice needs steps of some length in two directions, or one: ${u}, ${v}`);
    const [vx, vy] = this.#v ?? [0, 0];
    this.steps = this.#v
      ? Float64Array.of(ux, uy, vx, vy, ux + vx, uy + vy, ux - vx, uy - vy)
      : Float64Array.of(ux, uy);
  }

  /** The direction in which the piece slides freely, as a unit vector; null on a lattice of points. */
  get free(): Point | null {
    if (this.#v) return null;
    const length = Math.hypot(this.#u[0], this.#u[1]);
    return [-this.#u[1] / length, this.#u[0] / length];
  }

  /** The admissible position in the box that is nearest to (x, y), or near it, in `x` and `y`; false if none is found. */
  snap(x: number, y: number, minX: number, minY: number, maxX: number, maxY: number): boolean {
    const px = Math.min(Math.max(x, minX), maxX);
    const py = Math.min(Math.max(y, minY), maxY);
    return this.#v
      ? this.#snapToPoint(this.#v, px, py, minX, minY, maxX, maxY)
      : this.#snapToLine(px, py, minX, minY, maxX, maxY);
  }

  #snapToPoint(
    v: Point,
    x: number,
    y: number,
    minX: number,
    minY: number,
    maxX: number,
    maxY: number,
  ): boolean {
    const [ux, uy] = this.#u;
    const [vx, vy] = v;
    const det = ux * vy - uy * vx;
    const dx = x - this.#ox;
    const dy = y - this.#oy;
    const a = Math.round((dx * vy - dy * vx) / det);
    const b = Math.round((ux * dy - uy * dx) / det);
    const t = this.#tolerance;
    let nearest = Number.POSITIVE_INFINITY;
    for (let i = a - NEIGHBOURS; i <= a + NEIGHBOURS; i++)
      for (let j = b - NEIGHBOURS; j <= b + NEIGHBOURS; j++) {
        const lx = this.#ox + i * ux + j * vx;
        const ly = this.#oy + i * uy + j * vy;
        const lowX = Math.max(minX, lx - t);
        const highX = Math.min(maxX, lx + t);
        const lowY = Math.max(minY, ly - t);
        const highY = Math.min(maxY, ly + t);
        if (lowX > highX || lowY > highY) continue;
        const qx = Math.min(Math.max(x, lowX), highX);
        const qy = Math.min(Math.max(y, lowY), highY);
        const distance = (qx - x) ** 2 + (qy - y) ** 2;
        if (distance >= nearest) continue;
        nearest = distance;
        this.x = qx;
        this.y = qy;
      }
    return nearest < Number.POSITIVE_INFINITY;
  }

  #snapToLine(x: number, y: number, minX: number, minY: number, maxX: number, maxY: number): boolean {
    const [ux, uy] = this.#u;
    const length = Math.hypot(ux, uy);
    const nx = ux / length;
    const ny = uy / length;
    const across = ((x - this.#ox) * nx + (y - this.#oy) * ny) / length;
    const k = Math.round(across);
    let nearest = Number.POSITIVE_INFINITY;
    for (let i = k - NEIGHBOURS; i <= k + NEIGHBOURS; i++) {
      // Across the lines the piece may miss by the tolerance, along them it slides into the box.
      const off = (i - across) * length;
      const miss = Math.max(-this.#tolerance, Math.min(this.#tolerance, -off));
      const qx = x + (off + miss) * nx;
      const qy = y + (off + miss) * ny;
      const from = Math.max(slideTo(qx, -ny, minX, maxX, true), slideTo(qy, nx, minY, maxY, true));
      const to = Math.min(slideTo(qx, -ny, minX, maxX, false), slideTo(qy, nx, minY, maxY, false));
      if (!(from <= to)) continue;
      const slide = Math.min(Math.max(0, from), to);
      const rx = Math.min(Math.max(qx - slide * ny, minX), maxX);
      const ry = Math.min(Math.max(qy + slide * nx, minY), maxY);
      const distance = (rx - x) ** 2 + (ry - y) ** 2;
      if (distance >= nearest) continue;
      nearest = distance;
      this.x = rx;
      this.y = ry;
    }
    return nearest < Number.POSITIVE_INFINITY;
  }
}

/** How far `at` may slide at a rate to stay within [low, high]: the least such slide, or the greatest. */
function slideTo(at: number, rate: number, low: number, high: number, least: boolean): number {
  if (rate === 0) {
    // Rounding of the offset across must not push a line that lies on the border over it.
    const slack = 1e-9 * Math.max(1, Math.abs(low), Number.isFinite(high) ? Math.abs(high) : 0);
    const within = at >= low - slack && at <= high + slack;
    return within === least ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  }
  const [a, b] = [(low - at) / rate, (high - at) / rate];
  return least ? Math.min(a, b) : Math.max(a, b);
}

/** The shortest two vectors of the same lattice. */
function reduced(u: Point, v: Point): [Point, Point] {
  let [a, b] = [u, v];
  for (let round = 0; round < 100; round++) {
    const square = a[0] * a[0] + a[1] * a[1];
    const m = square > 0 ? Math.round((a[0] * b[0] + a[1] * b[1]) / square) : 0;
    b = [b[0] - m * a[0], b[1] - m * a[1]];
    if (b[0] * b[0] + b[1] * b[1] >= square) return [a, b];
    [a, b] = [b, a];
  }
  return [a, b];
}
