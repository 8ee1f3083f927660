import ClipperLib from 'clipper-lib';
import { GeometryError, union } from '../geometry/boolean.ts';
import { convexHull } from '../geometry/convexHull.ts';
import { fromGrid, gridFor, type IntegerGrid, toGrid } from '../geometry/integerGrid.ts';
import type { Box, Point, Ring } from '../geometry/points.ts';
import { orientation } from '../geometry/predicates.ts';
import { boundingBox, cleanRing } from '../geometry/rings.ts';
import { CONTACT_UNITS, FIT_RELATIVE, HAIR_UNITS } from '../geometry/tolerances.ts';
import { convolution } from './convolution.ts';

/**
 * A region of forbidden positions of a piece's reference point, given by its boundary: rings with the
 * forbidden side to their left. A position on the boundary touches.
 */
export interface ForbiddenRegion {
  readonly rings: readonly Ring[];
  /** True if what lies outside all rings is forbidden too (the piece must stay within one of them). */
  readonly forbiddenOutside: boolean;
}

/** The ring seen through the origin: B becomes −B. Winding stays. */
export function reflected(ring: Ring): Ring {
  return ring.map(([x, y]) => [-x, -y] as const);
}

/**
 * No-fit polygon: all positions (of its origin) at which `b` overlaps `a`, both counter-clockwise and simple,
 * `a` where it is. It is the inside of the Minkowski sum a + (−b), found as the part around which the
 * convolution of both winds.
 *
 * Both are first drawn in by half a contact width (see `CONTACT_UNITS`), so that positions without play, such
 * as a peg in its hole, are narrow free corridors of the result.
 */
export function noFitPolygon(a: Ring, b: Ring): ForbiddenRegion {
  const c = reflected(b);
  // Two convex rings have a convex sum: no fit without play, nothing to unite, nothing to round.
  if (isConvex(a) && isConvex(c))
    return {
      rings: convolution(a, c).map((curve) => cleanRing(curve)),
      forbiddenOutside: false,
    };
  const box = sumBox(boundingBox(a), boundingBox(c));
  const rings = woundAround([{ a, c }], [], box) ?? [hullSum(a, c)];
  return { rings, forbiddenOutside: false };
}

/**
 * Inner-fit region of a sheet: all positions at which `b` reaches out of `outline` or into a part of `blocked`.
 * All rings counter-clockwise and simple.
 *
 * For a convex outline what is free is cut out by half-planes, one an edge, without rounding. Otherwise what lies
 * outside is convolved like any other piece, its ring being the outline run backwards, with a frame around it that
 * stands for everything far off.
 */
export function outsideSheet(outline: Ring, blocked: readonly Ring[], b: Ring): ForbiddenRegion {
  return isConvex(outline) ? outsideConvexSheet(outline, blocked, b) : outsideAnySheet(outline, blocked, b);
}

/** All positions at which `b` overlaps one of several areas, which may overlap each other. All rings counter-clockwise. */
export function insideBlocked(blocked: readonly Ring[], b: Ring): ForbiddenRegion {
  const gone = blocked.flatMap((area) => noFitPolygon(area, b).rings);
  if (blocked.length < 2) return { rings: gone, forbiddenOutside: false };
  try {
    const rings = union(gone, 'positive').flatMap(({ outer, holes }) => [outer, ...holes]);
    return { rings, forbiddenOutside: false };
  } catch (error) {
    // Without a result nothing is known to be free: everything is forbidden, which is safe.
    if (error instanceof GeometryError) return { rings: [], forbiddenOutside: true };
    throw error;
  }
}

function outsideConvexSheet(outline: Ring, blocked: readonly Ring[], b: Ring): ForbiddenRegion {
  const room = boundingBox(outline);
  const slack = (FIT_RELATIVE / 2) * Math.min(room.maxX - room.minX, room.maxY - room.minY);
  const free = insideConvex(outline, convexHull(b), slack);
  if (free.length < 3) return { rings: [], forbiddenOutside: true };
  const gone = blocked.flatMap((flaw) => noFitPolygon(flaw, b).rings);
  if (gone.length === 0) return { rings: [[...free].reverse()], forbiddenOutside: true };
  // Forbidden is what a frame around everything, less the free region, and the flaws' no-fit polygons wind around.
  const frame = grown(boundingBox([...free, ...gone.flat()]), 1 / 8);
  const border = boundingBox(frame);
  try {
    const forbidden = union([frame, [...free].reverse(), ...gone], 'positive');
    const rings = forbidden.flatMap(({ outer, holes }) => [outer, ...holes]);
    return {
      rings: rings.filter((ring) => boundingBox(ring).minX > border.minX + slack),
      forbiddenOutside: true,
    };
  } catch (error) {
    // Without a result nothing is known to be free: everything is forbidden, which is safe.
    if (error instanceof GeometryError) return { rings: [], forbiddenOutside: true };
    throw error;
  }
}

