/** An affine map x' = a·x + c·y + e, y' = b·x + d·y + f: the six numbers of SVG's matrix(a b c d e f). */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

/** The map that does `inner` first, then `outer`. */
export function compose(outer: Matrix, inner: Matrix): Matrix {
  const [a, b, c, d, e, f] = outer;
  const [g, h, i, j, k, l] = inner;
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}

export const translation = (x: number, y: number): Matrix => [1, 0, 0, 1, x, y];

export const scaling = (x: number, y: number): Matrix => [x, 0, 0, y, 0, 0];

/** Cosine and sine of an angle in degrees, exact at quarter turns. */
export function cosSin(degrees: number): readonly [cosine: number, sine: number] {
  const turned = ((degrees % 360) + 360) % 360;
  if (turned === 0) return [1, 0];
  if (turned === 90) return [0, 1];
  if (turned === 180) return [-1, 0];
  if (turned === 270) return [0, -1];
  const radians = (turned * Math.PI) / 180;
  return [Math.cos(radians), Math.sin(radians)];
}

/** Turns by `degrees` from the x axis towards the y axis: clockwise on a page whose y points down. */
export function rotation(degrees: number): Matrix {
  const [cosine, sine] = cosSin(degrees);
  return [cosine, sine, -sine, cosine, 0, 0];
}

/** Square root of the area factor: how much lengths grow on the whole. Never negative. */
export function meanScale(m: Matrix): number {
  return Math.sqrt(Math.abs(m[0] * m[3] - m[1] * m[2]));
}

/** How much the longest and the shortest direction grow: the singular values of the linear part. */
export function extremeScales(m: Matrix): readonly [largest: number, smallest: number] {
  const [a, b, c, d] = m;
  const sum = (a * a + b * b + c * c + d * d) / 2;
  const determinant = a * d - b * c;
  const root = Math.sqrt(Math.max(0, sum * sum - determinant * determinant));
  return [Math.sqrt(sum + root), Math.sqrt(Math.max(0, sum - root))];
}

/** Whether all six numbers are finite. */
export const isFiniteMatrix = (m: Matrix): boolean => m.every(Number.isFinite);
