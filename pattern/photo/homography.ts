import type { Point } from '../../nesting/packing/types.ts';
import { photoFault } from './photoFault.ts';

/**
 * The nine numbers of a map between two planes as a camera sees them, row by row, the last one 1:
 * x' = (h0 x + h1 y + h2) / (h6 x + h7 y + h8), y' = (h3 x + h4 y + h5) / (h6 x + h7 y + h8).
 */
export type Homography = readonly number[];

export type Corners = readonly [Point, Point, Point, Point];

/** A pivot smaller than this, in figures scaled to about 1, means that three corners lie in line. */
const LEAST_PIVOT = 1e-9;

/**
 * The homography that takes four points to four others (direct linear solution, Hartley & Zisserman, "Multiple View
 * Geometry", 2004, section 4.1, with the last number set to 1, on points scaled about their middle).
 * @throws RangeError if three of either four lie in line
 */
export function homographyOf(from: Corners, to: Corners): Homography {
  const source = normalised(from);
  const target = normalised(to);
  const rows: number[][] = [];
  for (let i = 0; i < 4; i++) {
    const [x, y] = source.points[i] as Point;
    const [u, v] = target.points[i] as Point;
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y, u], [0, 0, 0, x, y, 1, -v * x, -v * y, v]);
  }
  const solved = [...solve(rows), 1];
  const back = [
    [1 / target.scale, 0, target.middle[0]],
    [0, 1 / target.scale, target.middle[1]],
    [0, 0, 1],
  ].flat();
  const there = [
    [source.scale, 0, -source.scale * source.middle[0]],
    [0, source.scale, -source.scale * source.middle[1]],
    [0, 0, 1],
  ].flat();
  const product = multiply(multiply(back, solved), there);
  const last = product[8] as number;
  if (!(Math.abs(last) > LEAST_PIVOT)) throw photoFault(({ inLine }) => inLine);
  return product.map((value) => value / last);
}

/** Where a point goes. Not finite on the horizon. */
export function throughHomography(h: Homography, [x, y]: Point): Point {
  const [a = 1, b = 0, c = 0, d = 0, e = 1, f = 0, g = 0, i = 0, j = 1] = h;
  const w = g * x + i * y + j;
  return [(a * x + b * y + c) / w, (d * x + e * y + f) / w];
}

function normalised(corners: Corners): { points: readonly Point[]; middle: Point; scale: number } {
  const middle: Point = [
    corners.reduce((sum, [x]) => sum + x, 0) / 4,
    corners.reduce((sum, [, y]) => sum + y, 0) / 4,
  ];
  const size = Math.max(...corners.map(([x, y]) => Math.hypot(x - middle[0], y - middle[1])));
  if (!(size > 0) || !Number.isFinite(size)) throw photoFault(({ inLine }) => inLine);
  const scale = 1 / size;
  const points = corners.map(([x, y]): Point => [(x - middle[0]) * scale, (y - middle[1]) * scale]);
  for (let i = 0; i < 4; i++) {
    const [p, q, r] = [0, 1, 2].map((k) => points[(i + k) % 4] as Point) as [Point, Point, Point];
    const turn = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
    if (Math.abs(turn) < LEAST_PIVOT) throw photoFault(({ inLine }) => inLine);
  }
  return { points, middle, scale };
}

/** Solves eight equations by elimination, the largest pivot first. Rows are changed. */
function solve(rows: number[][]): number[] {
  const n = rows.length;
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++)
      if (Math.abs(rows[row]?.[column] ?? 0) > Math.abs(rows[pivot]?.[column] ?? 0)) pivot = row;
    const best = rows[pivot] as number[];
    rows[pivot] = rows[column] as number[];
    rows[column] = best;
    const lead = best[column] as number;
    if (Math.abs(lead) < LEAST_PIVOT) throw photoFault(({ inLine }) => inLine);
    for (const row of rows) {
      if (row === best) continue;
      const times = (row[column] as number) / lead;
      for (let k = column; k <= n; k++) row[k] = (row[k] as number) - times * (best[k] as number);
    }
  }
  return rows.map((row, i) => (row[n] as number) / (row[i] as number));
}

function multiply(a: readonly number[], b: readonly number[]): number[] {
  return Array.from({ length: 9 }, (_, at) => {
    const row = Math.floor(at / 3) * 3;
    const column = at % 3;
    return [0, 1, 2].reduce((sum, k) => sum + (a[row + k] as number) * (b[3 * k + column] as number), 0);
  });
}
