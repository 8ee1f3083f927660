import type { Point } from '../../../nesting/packing/types.ts';
import type { PathCommand } from '../pathCommands.ts';

/** A B-spline curve as the format stores it. */
export interface BSpline {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly controls: readonly Point[];
  /** One for each control point; all 1 where the curve is not rational. */
  readonly weights: readonly number[];
}

/** Weighted x, weighted y, weight. */
type Homogeneous = readonly [x: number, y: number, w: number];

const MAX_DEGREE = 25;
/** Halvings of one span: each divides the error by four, so on 100 m they reach a hundredth of a millimetre. */
const MAX_HALVINGS = 12;
/** Chords of one spline. */
const MAX_CHORDS = 100_000;

/** What is wrong with the numbers of a spline, or null. */
export function splineFault({ degree, knots, controls, weights }: BSpline): string | null {
  if (!Number.isInteger(degree) || degree < 1 || degree > MAX_DEGREE) return 'its degree makes no sense';
  if (controls.length < degree + 1) return 'it has too few control points';
  if (knots.length !== controls.length + degree + 1) return 'its knots do not match its control points';
  if (weights.length !== controls.length) return 'its weights do not match its control points';
  if (![...knots, ...weights, ...controls.flat()].every(Number.isFinite))
    return 'a number of it is unreadable';
  if (weights.some((weight) => weight <= 0)) return 'a weight of it is not greater than zero';
  if (knots.some((knot, i) => i > 0 && knot < (knots[i - 1] as number))) return 'its knots run backwards';
  return null;
}

/**
 * The curve as path commands: spans of degree 3 or less without weights as exact Béziers, others as chords within
 * `tolerance`. Each span's Bézier points come from its polar form (Ramshaw 1987, "Blossoming"); a span is halved by
 * de Casteljau's algorithm until its control polygon, which encloses the curve, is flat.
 */
export function splineCommands(spline: BSpline, tolerance: number): PathCommand[] {
  const { degree, knots, controls, weights } = spline;
  const rational = weights.some((weight) => Math.abs(weight - (weights[0] as number)) > 1e-12);
  const points = controls.map(([x, y], i): Homogeneous => {
    const w = rational ? (weights[i] as number) : 1;
    return [x * w, y * w, w];
  });
  const commands: PathCommand[] = [];
  for (let span = degree; span < controls.length; span++) {
    const from = knots[span] as number;
    const to = knots[span + 1] as number;
    if (!(to > from)) continue;
    const bezier = Array.from({ length: degree + 1 }, (_, i) =>
      polar(
        points,
        knots,
        degree,
        span,
        Array.from({ length: degree }, (_, k) => (k < degree - i ? from : to)),
      ),
    );
    if (commands.length === 0) commands.push(['M', ...projected(bezier[0] as Homogeneous)]);
    if (!rational && degree <= 3) commands.push(exact(bezier));
    else halve(bezier, tolerance, MAX_HALVINGS, commands);
  }
  return commands;
}

/** The polar form of the span's polynomial at `degree` arguments: de Boor's scheme, one argument a round. */
function polar(
  points: readonly Homogeneous[],
  knots: readonly number[],
  degree: number,
  span: number,
  at: readonly number[],
): Homogeneous {
  const row = points.slice(span - degree, span + 1);
  for (let round = 1; round <= degree; round++) {
    const t = at[round - 1] as number;
    for (let i = 0; i <= degree - round; i++) {
      const low = knots[span - degree + round + i] as number;
      const high = knots[span + 1 + i] as number;
      const share = high > low ? (t - low) / (high - low) : 0;
      row[i] = between(row[i] as Homogeneous, row[i + 1] as Homogeneous, share);
    }
  }
  return row[0] as Homogeneous;
}

const between = (p: Homogeneous, q: Homogeneous, t: number): Homogeneous => [
  p[0] + (q[0] - p[0]) * t,
  p[1] + (q[1] - p[1]) * t,
  p[2] + (q[2] - p[2]) * t,
];

const projected = ([x, y, w]: Homogeneous): Point => [x / w, y / w];

function exact(bezier: readonly Homogeneous[]): PathCommand {
  const [, b, c, d] = bezier.map(projected);
  if (d) return ['C', ...(b as Point), ...(c as Point), ...d];
  if (c) return ['Q', ...(b as Point), ...c];
  return ['L', ...(b as Point)];
}

