import type { Point, Ring } from './points.ts';

/** Rotation by some angle as a pair; multiples of 90° are exact. */
export interface Turn {
  readonly cos: number;
  readonly sin: number;
}

/** An angle in degrees brought into [0, 360). */
export function normaliseDegrees(degrees: number): number {
  const rest = degrees % 360;
  return rest < 0 ? rest + 360 : rest + 0;
}

/** Cosine and sine of an angle in degrees, exact for quarter turns. */
export function turnBy(degrees: number): Turn {
  switch (normaliseDegrees(degrees)) {
    case 0:
      return { cos: 1, sin: 0 };
    case 90:
      return { cos: 0, sin: 1 };
    case 180:
      return { cos: -1, sin: 0 };
    case 270:
      return { cos: 0, sin: -1 };
    default: {
      const radians = (degrees * Math.PI) / 180;
      return { cos: Math.cos(radians), sin: Math.sin(radians) };
    }
  }
}

/** A point mirrored (x → −x) if asked, then turned counter-clockwise about the origin, then shifted. */
export function placePoint(point: Point, { cos, sin }: Turn, mirrored: boolean, x: number, y: number): Point {
  const px = mirrored ? -point[0] : point[0];
  const py = point[1];
  return [px * cos - py * sin + x, px * sin + py * cos + y];
}

/**
 * A ring mirrored, turned and shifted, in that order. A mirrored ring is listed backwards, so that a
 * counter-clockwise ring stays counter-clockwise.
 */
export function placeRing(ring: Ring, rotation: number, mirrored = false, x = 0, y = 0): Ring {
  const by = turnBy(rotation);
  const placed = ring.map((p) => placePoint(p, by, mirrored, x, y));
  return mirrored ? placed.reverse() : placed;
}
