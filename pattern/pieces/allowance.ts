import { union } from '../../nesting/geometry/boolean.ts';
import type { Polygon } from '../../nesting/geometry/points.ts';
import { cleanRing, counterClockwise, signedArea } from '../../nesting/geometry/rings.ts';
import { ARC_STEP_RADIANS } from '../../nesting/geometry/tolerances.ts';
import { selfIntersections } from '../../nesting/geometry/validity.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { Corners } from '../exchange/project.ts';
import { MITRE_LIMIT } from './tolerances.ts';
import { withoutRepeats } from './withoutRepeats.ts';

/** An area below this, in mm², is a crumb of rounding, not a piece of cloth. */
const CRUMB_MM2 = 1e-3;

/** How far the edge from a to b moves out, in mm. */
export type EdgeDistance = (a: Point, b: Point) => number;

/**
 * The ring with an allowance added all round (taken off if negative): each edge moves out along its normal until
 * neighbours meet. Corners are mitred, and cut off square where sharper than the mitre limit, so that the distance is
 * kept everywhere; or all cut off square at the distance; or rounded. Edges may have distances of their own: where
 * they differ on one straight line, the allowance has a step. Largest polygon first; more than one only where a ring
 * that shrinks falls apart, holes where an allowance runs into itself across a narrow mouth. Empty if nothing is left.
 *
 * Corners are computed directly, so that a rectangle grows to exact measures; the clipper, which rounds to a grid
 * of about 1e-8 of the size, is asked only where the moved edges cross each other. What it keeps is what the moved
 * line winds around positively (Chen & McMains 2005).
 */
export function addAllowance(
  ring: Outline,
  distanceMm: number | EdgeDistance,
  corners: Corners = 'mitred',
): Polygon[] {
  const even = typeof distanceMm === 'number';
  // A vertex in a straight edge tells nothing, unless the allowance changes there.
  const outline = even ? cleanRing(counterClockwise(ring)) : withoutRepeats(counterClockwise(ring));
  if (outline.length < 3) return [];
  if (distanceMm === 0) return [{ outer: outline, holes: [] }];
  const { ring: moved, turned } = movedLine(outline, even ? () => distanceMm : distanceMm, corners);
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
  /** Distances by which the edge that comes in and the one that leaves move out. */
  readonly inBy: number;
  readonly outBy: number;
}

/** All edges moved by their distances and joined. `turned`: some edge would have to run backwards. */
function movedLine(
  ring: Outline,
  distance: EdgeDistance,
  style: Corners,
): { ring: Point[]; turned: boolean } {
  const corners = cornersOf(ring, distance);
  // Where the edge's ends move inwards by more than its length, its corners can't be simple meeting points.
  const shortened = corners.map((corner, i) => {
    const next = corners[(i + 1) % corners.length]!;
    return corner.outLength + growth(corner).atStart + growth(next).atEnd <= 0;
  });
  const out: Point[] = [];
  corners.forEach((corner, i) => {
    const crowded = shortened[(i + corners.length - 1) % corners.length]! || shortened[i]!;
    out.push(...(corner.inBy === corner.outBy ? join(corner, crowded, style) : step(corner, crowded)));
  });
  return { ring: out, turned: shortened.some(Boolean) };
}

/** By how much a corner lengthens the moved edge that starts there, and the one that ends there. */
function growth(corner: Corner): { atStart: number; atEnd: number } {
  if (corner.inBy === corner.outBy) {
    const by = corner.inBy * tangentOfHalfTurn(corner);
    return { atStart: by, atEnd: by };
  }
  const meeting = meetingPoint(corner);
  if (meeting === null) return { atStart: 0, atEnd: 0 };
  const [dx, dy] = [meeting[0] - corner.at[0], meeting[1] - corner.at[1]];
  return {
    atStart: -(dx * corner.outX + dy * corner.outY),
    atEnd: dx * corner.inX + dy * corner.inY,
  };
}

function cornersOf(ring: Outline, distance: EdgeDistance): Corner[] {
  const n = ring.length;
  const by = ring.map((a, i) => distance(a, ring[(i + 1) % n]!));
  const direction = (i: number): [number, number, number] => {
    const [ax, ay] = ring[(i + n) % n]!;
    const [bx, by] = ring[(i + 1) % n]!;
    const length = Math.hypot(bx - ax, by - ay);
    return [(bx - ax) / length, (by - ay) / length, length];
  };
  return ring.map((at, i) => {
    const [inX, inY] = direction(i - 1);
    const [outX, outY, outLength] = direction(i);
    return { at, inX, inY, outX, outY, outLength, inBy: by[(i + n - 1) % n]!, outBy: by[i]! };
  });
}

/** tan(θ/2) of the exterior angle θ, positive at convex corners: by so much, times the distance, an edge grows. */
function tangentOfHalfTurn({ inX, inY, outX, outY }: Corner): number {
  const sine = inX * outY - inY * outX;
  const cosine = inX * outX + inY * outY;
  return sine / Math.max(1 + cosine, 1e-12);
}

