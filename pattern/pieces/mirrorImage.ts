import { boundingBox, cleanRing, signedArea } from '../../nesting/geometry/rings.ts';
import { normaliseDegrees, placeRing, turnBy } from '../../nesting/geometry/transforms.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { Shape } from './shape.ts';
import { SAME_DIRECTION_DEG } from './tolerances.ts';

/** The mirror image, as it is laid: x → −x. Outlines keep their direction. */
export function mirror<S extends Shape>(shape: S): S {
  const flip = (ring: Outline): Outline => placeRing(ring, 0, true);
  return { ...shape, outline: flip(shape.outline), holes: shape.holes.map(flip) };
}

export interface OwnMirrorImage {
  readonly symmetric: boolean;
  /** See `mirrorTurns`. */
  readonly turnsDeg: readonly number[];
}

/** Whether the mirror image is the same shape, laid in some direction, to within a tolerance in mm. */
export function isOwnMirrorImage(shape: Shape, toleranceMm: number): OwnMirrorImage {
  const turnsDeg = mirrorTurns(shape, toleranceMm);
  return { symmetric: turnsDeg.length > 0, turnsDeg };
}

/** Vertices that stand for curves are thinned out to within this part of the tolerance. */
const THINNING = 1 / 8;
/** More turns than this are not listed: the piece is as good as round. */
const MOST_TURNS = 72;

/**
 * All turns t in degrees, 0 ≤ t < 360, for which the mirror image (x → −x) turned by t is the shape itself up to a
 * shift and the tolerance; empty for a shape with a left and a right hand. So the mirrored copy laid at rotation r
 * covers what the plain copy laid at r − t does. 0: symmetric about an upright axis; 180: about a level one; a square
 * gives 0, 90, 180 and 270.
 *
 * Such a shape is symmetric about the axis at 90° + t/2 through its centre of gravity. Tried are quarter turns, the
 * principal axes of inertia, and the axes that take its farthest corner to another far corner; an axis counts
 * if it takes every vertex to the boundary. Roughly far corners × vertices² steps.
 */
export function mirrorTurns(shape: Shape, toleranceMm: number): number[] {
  const moments = momentsOf(shape);
  if (moments === null) return [];
  const centred = (ring: Outline): Outline =>
    thinned(
      ring.map(([x, y]): Point => [x - moments.x, y - moments.y]),
      toleranceMm * THINNING,
    );
  const rings = [centred(shape.outline), ...shape.holes.map(centred)];
  const radius = Math.max(...rings[0]!.map(([x, y]) => Math.hypot(x, y)));
  // A turn by less than this moves no point by more than a small part of the tolerance.
  const resolution = (toleranceMm * THINNING * 180) / (Math.PI * Math.max(radius, toleranceMm));
  const found: number[] = [];
  for (const candidate of candidateTurns(moments, rings[0]!, toleranceMm)) {
    if (found.length >= MOST_TURNS) break;
    const near = (turn: number): boolean => {
      const apart = normaliseDegrees(candidate - turn);
      return Math.min(apart, 360 - apart) < SAME_DIRECTION_DEG;
    };
    if (found.some(near)) continue;
    const turn = settle(rings, candidate, resolution, toleranceMm);
    // Rounded, so that the dust of trigonometric functions does not make 60° of 59.999 999 999 99°.
    if (turn !== null) found.push(normaliseDegrees(Math.round(turn * 1e9) / 1e9));
  }
  return found.sort((a, b) => a - b);
}

interface Moments {
  readonly x: number;
  readonly y: number;
  /** Direction of one principal axis in degrees. */
  readonly axisDeg: number;
}

/** Centre of gravity and principal axes of the area, holes taken out (by Green's theorem). */
function momentsOf(shape: Shape): Moments | null {
  const box = boundingBox(shape.outline);
  const ox = (box.minX + box.maxX) / 2;
  const oy = (box.minY + box.maxY) / 2;
  let area = 0;
  let sx = 0;
  let sy = 0;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (const ring of [shape.outline, ...shape.holes]) {
    const sign = (ring === shape.outline ? 1 : -1) * Math.sign(signedArea(ring));
    for (let i = 0; i < ring.length; i++) {
      const ax = ring[i]![0] - ox;
      const ay = ring[i]![1] - oy;
      const bx = ring[(i + 1) % ring.length]![0] - ox;
      const by = ring[(i + 1) % ring.length]![1] - oy;
      const cross = sign * (ax * by - ay * bx);
      area += cross / 2;
      sx += (cross * (ax + bx)) / 6;
      sy += (cross * (ay + by)) / 6;
      xx += (cross * (ax * ax + ax * bx + bx * bx)) / 12;
      yy += (cross * (ay * ay + ay * by + by * by)) / 12;
      xy += (cross * (2 * ax * ay + ax * by + bx * ay + 2 * bx * by)) / 24;
    }
  }
  if (!(area > 0)) return null;
  const x = sx / area;
  const y = sy / area;
  const covariance = xy - area * x * y;
  const difference = xx - area * x * x - (yy - area * y * y);
  return { x: x + ox, y: y + oy, axisDeg: (Math.atan2(2 * covariance, difference) * 90) / Math.PI };
}

