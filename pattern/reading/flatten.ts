import type { Point } from '../../nesting/packing/types.ts';
import { extremeScales, type Matrix } from './matrix.ts';
import type { PathCommand } from './pathCommands.ts';

/** One stroke of the pen: from a move to the next move. */
export interface Polyline {
  readonly points: Point[];
  /** The path says so itself (`Z`); the first point is not repeated then. */
  readonly closed: boolean;
}

/** Thrown when a drawing would need more points than `limit`. */
export class TooManyPoints extends RangeError {}

/** Counts points over a whole drawing. */
export interface PointBudget {
  left: number;
}

/**
 * Replaces curves by chords that lie within `tolerance` of them, after mapping by `matrix` (the tolerance is in
 * mapped units). Points lie on the curves, and the outermost points of every curve in x and y are among them, so
 * the box is that of the true curve.
 *
 * Throws `TooManyPoints` when `budget` runs out. Coordinates that are not finite are handed on as they are.
 */
export function flatten(
  commands: readonly PathCommand[],
  matrix: Matrix,
  tolerance: number,
  budget: PointBudget = { left: Number.POSITIVE_INFINITY },
): Polyline[] {
  const [a, b, c, d, e, f] = matrix;
  const polylines: Polyline[] = [];
  let points: Point[] = [];
  // The current point and the subpath's start, in the path's own coordinates.
  let x = 0;
  let y = 0;
  let startX = 0;
  let startY = 0;

  const place = (px: number, py: number): Point => [a * px + c * py + e, b * px + d * py + f];
  const push = (point: Point): void => {
    budget.left -= 1;
    if (budget.left < 0) throw new TooManyPoints('more points than one drawing may have');
    points.push(point);
  };
  const lift = (closed: boolean): void => {
    // A copy is as long as it must be; lists that grew keep room for more, a multiple of what a single stroke needs.
    if (points.length > 1) polylines.push({ points: points.slice(), closed });
    points = [];
  };
  // After a Z the pen stands at the subpath's start without a point of its own there.
  const lower = (): void => {
    if (points.length === 0) push(place(x, y));
  };

  for (const command of commands) {
    switch (command[0]) {
      case 'M':
        lift(false);
        x = startX = command[1];
        y = startY = command[2];
        break;
      case 'L':
        lower();
        x = command[1];
        y = command[2];
        push(place(x, y));
        break;
      case 'Q': {
        lower();
        const [, x1, y1, x2, y2] = command;
        // A quadratic is the cubic whose handles reach two thirds of the way.
        const from = place(x, y);
        const handle = place(x1, y1);
        const to = place(x2, y2);
        flattenCubic(
          from,
          [from[0] + ((handle[0] - from[0]) * 2) / 3, from[1] + ((handle[1] - from[1]) * 2) / 3],
          [to[0] + ((handle[0] - to[0]) * 2) / 3, to[1] + ((handle[1] - to[1]) * 2) / 3],
          to,
          tolerance,
          push,
        );
        x = x2;
        y = y2;
        break;
      }
      case 'C': {
        lower();
        const [, x1, y1, x2, y2, x3, y3] = command;
        flattenCubic(place(x, y), place(x1, y1), place(x2, y2), place(x3, y3), tolerance, push);
        x = x3;
        y = y3;
        break;
      }
      case 'A': {
        lower();
        const [, rx, ry, tilt, large, sweep, endX, endY] = command;
        flattenArc(x, y, rx, ry, tilt, large, sweep, endX, endY, matrix, tolerance, push);
        x = endX;
        y = endY;
        break;
      }
      case 'Z':
        lift(true);
        x = startX;
        y = startY;
        break;
    }
  }
  lift(false);
  return polylines;
}

const MAX_CHORDS = 50_000;