/** Both ends of the moved edges at a corner. Normals to the right: outwards on a counter-clockwise ring. */
function movedEnds({ at: [x, y], inX, inY, outX, outY, inBy, outBy }: Corner): [Point, Point] {
  return [
    [x + inBy * inY, y - inBy * inX],
    [x + outBy * outY, y - outBy * outX],
  ];
}

function join(corner: Corner, crowded: boolean, style: Corners): Point[] {
  const distance = corner.inBy;
  const [first, last] = movedEnds(corner);
  const tangent = tangentOfHalfTurn(corner);
  if (tangent * distance < 0) {
    // A corner that opens inwards: the moved edges cross each other before they end, unless one is too short.
    return crowded ? [first, corner.at, last] : [mitre(corner, distance, tangent)];
  }
  // Hardly a corner: a curve's vertices keep their number.
  if (Math.hypot(1, tangent) <= HARDLY_A_CORNER) return [mitre(corner, distance, tangent)];
  if (style === 'rounded') return arc(corner, first, last);
  const limit = style === 'squared' ? 1 : MITRE_LIMIT;
  if (Math.hypot(1, tangent) <= limit) return [mitre(corner, distance, tangent)];
  return squareEnd(corner, distance, limit, first, last);
}

/** A mitre that reaches no farther than so many distances is left as it is in every style: turns up to 20°. */
const HARDLY_A_CORNER = 1.016;

/** Around the corner, drawn outside the arc, so that nowhere less than the distance is kept. */
function arc({ at: [x, y], inX, inY, outX, outY, inBy }: Corner, first: Point, last: Point): Point[] {
  const turn = Math.atan2(inX * outY - inY * outX, inX * outX + inY * outY);
  const steps = Math.max(1, Math.ceil(Math.abs(turn) / ARC_STEP_RADIANS - 1e-9));
  const half = turn / steps / 2;
  const start = Math.atan2(-inX, inY);
  const reach = inBy / Math.cos(half);
  const between = Array.from({ length: steps }, (_, k): Point => {
    const angle = start + (2 * k + 1) * half;
    return [x + reach * Math.cos(angle), y + reach * Math.sin(angle)];
  });
  return [first, ...between, last];
}

/** Where two edges with different distances meet; on one straight line the allowance has a step. */
function step(corner: Corner, crowded: boolean): Point[] {
  const [first, last] = movedEnds(corner);
  const meeting = meetingPoint(corner);
  if (meeting === null) return [first, last];
  const { at, inX, inY, outX, outY, inBy, outBy } = corner;
  const sine = inX * outY - inY * outX;
  if (sine * (inBy + outBy) < 0) return crowded ? [first, at, last] : [meeting];
  const most = MITRE_LIMIT * Math.max(Math.abs(inBy), Math.abs(outBy));
  if (Math.hypot(meeting[0] - at[0], meeting[1] - at[1]) <= most) return [meeting];
  // As `squareEnd`, without a common distance: both edges run on for the limit and are cut across there.
  return [
    [first[0] + most * inX, first[1] + most * inY],
    [last[0] - most * outX, last[1] - most * outY],
  ];
}

/** Where the lines of the two moved edges cross; null where they are as good as parallel. */
function meetingPoint(corner: Corner): Point | null {
  const { inX, inY, outX, outY } = corner;
  const sine = inX * outY - inY * outX;
  if (Math.abs(sine) < PARALLEL_SINE) return null;
  const [first, last] = movedEnds(corner);
  const along = ((last[0] - first[0]) * outY - (last[1] - first[1]) * outX) / sine;
  return [first[0] + along * inX, first[1] + along * inY];
}

/** Edges whose directions differ by less than this sine (a thousandth of a degree) have no useful meeting point. */
const PARALLEL_SINE = 2e-5;

/** Where the two moved edges meet: the end of the moved incoming edge, prolonged by distance × tan(θ/2). */
function mitre({ at: [x, y], inX, inY }: Corner, distance: number, tangent: number): Point {
  const along = distance * tangent;
  return [x + distance * inY + along * inX, y - distance * inX + along * inY];
}

/** Both moved edges prolonged to a line square to the corner's bisector, `limit` distances away. */
function squareEnd(corner: Corner, distance: number, limit: number, first: Point, last: Point): Point[] {
  const { at, inX, inY, outX, outY } = corner;
  const size = Math.abs(distance);
  // The bisector points out of the corner, whichever side moves: incoming direction less outgoing one.
  const bisectorLength = Math.hypot(inX - outX, inY - outY);
  const bx = (inX - outX) / bisectorLength;
  const by = (inY - outY) / bisectorLength;
  const reach = (from: Point, dx: number, dy: number): Point => {
    const advance = dx * bx + dy * by;
    const done = (from[0] - at[0]) * bx + (from[1] - at[1]) * by;
    const t = (limit * size - done) / advance;
    return [from[0] + t * dx, from[1] + t * dy];
  };
  return [reach(first, inX, inY), reach(last, -outX, -outY)];
}
