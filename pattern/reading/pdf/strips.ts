import { signedArea } from '../../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../../nesting/packing/types.ts';

/** Filled shapes narrower than this stand for a line drawn with a pen; no piece is so narrow. */
const WIDEST_PEN_MM = 1.6;
/** Comparing the sides of a strip takes time with the square of its corners; letters and curves have far fewer. */
const MOST_CORNERS = 400;
/** A strip is at least so many times longer than wide. */
const SLENDER = 6;

export interface PenLine {
  readonly points: readonly Point[];
  readonly closed: boolean;
  readonly widthMm: number;
}

/**
 * The lines that the rings of one filled shape stand for: a ring within a ring at a pen's width becomes the line
 * between them, a slender strip its middle. Null if any of it is a shape of its own.
 */
export function penLines(rings: readonly Outline[]): PenLine[] | null {
  if (rings.some((ring) => ring.length < 3 || ring.length > MOST_CORNERS)) return null;
  if (rings.length === 2) {
    const hollow = betweenRings(rings[0] as Outline, rings[1] as Outline);
    if (hollow) return [hollow];
  }
  const lines: PenLine[] = [];
  for (const ring of rings) {
    const line = middleOf(ring);
    if (!line) return null;
    lines.push(line);
  }
  return lines.length > 0 ? lines : null;
}

/** Two rings a pen's width apart: the line half way between them. */
function betweenRings(p: Outline, q: Outline): PenLine | null {
  const [outer, inner] = Math.abs(signedArea(p)) >= Math.abs(signedArea(q)) ? [p, q] : [q, p];
  const girth = (lengthOf(outer, true) + lengthOf(inner, true)) / 2;
  const widthMm = (Math.abs(signedArea(outer)) - Math.abs(signedArea(inner))) / girth;
  if (!(widthMm > 0 && widthMm <= WIDEST_PEN_MM) || girth < SLENDER * widthMm) return null;
  const forward = signedArea(outer) > 0 === signedArea(inner) > 0 ? inner : [...inner].reverse();
  const points: Point[] = [];
  for (const corner of outer) {
    const near = nearestOn(forward, corner);
    const away = Math.hypot(near[0] - corner[0], near[1] - corner[1]);
    // At a pointed corner the rings are farther apart than the pen is wide.
    if (away > 5 * widthMm || away < 0.5 * widthMm) return null;
    points.push([(corner[0] + near[0]) / 2, (corner[1] + near[1]) / 2]);
  }
  return { points, closed: true, widthMm };
}

/** A strip with two ends as wide as the pen: the line along its middle. */
function middleOf(ring: Outline): PenLine | null {
  const girth = lengthOf(ring, true);
  // Of a strip l long and w wide the girth is 2(l + w), the area l·w: w is the smaller root of w² − girth/2·w + area.
  const room = (girth / 2) ** 2 - 4 * Math.abs(signedArea(ring));
  const widthMm = room > 0 ? (girth / 2 - Math.sqrt(room)) / 2 : 0;
  if (!(widthMm > 0 && widthMm <= WIDEST_PEN_MM) || girth / 2 < SLENDER * widthMm) return null;
  const caps: number[] = [];
  ring.forEach((point, i) => {
    const next = ring[(i + 1) % ring.length] as Point;
    const edge = Math.hypot(next[0] - point[0], next[1] - point[1]);
    if (edge > 0.6 * widthMm && edge < 1.6 * widthMm) caps.push(i);
  });
  if (caps.length !== 2) return null;
  const [first, second] = caps as [number, number];
  const there = side(ring, first + 1, second);
  const back = side(ring, second + 1, first + ring.length).reverse();
  const [long, short] = [lengthOf(there, false), lengthOf(back, false)];
  if (there.length < 2 || back.length < 2 || Math.abs(long - short) > 0.2 * long + 2 * widthMm) return null;
  const shares = [...new Set([...sharesOf(there), ...sharesOf(back)])].sort((s, t) => s - t);
  const points: Point[] = [];
  for (const share of shares) {
    const a = pointAt(there, share);
    const b = pointAt(back, share);
    if (Math.hypot(a[0] - b[0], a[1] - b[1]) > 2.5 * widthMm) return null;
    points.push([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
  }
  return { points, closed: false, widthMm };
}

const side = (ring: Outline, from: number, to: number): Point[] =>
  Array.from({ length: to - from + 1 }, (_, i) => ring[(from + i) % ring.length] as Point);

function lengthOf(points: readonly Point[], closed: boolean): number {
  let length = 0;
  for (let i = closed ? 0 : 1; i < points.length; i++) {
    const [x0, y0] = points[(i + points.length - 1) % points.length] as Point;
    const [x1, y1] = points[i] as Point;
    length += Math.hypot(x1 - x0, y1 - y0);
  }
  return length;
}

/** Where a line's points lie along it, from 0 to 1. */
function sharesOf(points: readonly Point[]): number[] {
  const whole = lengthOf(points, false);
  let along = 0;
  return points.map(([x, y], i) => {
    const before = points[i - 1];
    if (before) along += Math.hypot(x - before[0], y - before[1]);
    return i === points.length - 1 ? 1 : along / whole;
  });
}

function pointAt(points: readonly Point[], share: number): Point {
  const shares = sharesOf(points);
  const i = Math.max(
    1,
    shares.findIndex((each) => each >= share),
  );
  const [from, to] = [shares[i - 1] as number, shares[i] as number];
  const t = to > from ? (share - from) / (to - from) : 0;
  const [x0, y0] = points[i - 1] as Point;
  const [x1, y1] = points[i] as Point;
  return [x0 + (x1 - x0) * t, y0 + (y1 - y0) * t];
}

function nearestOn(ring: Outline, [x, y]: Point): Point {
  let best: Point = ring[0] as Point;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i] as Point;
    const [bx, by] = ring[(i + 1) % ring.length] as Point;
    const squared = (bx - ax) ** 2 + (by - ay) ** 2;
    const t =
      squared === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / squared));
    const foot: Point = [ax + t * (bx - ax), ay + t * (by - ay)];
    const away = Math.hypot(foot[0] - x, foot[1] - y);
    if (away < least) {
      least = away;
      best = foot;
    }
  }
  return best;
}