/** Pushes the chords of a cubic Bézier, without its first point. */
function flattenCubic(
  p0: Point,
  p1: Point,
  p2: Point,
  p3: Point,
  tolerance: number,
  push: (point: Point) => void,
): void {
  const coordinates = [...p0, ...p1, ...p2, ...p3];
  if (!coordinates.every(Number.isFinite)) {
    push(p3);
    return;
  }
  // Cut at the extremes in x and y, so that the box is exact; then each part into equal steps of the parameter.
  const cuts = [
    0,
    ...cubicExtremes(p0[0], p1[0], p2[0], p3[0]),
    ...cubicExtremes(p0[1], p1[1], p2[1], p3[1]),
    1,
  ]
    .sort((s, t) => s - t)
    .filter((t, i, all) => i === 0 || t - (all[i - 1] ?? 0) > 1e-9);
  for (let i = 0; i + 1 < cuts.length; i++) {
    const from = cuts[i] ?? 0;
    const to = i + 2 === cuts.length ? 1 : (cuts[i + 1] ?? 1);
    const part = subCubic(p0, p1, p2, p3, from, to);
    const steps = cubicSteps(part, tolerance);
    for (let step = 1; step < steps; step++) push(cubicAt(...part, step / steps));
    push(i + 2 === cuts.length ? p3 : part[3]);
  }
}

type Cubic = readonly [Point, Point, Point, Point];

/**
 * The least number of equal steps whose chords all lie within `tolerance`. Between a proved enough (error of a
 * chord ≤ h²/8 · max|B''|) and one, the smallest that the closer test of `stepsAreFlat` accepts is looked for by halving.
 */
function cubicSteps(cubic: Cubic, tolerance: number): number {
  const [p0, p1, p2, p3] = cubic;
  const bend = Math.max(
    Math.hypot(p0[0] - 2 * p1[0] + p2[0], p0[1] - 2 * p1[1] + p2[1]),
    Math.hypot(p1[0] - 2 * p2[0] + p3[0], p1[1] - 2 * p2[1] + p3[1]),
  );
  let enough = Math.min(MAX_CHORDS, Math.max(1, Math.ceil(Math.sqrt((0.75 * bend) / tolerance))));
  let tooFew = 0;
  while (enough - tooFew > 1) {
    const tried = (enough + tooFew) >> 1;
    if (stepsAreFlat(cubic, tried, tolerance)) enough = tried;
    else tooFew = tried;
  }
  return enough;
}

/**
 * Whether equal steps of the parameter give chords that are near enough everywhere. Distance to a segment is convex,
 * so a point of the curve is no farther from the chord than its handles weighted by their Bernstein polynomials:
 * 3t(1 − t)((1 − t)·d1 + t·d2), at most ¾ of the larger distance.
 */
function stepsAreFlat([p0, p1, p2, p3]: Cubic, steps: number, tolerance: number): boolean {
  // B(t) = ((a·t + b)·t + c)·t + p0, in loose numbers: this is where the time goes.
  const cx = 3 * (p1[0] - p0[0]);
  const bx = 3 * (p2[0] - p1[0]) - cx;
  const ax = p3[0] - p0[0] - cx - bx;
  const cy = 3 * (p1[1] - p0[1]);
  const by = 3 * (p2[1] - p1[1]) - cy;
  const ay = p3[1] - p0[1] - cy - by;
  const third = 1 / (3 * steps);
  const most = tolerance / 0.75;
  let x = p0[0];
  let y = p0[1];
  let slopeX = cx;
  let slopeY = cy;
  for (let step = 1; step <= steps; step++) {
    const t = step / steps;
    const nextX = ((ax * t + bx) * t + cx) * t + p0[0];
    const nextY = ((ay * t + by) * t + cy) * t + p0[1];
    const nextSlopeX = (3 * ax * t + 2 * bx) * t + cx;
    const nextSlopeY = (3 * ay * t + 2 * by) * t + cy;
    if (
      segmentDistance(x + slopeX * third, y + slopeY * third, x, y, nextX, nextY) > most ||
      segmentDistance(nextX - nextSlopeX * third, nextY - nextSlopeY * third, x, y, nextX, nextY) > most
    )
      return false;
    x = nextX;
    y = nextY;
    slopeX = nextSlopeX;
    slopeY = nextSlopeY;
  }
  return true;
}

