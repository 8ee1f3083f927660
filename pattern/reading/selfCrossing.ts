import { GeometryError, union } from '../../nesting/geometry/boolean.ts';
import type { Polygon } from '../../nesting/geometry/points.ts';
import { orientation } from '../../nesting/geometry/predicates.ts';
import { cleanRing, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { WorkBudget } from './simplify.ts';

/**
 * How a ring meets itself: not at all, by touching (a corner on an edge, an edge run back and forth), by crossing.
 * `too much`: the budget ran out before an answer was found.
 */
export type SelfContact = 'none' | 'touching' | 'crossing' | 'too much';

/** Looks for contact between edges of a ring that are not neighbours, and for spikes between neighbours. */
export function selfContact(ring: Outline, budget: WorkBudget): SelfContact {
  const n = ring.length;
  // Edges sorted by their left end; each is compared with those whose span of x it shares.
  const order = Array.from({ length: n }, (_, i) => i);
  const left = (i: number): number => Math.min(pointOf(ring, i)[0], pointOf(ring, i + 1)[0]);
  const right = (i: number): number => Math.max(pointOf(ring, i)[0], pointOf(ring, i + 1)[0]);
  order.sort((i, j) => left(i) - left(j));
  let touching = false;
  let open: number[] = [];
  for (const i of order) {
    const from = left(i);
    open = open.filter((j) => right(j) >= from);
    budget.left -= open.length + 1;
    if (budget.left < 0) return 'too much';
    for (const j of open) {
      const contact = edgeContact(ring, i, j);
      if (contact === 'crossing') return 'crossing';
      if (contact === 'touching') touching = true;
    }
    open.push(i);
  }
  return touching ? 'touching' : 'none';
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
  const parts = unionOrNothing(ring)
    .map(({ outer, holes }) => ({ outer: cleanRing(outer), holes: holes.map(cleanRing) }))
    .filter(({ outer }) => outer.length >= 3)
    .map((part) => ({ ...part, area: Math.abs(signedArea(part.outer)) }))
    .sort((p, q) => q.area - p.area);
  const total = parts.reduce((sum, { area }) => sum + area, 0);
  const largest = parts[0];
  if (!largest || largest.area < (1 - LARGEST_LOSS) * total)
    return { ok: false, parts: parts.map(({ outer }) => outer) };
  return {
    ok: true,
    ring: counterClockwise(largest.outer),
    holes: largest.holes.filter((hole) => hole.length >= 3).map(counterClockwise),
    lostMm2: total - largest.area,
  };
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

const counterClockwise = (ring: Outline): Outline => (signedArea(ring) < 0 ? [...ring].reverse() : ring);
