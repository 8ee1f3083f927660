import { distance } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { Stretch } from '../exchange/project.ts';
import { distanceToEdge } from '../pieces/cutShape.ts';

/** Two edges that meet at less than this are one stretch: part of a curve. Degrees; a corner turns more. */
const CORNER_DEG = 25;
/** A straight side that is so many times as long as the edge after it, and so long in mm, ends where that begins to bend. */
const STRAIGHT_TIMES = 4.5;
const STRAIGHT_MM = 15;
/** Edges that meet at less than this are one straight line, degrees. */
const SAME_LINE_DEG = 0.3;
/** The ends of a stretch are found again on an outline that was worked over, if they lie no farther off. Millimetres. */
const SAME_PLACE_MM = 1;

/** The points of a stretch from its first to its last; null where the outline has no such edges. */
export function stretchPoints(outline: Outline, { edge, edges }: Stretch): Point[] | null {
  const n = outline.length;
  if (edge >= n || edges >= n) return null;
  return Array.from({ length: edges + 1 }, (_, i) => outline[(edge + i) % n] as Point);
}

/** Length along a line of points, mm. */
export function lengthAlong(points: readonly Point[]): number {
  return points.reduce((sum, point, i) => (i === 0 ? 0 : sum + distance(points[i - 1] as Point, point)), 0);
}

/** How far a point lies from a line of points, mm. */
export function distanceToLine(point: Point, line: readonly Point[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < line.length; i++)
    least = Math.min(least, distanceToEdge(point, line[i - 1] as Point, line[i] as Point));
  return least;
}

/** The edge with all that runs on from it without a corner: a straight side, or a curve in short edges. */
function stretchAround(outline: Outline, edge: number): Stretch {
  const n = outline.length;
  let first = edge;
  let edges = 1;
  while (edges < n - 1 && runsOn(outline, first)) {
    first = (first + n - 1) % n;
    edges += 1;
  }
  while (edges < n - 1 && runsOn(outline, (first + edges) % n)) edges += 1;
  return { edge: first, edges };
}

/** Whether a side goes on past a vertex: no corner is there, and no straight line runs into a curve. */
function runsOn(outline: Outline, vertex: number): boolean {
  const turn = Math.abs(turnAt(outline, vertex));
  if (turn < SAME_LINE_DEG) return true;
  if (turn >= CORNER_DEG) return false;
  const [before, after] = [straightFrom(outline, vertex, -1), straightFrom(outline, vertex, 1)];
  const [short, long] = before < after ? [before, after] : [after, before];
  return long < STRAIGHT_MM || long < STRAIGHT_TIMES * short;
}

/** How far the outline runs straight from a vertex, forwards (1) or backwards (−1), mm. */
function straightFrom(outline: Outline, vertex: number, step: 1 | -1): number {
  const n = outline.length;
  const place = (i: number): Point => outline[(((vertex + i * step) % n) + n) % n] as Point;
  let length = distance(place(0), place(1));
  for (let i = 1; i < n - 1; i++) {
    const at = (((vertex + i * step) % n) + n) % n;
    if (Math.abs(turnAt(outline, at)) >= SAME_LINE_DEG) break;
    length += distance(place(i), place(i + 1));
  }
  return length;
}

/** By how much the outline turns at a vertex, degrees, counter-clockwise positive. */
function turnAt(outline: Outline, vertex: number): number {
  const n = outline.length;
  const [p, q, r] = [outline[(vertex + n - 1) % n], outline[vertex], outline[(vertex + 1) % n]] as Point[];
  if (!p || !q || !r) return 180;
  const [ux, uy, vx, vy] = [q[0] - p[0], q[1] - p[1], r[0] - q[0], r[1] - q[1]];
  return (Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy) * 180) / Math.PI;
}

/** Every side of an outline from corner to corner, the longest first. */
export function sidesOf(outline: Outline): readonly Stretch[] {
  const sides: Stretch[] = [];
  const seen = new Set<number>();
  outline.forEach((_, edge) => {
    if (seen.has(edge)) return;
    const side = stretchAround(outline, edge);
    for (let i = 0; i < side.edges; i++) seen.add((side.edge + i) % outline.length);
    sides.push(side);
  });
  const length = (side: Stretch): number => lengthAlong(stretchPoints(outline, side) ?? []);
  return sides.sort((a, b) => length(b) - length(a));
}

/** The side of the outline that runs nearest to a place, and how far off it is. */
export function sideNear(outline: Outline, at: Point): { readonly side: Stretch; readonly offMm: number } {
  let best = 0;
  let offMm = Number.POSITIVE_INFINITY;
  outline.forEach((point, edge) => {
    const off = distanceToEdge(at, point, outline[(edge + 1) % outline.length] as Point);
    if (off < offMm) {
      offMm = off;
      best = edge;
    }
  });
  return { side: stretchAround(outline, best), offMm };
}

/** The stretch of an outline from one place to another; null where nothing of it runs there. */
export function stretchBetween(outline: Outline, points: readonly Point[]): Stretch | null {
  const [from, to] = [points[0], points.at(-1)];
  if (!from || !to) return null;
  const nearest = (at: Point): number =>
    outline.reduce((best, p, i) => (distance(p, at) < distance(outline[best] as Point, at) ? i : best), 0);
  const [first, last] = [nearest(from), nearest(to)];
  const edges = (last - first + outline.length) % outline.length;
  const isThere =
    distance(outline[first] as Point, from) <= SAME_PLACE_MM &&
    distance(outline[last] as Point, to) <= SAME_PLACE_MM;
  if (!isThere || edges === 0) return stretchAlong(outline, points);
  const found = { edge: first, edges };
  const line = stretchPoints(outline, found) ?? [];
  return Math.abs(lengthAlong(line) - lengthAlong(points)) <= 2 * SAME_PLACE_MM ? found : null;
}

/** The edge that runs over the whole of a straight stretch which is now a part of it. */
function stretchAlong(outline: Outline, points: readonly Point[]): Stretch | null {
  const edge = outline.findIndex((a, i) => {
    const b = outline[(i + 1) % outline.length] as Point;
    return points.every((point) => distanceToEdge(point, a, b) <= SAME_PLACE_MM);
  });
  return edge < 0 ? null : { edge, edges: 1 };
}
