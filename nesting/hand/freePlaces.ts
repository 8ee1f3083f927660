import type { Box, Point, Ring } from '../geometry/points.ts';
import { boundingBox, cleanRing, counterClockwise } from '../geometry/rings.ts';
import { type ForbiddenRegion, outsideSheet } from '../nfp/noFit.ts';
import { LatticeSteps } from '../packing/lattice.ts';
import type { Container, Item, Outline, Placement, Pose } from '../packing/types.ts';
import type { Contacts, PosedItem } from './contacts.ts';

/** A place for a dragged piece: where it was caught, and whether it may lie there. */
export interface Caught {
  readonly x: number;
  readonly y: number;
  readonly isFree: boolean;
}

/** One thing in the way: positions of the moving piece at which it would overlap that thing. */
interface Obstacle {
  readonly rings: readonly Ring[];
  readonly box: Box;
  readonly forbiddenOutside: boolean;
}

/** A side of an obstacle near the pointer: sliding along it, the piece touches the obstacle. */
interface Side {
  readonly a: Point;
  readonly b: Point;
  /** The point of it that is nearest to where the piece is wanted. */
  readonly nearest: Point;
  readonly distance: number;
}

/** Where a piece that is not free in two directions may lie nearest to some place: there, or along a line through it. */
interface Confined {
  readonly at: Point;
  /** Unit vector in which it slides; null if it doesn't. */
  readonly along: Point | null;
}

/** Depth up to which a place counts as touching, as a part of the cloth's width: half of what `verify` lets pass. */
const TOUCH_SHARE = 5e-7;
/** An endless strip is taken to end here, in mm: far beyond any length of cloth. */
const FAR_MM = 1e6;
/** A first free place is looked for in so many steps along the longer side. */
const FIRST_STEPS = 80;
/** Rotations closer than this are one pose, degrees. */
const SAME_ROTATION_DEG = 1e-6;
/** Corners are sought among so many nearest sides; more are never near one pointer but in very fine outlines. */
const MOST_SIDES = 48;

/**
 * Where one piece may lie in a container among pieces that stay where they are, in one pose: for dragging by hand.
 * Each neighbour is a no-fit polygon, worked out when the pointer first comes near it. On its sides the piece
 * touches; where two sides cross, it touches two things at once, and those are the places a hand looks for.
 */
export class FreePlaces {
  readonly #contacts: Contacts;
  readonly #moving: PosedItem;
  readonly #room: Obstacle;
  readonly #others: readonly Placement[];
  /** Where the others lie, four numbers each: minX, minY, maxX, maxY. */
  readonly #boxes: Float64Array;
  readonly #known = new Map<number, Obstacle>();
  readonly #tolerance: number;
  /** A half piece on the fold can only slide along it: its y, or null for all others. */
  readonly #foldY: number | null;
  /** The repeats that a piece in this pose must lie on, one of them; none for pieces that may lie anywhere. */
  readonly #lattices: readonly LatticeSteps[];