/**
 * Positions at which a convex piece lies inside a convex outline let out by `slack` mm: a counter-clockwise ring,
 * empty if there is none. Each edge of the outline cuts off (Sutherland & Hodgman 1974) what would bring the
 * piece's farthest point beyond it.
 */
function insideConvex(outline: Ring, piece: Ring, slack: number): Ring {
  const room = boundingBox(outline);
  const body = boundingBox(piece);
  let free: Ring = grown(
    {
      minX: room.minX - body.maxX,
      minY: room.minY - body.maxY,
      maxX: room.maxX - body.minX,
      maxY: room.maxY - body.minY,
    },
    1 / 8,
  );
  for (let i = 0; i < outline.length && free.length > 0; i++) {
    const [ax, ay] = outline[i] as Point;
    const [bx, by] = outline[(i + 1) % outline.length] as Point;
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0) continue;
    const nx = (by - ay) / length;
    const ny = (ax - bx) / length;
    const reach = Math.max(...piece.map(([x, y]) => nx * x + ny * y));
    const limit = nx * ax + ny * ay - reach + slack;
    const beyond = free.map(([x, y]) => nx * x + ny * y - limit);
    const kept: Point[] = [];
    free.forEach((p, k) => {
      const q = free[(k + 1) % free.length] as Point;
      const here = beyond[k] as number;
      const there = beyond[(k + 1) % free.length] as number;
      if (here <= 0) kept.push(p);
      if (here < 0 !== there < 0 && here !== 0 && there !== 0) {
        const t = here / (here - there);
        kept.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
      }
    });
    free = kept;
  }
  return free;
}

function outsideAnySheet(outline: Ring, blocked: readonly Ring[], b: Ring): ForbiddenRegion {
  const c = reflected(b);
  const box = sumBox(boundingBox(outline), boundingBox(c));
  const frame = grown(box, 1 / 8);
  const pairs = [[...outline].reverse(), ...blocked].map((a) => ({ a, c }));
  // Only the sheet is drawn in (that is, let out): pieces may be sharp, and a sharp tip cannot be drawn in evenly.
  const rings = woundAround(pairs, [frame], boundingBox(frame), { ofA: CONTACT_UNITS, ofC: 0 });
  // Without a result nothing is known to be free: everything is forbidden, which is safe.
  if (!rings) return { rings: [], forbiddenOutside: true };
  // The frame's own border is no way out; it alone reaches beyond the sum.
  const room = boundingBox(outline);
  const body = boundingBox(b);
  return {
    rings: rings.filter(
      (ring) => boundingBox(ring).minX >= box.minX && ring.some((at) => isWithin(body, at, room)),
    ),
    forbiddenOutside: true,
  };
}

/**
 * Whether a box shifted to `at` lies within `room`. The curve winds around a position as often as the Euler
 * characteristic of what sticks out says, which is nought for a piece inside the sheet, but also for one that
 * covers the whole sheet and sticks out all around: a ring. The boxes tell the two apart.
 */
function isWithin(body: Box, at: Point, room: Box): boolean {
  const slack = 1e-6 * (room.maxX - room.minX + room.maxY - room.minY);
  return (
    body.minX + at[0] >= room.minX - slack &&
    body.minY + at[1] >= room.minY - slack &&
    body.maxX + at[0] <= room.maxX + slack &&
    body.maxY + at[1] <= room.maxY + slack
  );
}

/**
 * Boundary of what the convolutions of the pairs and the extra curves wind around at least once; null if the
 * clipper failed twice. `box` holds all of it; `drawn` says how far, in grid units, each ring is drawn in.
 */
function woundAround(
  pairs: readonly { a: Ring; c: Ring }[],
  extra: readonly Ring[],
  box: Box,
  drawn = { ofA: CONTACT_UNITS / 2, ofC: CONTACT_UNITS / 2 },
): Ring[] | null {
  for (const coarser of [1, 4]) {
    const grid = gridFor(box, coarser);
    try {
      const clipper = new ClipperLib.Clipper();
      const add = (path: ClipperLib.Path) => clipper.AddPath(path, ClipperLib.PolyType.ptSubject, true);
      for (const { a, c } of pairs) {
        // The shift of the grid belongs to the sum, so only one of both carries it.
        const aGrid = scaled(a, grid, grid.originX, grid.originY);
        const cGrid = scaled(c, grid, 0, 0);
        for (const curve of convolution(a, c, drawnIn(aGrid, drawn.ofA), drawnIn(cGrid, drawn.ofC)))
          add(curve.map(([x, y]) => ({ X: Math.round(x), Y: Math.round(y) })));
      }
      for (const curve of extra) add(toGrid(curve, grid));
      const solution: ClipperLib.Paths = [];
      clipper.Execute(
        ClipperLib.ClipType.ctUnion,
        solution,
        ClipperLib.PolyFillType.pftPositive,
        ClipperLib.PolyFillType.pftPositive,
      );
      return solution.map((path) => fromGrid(straightened(path), grid)).filter((ring) => ring.length >= 3);
    } catch {
      // The clipper throws plain errors where it loses its way; the coarser grid rounds elsewhere and may do.
    }
  }
  return null;
}