/** Distance from a point to the segment from `from` to `to`. */
export const distanceToSegment = (point: Point, from: Point, to: Point): number =>
  segmentDistance(point[0], point[1], from[0], from[1], to[0], to[1]);

function segmentDistance(px: number, py: number, ax: number, ay: number, bx: number, by: number): number {
  const dx = bx - ax;
  const dy = by - ay;
  const squared = dx * dx + dy * dy;
  let t = squared === 0 ? 0 : ((px - ax) * dx + (py - ay) * dy) / squared;
  t = Math.max(0, Math.min(1, t));
  const restX = px - ax - t * dx;
  const restY = py - ay - t * dy;
  return Math.sqrt(restX * restX + restY * restY);
}

function cubicAt(p0: Point, p1: Point, p2: Point, p3: Point, t: number): Point {
  const s = 1 - t;
  const w0 = s * s * s;
  const w1 = 3 * s * s * t;
  const w2 = 3 * s * t * t;
  const w3 = t * t * t;
  return [
    w0 * p0[0] + w1 * p1[0] + w2 * p2[0] + w3 * p3[0],
    w0 * p0[1] + w1 * p1[1] + w2 * p2[1] + w3 * p3[1],
  ];
}

/** The part of a cubic between two parameters, by blossoming. */
function subCubic(p0: Point, p1: Point, p2: Point, p3: Point, from: number, to: number): Cubic {
  const blossom = (r: number, s: number, t: number): Point => {
    const axis = (i: 0 | 1): number => {
      const q0 = p0[i] + (p1[i] - p0[i]) * r;
      const q1 = p1[i] + (p2[i] - p1[i]) * r;
      const q2 = p2[i] + (p3[i] - p2[i]) * r;
      const r0 = q0 + (q1 - q0) * s;
      const r1 = q1 + (q2 - q1) * s;
      return r0 + (r1 - r0) * t;
    };
    return [axis(0), axis(1)];
  };
  return [blossom(from, from, from), blossom(from, from, to), blossom(from, to, to), blossom(to, to, to)];
}

/** Parameters inside (0, 1) where one coordinate of a cubic turns round. */
function cubicExtremes(v0: number, v1: number, v2: number, v3: number): number[] {
  // B'/3 = A·t² + B·t + C
  const A = v3 - 3 * v2 + 3 * v1 - v0;
  const B = 2 * (v2 - 2 * v1 + v0);
  const C = v1 - v0;
  const inside = (t: number): boolean => t > 1e-9 && t < 1 - 1e-9;
  if (Math.abs(A) < 1e-12 * (Math.abs(B) + Math.abs(C))) return B === 0 ? [] : [-C / B].filter(inside);
  const discriminant = B * B - 4 * A * C;
  if (!(discriminant > 0)) return [];
  // The stable form: no difference of nearly equal numbers.
  const q = -0.5 * (B + (B < 0 ? -1 : 1) * Math.sqrt(discriminant));
  return [q / A, ...(q === 0 ? [] : [C / q])].filter(inside);
}

/**
 * Pushes the chords of an elliptical arc, without its first point. Conversion from endpoints to the centre and the
 * out-of-range rules are those of SVG 1.1, appendix F.6; the arc itself is sampled, not turned into Béziers.
 */