  /**
   * @param contacts of the problem; one for all pieces that are dragged in it saves work
   * @param others what lies in the same container and stays, as placed
   * @throws RangeError if the problem has no such item
   */
  constructor(
    contacts: Contacts,
    container: Container,
    others: readonly Placement[],
    itemId: string,
    pose: Pose,
  ) {
    this.#contacts = contacts;
    this.#moving = contacts.posed(itemId, pose);
    this.#room = roomFor(container, this.#moving.body);
    this.#tolerance = TOUCH_SHARE * widthOf(container);
    this.#foldY = this.#moving.item.onFold ? 0 - this.#moving.box.minY : null;
    this.#lattices = latticesOf(this.#moving.item, pose);
    this.#others = others;
    this.#boxes = new Float64Array(4 * others.length);
    others.forEach((other, i) => {
      const { box } = contacts.posed(other.item, other);
      this.#boxes.set(
        [box.minX + other.x, box.minY + other.y, box.maxX + other.x, box.maxY + other.y],
        4 * i,
      );
    });
  }

  /** Whether the piece may lie with its reference point at (x, y), mm. */
  isFree(x: number, y: number): boolean {
    const { at } = this.#confined(x, y) ?? { at: [x, y] };
    if (Math.hypot(at[0] - x, at[1] - y) > this.#tolerance) return false;
    return this.#obstaclesAt(x, y, 0).every((obstacle) => !isInside(obstacle, x, y, this.#tolerance));
  }

  /** What it would overlap or leave at (x, y): the container's edge or a flaw, and others by their place in the list. */
  inTheWay(x: number, y: number): { readonly container: boolean; readonly others: readonly number[] } {
    const hit = this.#obstaclesAt(x, y, 0).filter((obstacle) => isInside(obstacle, x, y, this.#tolerance));
    const others = [...this.#known].flatMap(([index, obstacle]) => (hit.includes(obstacle) ? [index] : []));
    return { container: hit.includes(this.#room), others };
  }

  /**
   * Where a piece that is wanted at (x, y) comes to lie: a free place that touches two things if one is within
   * `catchMm`, else one that touches one thing, else just there. Where it would overlap, the nearest free place
   * within `reachMm`, and if there is none, (x, y) itself, not free.
   */
  place(wantedX: number, wantedY: number, catchMm: number, reachMm: number): Caught {
    const confined = this.#confined(wantedX, wantedY);
    const [x, y] = confined?.at ?? [wantedX, wantedY];
    if (confined?.along === null) return this.#placeOnRepeat(x, y, reachMm);
    const free = this.isFree(x, y);
    const reach = free ? catchMm : reachMm;
    const sides = this.#sidesWithin(x, y, reach, confined?.along ?? null);
    // On a line every side is met in one point already.
    const corners = (confined ? [] : crossings(sides))
      .map((point) => ({ point, distance: Math.hypot(point[0] - x, point[1] - y) }))
      .filter(({ distance }) => distance <= reach);
    const edges = sides.map(({ nearest, distance }) => ({ point: nearest, distance }));
    // A free piece prefers a corner to a mere side; one that must give way takes whatever is nearest.
    const groups = free ? [corners, edges] : [[...corners, ...edges]];
    for (const group of groups) {
      group.sort((p, q) => p.distance - q.distance);
      for (const { point } of group)
        if (this.isFree(point[0], point[1])) return { x: point[0], y: point[1], isFree: true };
    }
    return { x, y, isFree: free };
  }

  /** The point of the repeat at (x, y), or if something lies there the nearest free one within `reach` or one step. */
  #placeOnRepeat(x: number, y: number, reach: number): Caught {
    const found: { x: number; y: number; distance: number }[] = [];
    for (const { steps } of this.#lattices)
      for (let i = 0; i < steps.length; i += 2)
        for (const sign of [1, -1]) {
          const [dx, dy] = [sign * (steps[i] as number), sign * (steps[i + 1] as number)];
          found.push({ x: x + dx, y: y + dy, distance: Math.hypot(dx, dy) });
        }
    if (this.isFree(x, y)) return { x, y, isFree: true };
    found.sort((p, q) => p.distance - q.distance);
    const most = Math.max(reach, found[0]?.distance ?? 0);
    const free = found.find((p) => p.distance <= most && this.isFree(p.x, p.y));
    return free ? { x: free.x, y: free.y, isFree: true } : { x, y, isFree: false };
  }

  /** Null for a piece that may lie anywhere. */
  #confined(x: number, y: number): Confined | null {
    if (this.#foldY !== null) return { at: [x, this.#foldY], along: [1, 0] };
    let best: Confined | null = null;
    let least = Number.POSITIVE_INFINITY;
    const far = Number.POSITIVE_INFINITY;
    for (const lattice of this.#lattices) {
      if (!lattice.snap(x, y, -far, -far, far, far)) continue;
      const distance = Math.hypot(lattice.x - x, lattice.y - y);
      if (distance >= least) continue;
      least = distance;
      best = { at: [lattice.x, lattice.y], along: lattice.free };
    }
    return best;
  }

  /**
   * The first free place from the low end of the container on, for a piece that comes from beside the cloth; null if
   * there is none. Looked for in steps, each caught within its own size, so a place without play may be missed.
   * @param toX how far along a strip to look, mm
   */
  first(toX: number): Point | null {
    const { box } = this.#room;
    if (this.#room.rings.length === 0) return null;
    const endX = Math.min(box.maxX, toX);
    const step = Math.max(endX - box.minX, box.maxY - box.minY) / FIRST_STEPS;
    for (let x = box.minX; x <= endX + step; x += step)
      for (let y = box.minY; y <= box.maxY + step; y += step) {
        const caught = this.place(Math.min(x, endX), Math.min(y, box.maxY), step, step);
        if (caught.isFree) return [caught.x, caught.y];
      }
    return null;
  }

  /**
   * How far the piece can slide from (x, y) in the direction (dx, dy), a unit vector, without overlapping anything: at
   * most `most` mm. Touching pieces slide past each other.
   */
  slide(x: number, y: number, dx: number, dy: number, most: number): number {
    const middle = most / 2;
    const near = this.#obstaclesAt(x + dx * middle, y + dy * middle, middle);
    let free = most;
    for (const obstacle of near) {
      const stops = [...crossingDistances(obstacle, x, y, dx, dy, free), free].sort((a, b) => a - b);
      let from = 0;
      for (const to of stops) {
        // Between two crossings the path is all inside or all outside; a hair's breadth of a crossing is no stretch.
        const half = (from + to) / 2;
        if (
          to - from > this.#tolerance &&
          isInside(obstacle, x + dx * half, y + dy * half, this.#tolerance)
        ) {
          free = from;
          break;
        }
        from = to;
      }
    }
    return free;
  }

  /** The obstacles whose forbidden positions come within `reach` of (x, y). */
  #obstaclesAt(x: number, y: number, reach: number): Obstacle[] {
    const own = this.#moving.spacedBox;
    const boxes = this.#boxes;
    const near: Obstacle[] = [this.#room];
    for (let i = 0, b = 0; i < this.#others.length; i++, b += 4) {
      const misses =
        x + own.minX > (boxes[b + 2] as number) + reach ||
        x + own.maxX < (boxes[b] as number) - reach ||
        y + own.minY > (boxes[b + 3] as number) + reach ||
        y + own.maxY < (boxes[b + 1] as number) - reach;
      if (!misses) near.push(this.#obstacle(i));
    }
    return near;
  }

  #obstacle(index: number): Obstacle {
    const known = this.#known.get(index);
    if (known) return known;
    const other = this.#others[index] as Placement;
    const { rings } = this.#contacts.region(this.#contacts.posed(other.item, other), this.#moving);
    const moved = rings.map((ring) => ring.map(([px, py]): Point => [px + other.x, py + other.y]));
    const obstacle = obstacleOf({ rings: moved, forbiddenOutside: false });
    this.#known.set(index, obstacle);
    return obstacle;
  }

  /** @param along of a piece that slides on a line through (x, y): where the sides meet that line */
  #sidesWithin(x: number, y: number, reach: number, along: Point | null): Side[] {
    const sides: Side[] = [];
    for (const { rings } of this.#obstaclesAt(x, y, reach))
      for (const ring of rings)
        ring.forEach((a, i) => {
          const b = ring[(i + 1) % ring.length] as Point;
          const nearest = along === null ? nearestOn(a, b, x, y) : crossingAt(a, b, [x, y], along);
          if (!nearest) return;
          const distance = Math.hypot(nearest[0] - x, nearest[1] - y);
          if (distance <= reach) sides.push({ a, b, nearest, distance });
        });
    return sides.sort((p, q) => p.distance - q.distance).slice(0, MOST_SIDES);
  }
}

function obstacleOf({ rings, forbiddenOutside }: ForbiddenRegion): Obstacle {
  return { rings, forbiddenOutside, box: boundingBox(rings.flat()) };
}

/** Positions at which the piece leaves the container or enters what is blocked in it. */
function roomFor(container: Container, body: Ring): Obstacle {
  if (container.kind === 'sheet')
    return obstacleOf(outsideSheet(tidy(container.outline), container.blocked.map(tidy), body));
  const box = boundingBox(body);
  const [fromX, fromY] = [0 - box.minX, 0 - box.minY];
  const [toX, toY] = [(container.maxLength ?? FAR_MM) - box.maxX, container.width - box.maxY];
  if (toX < fromX || toY < fromY) return obstacleOf({ rings: [], forbiddenOutside: true });
  const free: Ring = [
    [fromX, fromY],
    [fromX, toY],
    [toX, toY],
    [toX, fromY],
  ];
  return obstacleOf({ rings: [free], forbiddenOutside: true });
}

function tidy(ring: Outline): Ring {
  return cleanRing(counterClockwise(ring));
}

function widthOf(container: Container): number {
  if (container.kind === 'strip') return container.width;
  const box = boundingBox(container.outline);
  return Math.min(box.maxX - box.minX, box.maxY - box.minY);
}

/** Whether a position is forbidden by more than the tolerance. */
function isInside(
  { rings, box, forbiddenOutside }: Obstacle,
  x: number,
  y: number,
  tolerance: number,
): boolean {
  if (!forbiddenOutside && (x < box.minX || x > box.maxX || y < box.minY || y > box.maxY)) return false;
  let odd = false;
  let nearest = Number.POSITIVE_INFINITY;
  for (const ring of rings)
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[j] as Point;
      const b = ring[i] as Point;
      if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) odd = !odd;
      const [px, py] = nearestOn(a, b, x, y);
      nearest = Math.min(nearest, Math.hypot(px - x, py - y));
    }
  return odd !== forbiddenOutside && nearest > tolerance;
}

/** How far along the ray from (x, y) it meets sides of the obstacle: from 0 to `most`. */
function crossingDistances(
  { rings }: Obstacle,
  x: number,
  y: number,
  dx: number,
  dy: number,
  most: number,
): number[] {
  const found: number[] = [];
  for (const ring of rings)
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length] as Point;
      const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
      const across = dx * ey - dy * ex;
      const [wx, wy] = [a[0] - x, a[1] - y];
      if (across === 0) return;
      const t = (wx * ey - wy * ex) / across;
      const s = (wx * dy - wy * dx) / across;
      if (t > 0 && t < most && s >= 0 && s <= 1) found.push(t);
    });
  return found;
}

