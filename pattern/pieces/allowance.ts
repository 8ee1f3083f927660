import { union } from '../../nesting/geometry/boolean.ts';
import type { Polygon } from '../../nesting/geometry/points.ts';
import { cleanRing, counterClockwise, signedArea } from '../../nesting/geometry/rings.ts';
import { selfIntersections } from '../../nesting/geometry/validity.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import { MITRE_LIMIT } from './tolerances.ts';

/** An area below this, in mm², is a crumb of rounding, not a piece of cloth. */
const CRUMB_MM2 = 1e-3;

/**
 * The ring with `distanceMm` added all round (taken off if negative), corners mitred: each edge moves out along its
 * normal until neighbours meet. Corners sharper than the mitre limit are cut off square, so that the distance is
 * kept everywhere. Largest polygon first; more than one only where a ring that shrinks falls apart, holes where an
 * allowance runs into itself across a narrow mouth. Empty if nothing is left.
 *
 * Corners are computed directly, so that a rectangle grows to exact measures; the clipper, which rounds to a grid
 * of about 1e-8 of the size, is asked only where the moved edges cross each other. What it keeps is what the moved
 * line winds around positively (Chen & McMains 2005).
 */
export function addAllowance(ring: Outline, distanceMm: number): Polygon[] {
  const outline = cleanRing(counterClockwise(ring));
  if (outline.length < 3) return [];
  if (distanceMm === 0) return [{ outer: outline, holes: [] }];
  const { ring: moved, turned } = movedLine(outline, distanceMm);
  if (!turned) {
    const clean = cleanRing(moved);
    if (clean.length >= 3 && signedArea(clean) > 0 && selfIntersections(clean, 1).length === 0) {
      return [{ outer: clean, holes: [] }];
    }
  }
  return union([moved], 'positive')
    .filter((polygon) => signedArea(polygon.outer) > CRUMB_MM2)
    .map((polygon) => ({
      outer: cleanRing(polygon.outer),
      holes: polygon.holes.filter((hole) => Math.abs(signedArea(hole)) > CRUMB_MM2),
    }))
    .sort((a, b) => signedArea(b.outer) - signedArea(a.outer));
}

interface Corner {
  /** Position, unit direction of the edge that comes in and of the one that leaves. */
  readonly at: Point;
  readonly inX: number;
  readonly inY: number;
  readonly outX: number;
  readonly outY: number;
  readonly outLength: number;
}

/** All edges moved by the distance and joined. `turned`: some edge would have to run backwards. */
function movedLine(ring: Outline, distance: number): { ring: Point[]; turned: boolean } {
  const corners = cornersOf(ring);
  // Where the edge's ends move inwards by more than its length, its corners can't be simple meeting points.
  const shortened = corners.map((corner, i) => {
    const next = corners[(i + 1) % corners.length]!;
    const reach = (c: Corner): number => distance * tangentOfHalfTurn(c);
    return corner.outLength + reach(corner) + reach(next) <= 0;
  });
  const out: Point[] = [];
  corners.forEach((corner, i) => {
    const before = shortened[(i + corners.length - 1) % corners.length]!;
    out.push(...join(corner, distance, before || shortened[i]!));
  });
  return { ring: out, turned: shortened.some(Boolean) };
}

function cornersOf(ring: Outline): Corner[] {
  const n = ring.length;
  const direction = (i: number): [number, number, number] => {
    const [ax, ay] = ring[(i + n) % n]!;
    const [bx, by] = ring[(i + 1) % n]!;
    const length = Math.hypot(bx - ax, by - ay);
    return [(bx - ax) / length, (by - ay) / length, length];
  };
  return ring.map((at, i) => {
    const [inX, inY] = direction(i - 1);
    const [outX, outY, outLength] = direction(i);
    return { at, inX, inY, outX, outY, outLength };
  });
}

/** tan(θ/2) of the exterior angle θ, positive at convex corners: by so much, times the distance, an edge grows. */
function tangentOfHalfTurn({ inX, inY, outX, outY }: Corner): number {
  const sine = inX * outY - inY * outX;
  const cosine = inX * outX + inY * outY;
  return sine / Math.max(1 + cosine, 1e-12);
}

function join(corner: Corner, distance: number, crowded: boolean): Point[] {
  const [x, y] = corner.at;
  const { inX, inY, outX, outY } = corner;
  // Normals to the right: outwards on a counter-clockwise ring.
  const first: Point = [x + distance * inY, y - distance * inX];
  const last: Point = [x + distance * outY, y - distance * outX];
  const tangent = tangentOfHalfTurn(corner);
  if (tangent * distance < 0) {
    // A corner that opens inwards: the moved edges cross each other before they end, unless one is too short.
    return crowded ? [first, corner.at, last] : [mitre(corner, distance, tangent)];
  }
  if (Math.hypot(1, tangent) <= MITRE_LIMIT) return [mitre(corner, distance, tangent)];
  return squareEnd(corner, distance, first, last);
}

/** Where the two moved edges meet: the end of the moved incoming edge, prolonged by distance × tan(θ/2). */
function mitre({ at: [x, y], inX, inY }: Corner, distance: number, tangent: number): Point {
  const along = distance * tangent;
  return [x + distance * inY + along * inX, y - distance * inX + along * inY];
}

/** Both moved edges prolonged to a line square to the corner's bisector, `MITRE_LIMIT` distances away. */
function squareEnd(corner: Corner, distance: number, first: Point, last: Point): Point[] {
  const { at, inX, inY, outX, outY } = corner;
  const size = Math.abs(distance);
  // The bisector points out of the corner, whichever side moves: incoming direction less outgoing one.
  const bisectorLength = Math.hypot(inX - outX, inY - outY);
  const bx = (inX - outX) / bisectorLength;
  const by = (inY - outY) / bisectorLength;
  const reach = (from: Point, dx: number, dy: number): Point => {
    const advance = dx * bx + dy * by;
    const done = (from[0] - at[0]) * bx + (from[1] - at[1]) * by;
    const t = (MITRE_LIMIT * size - done) / advance;
    return [from[0] + t * dx, from[1] + t * dy];
  };
  return [reach(first, inX, inY), reach(last, -outX, -outY)];
}