function flattenArc(
  x0: number,
  y0: number,
  radiusX: number,
  radiusY: number,
  tilt: number,
  large: boolean,
  sweep: boolean,
  x1: number,
  y1: number,
  matrix: Matrix,
  tolerance: number,
  push: (point: Point) => void,
): void {
  const [a, b, c, d, e, f] = matrix;
  const end: Point = [a * x1 + c * y1 + e, b * x1 + d * y1 + f];
  let rx = Math.abs(radiusX);
  let ry = Math.abs(radiusY);
  if (![x0, y0, rx, ry, tilt, x1, y1].every(Number.isFinite) || rx === 0 || ry === 0) {
    push(end);
    return;
  }
  if (x0 === x1 && y0 === y1) return;
  const radians = (tilt * Math.PI) / 180;
  const cosine = Math.cos(radians);
  const sine = Math.sin(radians);
  // Half the chord, in the ellipse's own axes.
  const hx = (cosine * (x0 - x1)) / 2 + (sine * (y0 - y1)) / 2;
  const hy = (-sine * (x0 - x1)) / 2 + (cosine * (y0 - y1)) / 2;
  let reach = Math.hypot(hx / rx, hy / ry);
  if (reach > 1) {
    rx *= reach;
    ry *= reach;
    reach = 1;
  }
  // Measured in the radii the ellipse is a unit circle: (ux, uy) is half the chord there, the centre lies on its
  // perpendicular bisector at the distance that is left over.
  const ux = hx / rx;
  const uy = hy / ry;
  const away = (large === sweep ? -1 : 1) * Math.sqrt(1 - reach * reach);
  const cx = reach === 0 ? 0 : (away * uy) / reach;
  const cy = reach === 0 ? 0 : (-away * ux) / reach;
  const from = Math.atan2(uy - cy, ux - cx);
  let turn = Math.atan2(-uy - cy, -ux - cx) - from;
  if (sweep && turn < 0) turn += 2 * Math.PI;
  if (!sweep && turn > 0) turn -= 2 * Math.PI;
  const middleX = cosine * rx * cx - sine * ry * cy + (x0 + x1) / 2;
  const middleY = sine * rx * cx + cosine * ry * cy + (y0 + y1) / 2;
  // Unit circle → page.
  const circle: Matrix = [
    rx * (a * cosine + c * sine),
    rx * (b * cosine + d * sine),
    ry * (-a * sine + c * cosine),
    ry * (-b * sine + d * cosine),
    a * middleX + c * middleY + e,
    b * middleX + d * middleY + f,
  ];
  flattenCircleArc(circle, from, turn, tolerance, push);
  push(end);
}

/** Pushes the inner points of the image of a unit circle's arc from angle `from` over `turn` radians. */
function flattenCircleArc(
  circle: Matrix,
  from: number,
  turn: number,
  tolerance: number,
  push: (point: Point) => void,
): void {
  const [largest] = extremeScales(circle);
  if (!Number.isFinite(largest) || largest === 0) return;
  // A chord over the angle h misses a unit circle by 1 − cos(h/2).
  const step = tolerance >= largest ? Math.PI / 2 : 2 * Math.acos(1 - tolerance / largest);
  // Where the image turns round in x or y: tan(angle) = c/a or d/b, every half turn.
  const cuts: number[] = [];
  const last = from + turn;
  const low = Math.min(from, last);
  const high = Math.max(from, last);
  for (const base of [Math.atan2(circle[2], circle[0]), Math.atan2(circle[3], circle[1])]) {
    const first = base + Math.ceil((low - base) / Math.PI) * Math.PI;
    for (let angle = first; angle < high; angle += Math.PI) cuts.push(angle);
  }
  const angles = [
    from,
    ...cuts
      .filter((angle) => angle - low > 1e-9 && high - angle > 1e-9)
      .sort((s, t) => (turn < 0 ? t - s : s - t)),
    last,
  ];
  for (let i = 0; i + 1 < angles.length; i++) {
    const begin = angles[i] ?? from;
    const span = (angles[i + 1] ?? last) - begin;
    if (Math.abs(span) < 1e-9) continue;
    const steps = Math.min(MAX_CHORDS, Math.max(1, Math.ceil(Math.abs(span) / step - 1e-9)));
    for (let k = 1; k <= steps; k++) {
      if (k === steps && i + 2 === angles.length) break;
      const angle = begin + (span * k) / steps;
      const cosine = Math.cos(angle);
      const sine = Math.sin(angle);
      push([
        circle[0] * cosine + circle[2] * sine + circle[4],
        circle[1] * cosine + circle[3] * sine + circle[5],
      ]);
    }
  }
}
