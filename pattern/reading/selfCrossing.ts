import { GeometryError, union } from '../../nesting/geometry/boolean.ts';
import type { Polygon } from '../../nesting/geometry/points.ts';
import { orientation } from '../../nesting/geometry/predicates.ts';
import { cleanRing, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import { sideOf } from './containment.ts';
import type { WorkBudget } from './simplify.ts';

/**
 * How a ring meets itself: not at all, by touching (a corner on an edge, an edge run back and forth), by crossing,
 * or so often that no one can have meant it (`tangled`).
 * `too much`: the budget ran out before an answer was found.
 */
export type SelfContact = 'none' | 'touching' | 'crossing' | 'tangled' | 'too much';

/** A line that crosses itself more often than this is a scribble; cutting it clear would take for ever. */
export const MOST_CROSSINGS = 500;

/**
 * Looks for contact between edges of a ring that are not neighbours, and for spikes between neighbours. Counts
 * crossings and can be stopped, which `selfIntersections` of the geometry room, made for outlines known to be sane,
 * does not do.
 */
export function selfContact(ring: Outline, budget: WorkBudget): SelfContact {
  const n = ring.length;
  // Edges sorted by one end; each is compared with those whose span it shares along the axis where spans are short.
  const axis = spanAlong(ring, 0) <= spanAlong(ring, 1) ? 0 : 1;
  const low = (i: number): number => Math.min(pointOf(ring, i)[axis], pointOf(ring, i + 1)[axis]);
  const high = (i: number): number => Math.max(pointOf(ring, i)[axis], pointOf(ring, i + 1)[axis]);
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => low(i) - low(j));
  let touching = false;
  let crossings = 0;
  let open: number[] = [];
  for (const i of order) {
    const from = low(i);
    open = open.filter((j) => high(j) >= from);
    budget.left -= open.length + 1;
    if (budget.left < 0) return 'too much';
    for (const j of open) {
      const contact = edgeContact(ring, i, j);
      if (contact === 'crossing') crossings += 1;
      if (contact === 'touching') touching = true;
    }
    if (crossings > MOST_CROSSINGS) return 'tangled';
    open.push(i);
  }
  if (crossings > 0) return 'crossing';
  return touching ? 'touching' : 'none';
}

/** Sum of the edges' spans along an axis, as a part of the whole ring's. */
function spanAlong(ring: Outline, axis: 0 | 1): number {
  let sum = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < ring.length; i++) {
    const here = pointOf(ring, i)[axis];
    sum += Math.abs(pointOf(ring, i + 1)[axis] - here);
    least = Math.min(least, here);
    most = Math.max(most, here);
  }
  return most > least ? sum / (most - least) : Number.POSITIVE_INFINITY;
}

const pointOf = (ring: Outline, i: number): Point => ring[i % ring.length] as Point;

function edgeContact(ring: Outline, i: number, j: number): 'none' | 'touching' | 'crossing' {
  const n = ring.length;
  const [ax, ay] = pointOf(ring, i);
  const [bx, by] = pointOf(ring, i + 1);
  const [cx, cy] = pointOf(ring, j);
  const [dx, dy] = pointOf(ring, j + 1);
  if (Math.max(ay, by) < Math.min(cy, dy) || Math.max(cy, dy) < Math.min(ay, by)) return 'none';
  if ((i + 1) % n === j) return isSpike(ax, ay, bx, by, dx, dy) ? 'touching' : 'none';
  if ((j + 1) % n === i) return isSpike(cx, cy, dx, dy, bx, by) ? 'touching' : 'none';
  const c = orientation(ax, ay, bx, by, cx, cy);
  const d = orientation(ax, ay, bx, by, dx, dy);
  if ((c > 0 && d > 0) || (c < 0 && d < 0)) return 'none';
  const a = orientation(cx, cy, dx, dy, ax, ay);
  const b = orientation(cx, cy, dx, dy, bx, by);
  if ((a > 0 && b > 0) || (a < 0 && b < 0)) return 'none';
  if (a !== 0 && b !== 0 && c !== 0 && d !== 0) return 'crossing';
  if (a === 0 && b === 0) {
    // On one line: do they share any of it?
    const apart =
      Math.max(ax, bx) < Math.min(cx, dx) ||
      Math.max(cx, dx) < Math.min(ax, bx) ||
      Math.max(ay, by) < Math.min(cy, dy) ||
      Math.max(cy, dy) < Math.min(ay, by);
    return apart ? 'none' : 'touching';
  }
  return 'touching';
}

/** Whether a → b → c turns straight back. */
function isSpike(ax: number, ay: number, bx: number, by: number, cx: number, cy: number): boolean {
  return orientation(ax, ay, bx, by, cx, cy) === 0 && (ax - bx) * (cx - bx) + (ay - by) * (cy - by) > 0;
}

/** What became of a ring that meets itself. */
export type Mended =
  | {
      readonly ok: true;
      readonly ring: Outline;
      /** Holes the line closed in, counter-clockwise. */
      readonly holes: readonly Outline[];
      /** Area of the little parts that were cut off, mm². */
      readonly lostMm2: number;
    }
  | { readonly ok: false; readonly parts: readonly Outline[] };

/** A ring may lose no more than this share of its area when its crossings are cut away. */
const LARGEST_LOSS = 0.05;

/**
 * Makes a simple ring of one that meets itself: all it goes round (winding not zero) is kept, then the largest part.
 * Refused if what would be lost is no trifle: the line then means several parts, and we can't know which.
 */
export function mendRing(ring: Outline): Mended {
  const rings = unionOrNothing(ring)
    .flatMap(({ outer, holes }) => [outer, ...holes])
    // The clipper may leave parts that touch in a point on one ring.
    .flatMap(splitAtRepeats)
    .map((part) => cleanRing(part))
    .filter((part) => part.length >= 3);
  const parts = rings.filter((part) => signedArea(part) > 0).sort((p, q) => signedArea(q) - signedArea(p));
  const holes = rings.filter((part) => signedArea(part) < 0).map((hole) => [...hole].reverse());
  const total = parts.reduce((sum, part) => sum + signedArea(part), 0);
  const largest = parts[0];
  if (!largest || signedArea(largest) < (1 - LARGEST_LOSS) * total) return { ok: false, parts };
  return {
    ok: true,
    ring: largest,
    holes: holes.filter((hole) => sideOf(largest, hole[0] as Point) !== 'outside'),
    lostMm2: total - signedArea(largest),
  };
}

/** Cuts a ring that comes by the same point twice into rings that don't. */
function splitAtRepeats(ring: Outline): Outline[] {
  const parts: Outline[] = [];
  let path: Point[] = [];
  const seenAt = new Map<string, number>();
  for (const point of ring) {
    const key = `${point[0]},${point[1]}`;
    const before = seenAt.get(key);
    if (before !== undefined) {
      // What was walked since then is a ring of its own.
      const loop = path.slice(before);
      for (const [x, y] of loop) seenAt.delete(`${x},${y}`);
      parts.push(loop);
      path = path.slice(0, before);
    }
    seenAt.set(key, path.length);
    path.push(point);
  }
  parts.push(path);
  return parts;
}

/** What the clipper cannot work out is refused like what encloses nothing. */
function unionOrNothing(ring: Outline): Polygon[] {
  try {
    return union([ring]);
  } catch (error) {
    if (error instanceof GeometryError) return [];
    throw error;
  }
}