function scaled(ring: Ring, grid: IntegerGrid, originX: number, originY: number): Ring {
  return ring.map(([x, y]) => [(x - originX) * grid.scaleX, (y - originY) * grid.scaleY] as const);
}

/** Whether a counter-clockwise ring has no turn to the right. */
function isConvex(ring: Ring): boolean {
  return ring.every(([x, y], i) => {
    const [bx, by] = ring[(i + 1) % ring.length] as Point;
    const [cx, cy] = ring[(i + 2) % ring.length] as Point;
    return orientation(x, y, bx, by, cx, cy) >= 0;
  });
}

/**
 * Without what is rounding and no shape: vertices less than a grid unit off the line of their neighbours, and
 * hairs, that is corridors narrower than any true one. Edges that coincide and cancel leave such hairs when
 * they are rounded apart; a true corridor is two contact widths wide.
 */
function straightened(path: ClipperLib.Path): ClipperLib.Path {
  let points = path;
  for (;;) {
    const kept: ClipperLib.Path = [];
    for (let i = 0; i < points.length; i++) {
      const a = (kept[kept.length - 1] ?? points[points.length - 1]) as ClipperLib.IntPoint;
      const b = points[i] as ClipperLib.IntPoint;
      const c = points[(i + 1) % points.length] as ClipperLib.IntPoint;
      const ux = b.X - a.X;
      const uy = b.Y - a.Y;
      const vx = c.X - b.X;
      const vy = c.Y - b.Y;
      const twice = Math.abs(ux * vy - uy * vx);
      if (ux * vx + uy * vy >= 0) {
        if (twice < 0.75 * Math.hypot(c.X - a.X, c.Y - a.Y)) continue;
      } else if (twice < HAIR_UNITS * Math.hypot(ux, uy) || twice < HAIR_UNITS * Math.hypot(vx, vy)) continue;
      kept.push(b);
    }
    if (kept.length < 3) return [];
    if (kept.length === points.length) return isHair(kept) ? [] : kept;
    points = kept;
  }
}

/** A hole whose mean width, twice its area by its perimeter, is less than a hair's. */
function isHair(path: ClipperLib.Path): boolean {
  const area = ClipperLib.Clipper.Area(path);
  let around = 0;
  path.forEach((p, i) => {
    const q = path[(i + 1) % path.length] as ClipperLib.IntPoint;
    around += Math.hypot(q.X - p.X, q.Y - p.Y);
  });
  return area < 0 && -2 * area < HAIR_UNITS * around;
}

/**
 * The ring with each edge moved to its left by `distance`, vertices along their mitres. For a distance far
 * below the shortest edge this is the inset; mitres are cut at 4 distances.
 */
function drawnIn(ring: Ring, distance: number): Ring {
  const n = ring.length;
  return ring.map(([x, y], i) => {
    const p = ring[(i + n - 1) % n] as Point;
    const q = ring[(i + 1) % n] as Point;
    const before = Math.hypot(x - p[0], y - p[1]) || 1;
    const after = Math.hypot(q[0] - x, q[1] - y) || 1;
    const mx = (p[1] - y) / before;
    const my = (x - p[0]) / before;
    const nx = (y - q[1]) / after;
    const ny = (q[0] - x) / after;
    const sum = 1 + mx * nx + my * ny;
    const reach = distance / Math.max(sum, 1 / 8);
    return [x + reach * (mx + nx), y + reach * (my + ny)] as const;
  });
}

function sumBox(a: Box, b: Box): Box {
  return {
    minX: a.minX + b.minX,
    minY: a.minY + b.minY,
    maxX: a.maxX + b.maxX,
    maxY: a.maxY + b.maxY,
  };
}

/** The box with a margin of so many parts of its width and height, as a ring. */
function grown(box: Box, part: number): Ring {
  const x = (box.maxX - box.minX) * part;
  const y = (box.maxY - box.minY) * part;
  return [
    [box.minX - x, box.minY - y],
    [box.maxX + x, box.minY - y],
    [box.maxX + x, box.maxY + y],
    [box.minX - x, box.maxY + y],
  ];
}

/** Minkowski sum of the hulls: what stands in for a no-fit polygon that could not be worked out. Too large, so safe. */
function hullSum(a: Ring, c: Ring): Ring {
  const sums: Point[] = [];
  for (const p of convexHull(a)) for (const q of convexHull(c)) sums.push([p[0] + q[0], p[1] + q[1]]);
  return convexHull(sums);
}