/** The turn that belongs to a mirror axis. */
function turnOfAxis(axisDeg: number): number {
  return normaliseDegrees(2 * axisDeg - 180);
}

/** Turns worth trying, exact quarter turns first. */
function* candidateTurns(moments: Moments, outline: Outline, toleranceMm: number): Generator<number> {
  yield* [0, 180, 90, 270];
  yield turnOfAxis(moments.axisDeg);
  yield turnOfAxis(moments.axisDeg + 90);
  const radii = outline.map(([x, y]) => Math.hypot(x, y));
  const farthest = Math.max(...radii);
  const at = (i: number): number => (Math.atan2(outline[i]![1], outline[i]![0]) * 180) / Math.PI;
  const first = radii.indexOf(farthest);
  for (let i = 0; i < outline.length; i++) {
    if (radii[i]! >= farthest - 2 * toleranceMm) yield turnOfAxis((at(first) + at(i)) / 2);
  }
}

/** The candidate if it holds, or the better angle near it if that one does; else null. */
function settle(
  rings: readonly Outline[],
  candidate: number,
  resolution: number,
  toleranceMm: number,
): number | null {
  const first = miss(rings, candidate, 6 * toleranceMm);
  if (first <= toleranceMm) return candidate;
  // Quarter turns hold exactly or not at all; a computed axis may be off by as much as the tolerance lets vertices be.
  if (candidate % 90 === 0 || first > 6 * toleranceMm) return null;
  let best = candidate;
  let least = first;
  for (let step = 16 * resolution; step >= resolution; step /= 2) {
    for (const turn of [best - step, best + step]) {
      const off = miss(rings, turn, least);
      if (off < least) {
        least = off;
        best = turn;
      }
    }
  }
  return least <= toleranceMm ? normaliseDegrees(best) : null;
}

/** How far, in mm, the mirrored and turned rings miss the rings at worst; past `limit` some number above it. */
function miss(rings: readonly Outline[], turnDeg: number, limit: number): number {
  const { cos, sin } = turnBy(turnDeg);
  let worst = 0;
  const check = (x: number, y: number, own: number): void => {
    const px = -x * cos - y * sin;
    const py = -x * sin + y * cos;
    let nearest = Number.POSITIVE_INFINITY;
    // The outline must fall on the outline, a hole on some hole.
    const others = own === 0 ? [rings[0]!] : rings.slice(1);
    for (const ring of others) nearest = Math.min(nearest, distanceToRing(ring, px, py));
    worst = Math.max(worst, nearest);
  };
  for (let own = 0; own < rings.length; own++) {
    const ring = rings[own]!;
    for (let i = 0; i < ring.length; i++) {
      const [ax, ay] = ring[i]!;
      const [bx, by] = ring[(i + 1) % ring.length]!;
      check(ax, ay, own);
      check((ax + bx) / 2, (ay + by) / 2, own);
      if (worst > limit) return worst;
    }
  }
  return worst;
}

function distanceToRing(ring: Outline, px: number, py: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const dx = bx - ax;
    const dy = by - ay;
    const along = Math.max(0, Math.min(1, ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy || 1)));
    const ex = ax + along * dx - px;
    const ey = ay + along * dy - py;
    least = Math.min(least, ex * ex + ey * ey);
  }
  return Math.sqrt(least);
}

/** The ring without vertices that lie within `slack` of the straight line past them (Reumann & Witkam 1974). */
function thinned(ring: Outline, slack: number): Outline {
  const clean = cleanRing(ring);
  const points = clean.length >= 3 ? clean : ring;
  if (points.length <= 64) return points;
  const kept: Point[] = [];
  let i = 0;
  while (i < points.length) {
    kept.push(points[i]!);
    let reach = i + 1;
    while (reach + 1 <= points.length && straight(points, i, reach + 1, slack)) reach++;
    i = reach;
  }
  return kept.length >= 3 ? kept : points;
}

/** Whether all vertices between i and j lie within `slack` of the line from i to j (j may be the first again). */
function straight(points: Outline, i: number, j: number, slack: number): boolean {
  const [ax, ay] = points[i]!;
  const [bx, by] = points[j % points.length]!;
  const length = Math.hypot(bx - ax, by - ay);
  if (length === 0) return false;
  for (let k = i + 1; k < j; k++) {
    const [x, y] = points[k]!;
    if (Math.abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) > slack * length) return false;
  }
  return true;
}