function halve(
  bezier: readonly Homogeneous[],
  tolerance: number,
  left: number,
  commands: PathCommand[],
): void {
  const flatPoints = bezier.map(projected);
  const first = flatPoints[0] as Point;
  const last = flatPoints[flatPoints.length - 1] as Point;
  const flat = flatPoints.every(([x, y]) => distanceToChord(x, y, first, last) <= tolerance);
  if (flat || left === 0 || commands.length > MAX_CHORDS) {
    commands.push(['L', ...last]);
    return;
  }
  const before: Homogeneous[] = [];
  const after: Homogeneous[] = [];
  let row = bezier;
  while (row.length > 0) {
    before.push(row[0] as Homogeneous);
    after.unshift(row[row.length - 1] as Homogeneous);
    row = row.slice(1).map((point, i) => between(row[i] as Homogeneous, point, 0.5));
  }
  halve(before, tolerance, left - 1, commands);
  halve(after, tolerance, left - 1, commands);
}

function distanceToChord(x: number, y: number, a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const squared = dx * dx + dy * dy;
  const t = squared === 0 ? 0 : Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / squared));
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy);
}

/**
 * A cubic curve through points with continuous curvature, its parameter running with the chords' lengths (de Boor
 * 1978, "A Practical Guide to Splines", ch. IV, free ends): for splines stored by fit points alone.
 */
export function throughPoints(points: readonly Point[]): PathCommand[] {
  const first = points[0];
  if (!first) return [];
  const distinct = points.filter((point, i) => {
    const before = points[i - 1];
    return !before || before[0] !== point[0] || before[1] !== point[1];
  });
  const commands: PathCommand[] = [['M', ...first]];
  const n = distinct.length - 1;
  if (n < 1) return commands;
  const steps = distinct
    .slice(1)
    .map(([x, y], i) => Math.hypot(x - (distinct[i] as Point)[0], y - (distinct[i] as Point)[1]));
  const slopesX = slopes(
    distinct.map(([x]) => x),
    steps,
  );
  const slopesY = slopes(
    distinct.map(([, y]) => y),
    steps,
  );
  for (let i = 0; i < n; i++) {
    const [x0, y0] = distinct[i] as Point;
    const [x1, y1] = distinct[i + 1] as Point;
    const third = (steps[i] as number) / 3;
    commands.push([
      'C',
      x0 + (slopesX[i] as number) * third,
      y0 + (slopesY[i] as number) * third,
      x1 - (slopesX[i + 1] as number) * third,
      y1 - (slopesY[i + 1] as number) * third,
      x1,
      y1,
    ]);
  }
  return commands;
}

/** Slopes at the knots of the natural cubic spline through values at steps: a tridiagonal system. */
function slopes(values: readonly number[], steps: readonly number[]): number[] {
  const n = steps.length;
  const rise = (i: number): number =>
    ((values[i + 1] as number) - (values[i] as number)) / (steps[i] as number);
  const diagonal = [2];
  const above = [1];
  const right = [3 * rise(0)];
  for (let i = 1; i <= n; i++) {
    const h = i < n ? (steps[i - 1] as number) : 1;
    const k = i < n ? (steps[i] as number) : 0;
    // Row i: k·m[i−1] + 2(h + k)·m[i] + h·m[i+1] = 3(k·rise[i−1] + h·rise[i]); at the end m[n−1] + 2m[n] = 3·rise.
    const low = i < n ? k : 1;
    const middle = i < n ? 2 * (h + k) : 2;
    const sum = i < n ? 3 * (k * rise(i - 1) + h * rise(i)) : 3 * rise(n - 1);
    const ratio = low / (diagonal[i - 1] as number);
    diagonal.push(middle - ratio * (above[i - 1] as number));
    above.push(i < n ? h : 0);
    right.push(sum - ratio * (right[i - 1] as number));
  }
  const found = new Array<number>(n + 1).fill(0);
  for (let i = n; i >= 0; i--)
    found[i] = ((right[i] as number) - (above[i] as number) * (found[i + 1] ?? 0)) / (diagonal[i] as number);
  return found;
}