/** The point of the segment ab that is nearest to (x, y). */
function nearestOn(a: Point, b: Point, x: number, y: number): Point {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / square));
  return [a[0] + t * dx, a[1] + t * dy];
}

/** Where the segment ab meets the line through `at`, or null. */
function crossingAt(a: Point, b: Point, at: Point, along: Point): Point | null {
  const off = ([x, y]: Point): number => (x - at[0]) * along[1] - (y - at[1]) * along[0];
  const [from, to] = [off(a), off(b)];
  if (from === to || Math.min(from, to) > 0 || Math.max(from, to) < 0) return null;
  const share = from / (from - to);
  const slide =
    (a[0] + share * (b[0] - a[0]) - at[0]) * along[0] + (a[1] + share * (b[1] - a[1]) - at[1]) * along[1];
  return [at[0] + slide * along[0], at[1] + slide * along[1]];
}

/** The lattices of the item's poses that look like this one; none if one of them lets it lie anywhere. */
function latticesOf({ poses }: Item, { rotation, mirrored }: Pose): LatticeSteps[] {
  const alike = poses.filter((pose) => {
    const off = Math.abs(pose.rotation - rotation) % 360;
    return pose.mirrored === mirrored && Math.min(off, 360 - off) <= SAME_ROTATION_DEG;
  });
  if (alike.some(({ lattice }) => lattice === undefined)) return [];
  return alike.flatMap(({ lattice }) => (lattice ? [new LatticeSteps(lattice)] : []));
}

/** Points at which two of the sides cross or meet. */
function crossings(sides: readonly Side[]): Point[] {
  const found: Point[] = [];
  sides.forEach((p, i) => {
    found.push(p.a, p.b);
    for (const q of sides.slice(i + 1)) {
      const [ux, uy] = [p.b[0] - p.a[0], p.b[1] - p.a[1]];
      const [vx, vy] = [q.b[0] - q.a[0], q.b[1] - q.a[1]];
      const across = ux * vy - uy * vx;
      if (across === 0) continue;
      const [wx, wy] = [q.a[0] - p.a[0], q.a[1] - p.a[1]];
      const s = (wx * vy - wy * vx) / across;
      const t = (wx * uy - wy * ux) / across;
      if (s < 0 || s > 1 || t < 0 || t > 1) continue;
      found.push([p.a[0] + s * ux, p.a[1] + s * uy]);
    }
  });
  return found;
}
