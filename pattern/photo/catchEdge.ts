import type { Point } from '../../nesting/geometry/points.ts';

/** Brightness of a picture, row by row from the top, 0 to 255. */
export interface Greys {
  readonly width: number;
  readonly height: number;
  readonly values: Uint8Array;
}

/** Brightness that changes less than this from pixel to pixel, on the whole, is grain of the cloth or of the camera. */
const LEAST_SLOPE = 3;
/** Of the two directions the weaker must have this share of the stronger to make a corner; else it is an edge. */
const CORNER_SHARE = 0.08;
const ROUNDS = 4;

/**
 * The corner that is seen nearest to a point, or the place on an edge, within `reach` pixels; the point itself where
 * nothing plain is there. Coordinates are those of the picture, pixel (0, 0) covering 0 to 1 each way.
 *
 * It is the point from which all slopes of brightness around look square on (Förstner & Gülch, "A fast operator for
 * detection and precise location of distinct points, corners and centres of circular features", 1987): exact to parts
 * of a pixel on clean edges. Along an edge without a corner the point stays where it is.
 */
export function catchEdge(greys: Greys, at: Point, reach: number): Point {
  let centre = at;
  for (let round = 0; round < ROUNDS; round++) {
    // From far off first, then finely where it was found.
    const radius = Math.max(2.5, reach / 1.5 ** round);
    const next = squareOn(greys, centre, radius);
    if (!next) return round === 0 ? at : centre;
    if (Math.hypot(next[0] - at[0], next[1] - at[1]) > reach) return at;
    centre = next;
  }
  return centre;
}

function squareOn({ width, height, values }: Greys, [cx, cy]: Point, radius: number): Point | null {
  let [xx, xy, yy, bx, by, weight] = [0, 0, 0, 0, 0, 0];
  const brightness = (x: number, y: number): number => values[y * width + x] as number;
  for (let y = Math.max(1, Math.floor(cy - radius)); y <= Math.min(height - 2, cy + radius); y++)
    for (let x = Math.max(1, Math.floor(cx - radius)); x <= Math.min(width - 2, cx + radius); x++) {
      const [dx, dy] = [x + 0.5 - cx, y + 0.5 - cy];
      const share = 1 - (dx * dx + dy * dy) / (radius * radius);
      if (share <= 0) continue;
      const gx = (brightness(x + 1, y) - brightness(x - 1, y)) / 2;
      const gy = (brightness(x, y + 1) - brightness(x, y - 1)) / 2;
      const along = gx * dx + gy * dy;
      weight += share;
      xx += share * gx * gx;
      xy += share * gx * gy;
      yy += share * gy * gy;
      bx += share * gx * along;
      by += share * gy * along;
    }
  if (weight === 0) return null;
  const mean = (xx + yy) / 2;
  const spread = Math.hypot((xx - yy) / 2, xy);
  const [strong, weak] = [mean + spread, mean - spread];
  if (Math.sqrt(strong / weight) < LEAST_SLOPE) return null;
  if (weak > CORNER_SHARE * strong) {
    const det = xx * yy - xy * xy;
    return [cx + (yy * bx - xy * by) / det, cy + (xx * by - xy * bx) / det];
  }
  // An edge: square to it only. Of the eigenvector's two forms the longer is exact.
  const [u, v] = xx >= yy ? [strong - yy, xy] : [xy, strong - xx];
  const length = Math.hypot(u, v) || 1;
  const by2 = (u * bx + v * by) / length / strong;
  return [cx + (u / length) * by2, cy + (v / length) * by2];
}
