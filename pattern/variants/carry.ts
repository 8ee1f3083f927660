import { signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { EdgeAllowance, Piece, PieceMark } from '../exchange/project.ts';
import { distanceToEdge } from '../pieces/cutShape.ts';
import { foldFrame } from '../pieces/foldFrame.ts';

/** What goes along when an outline changes: marks, notches, and what is said of single edges. */

/** A vertex this near to an edge of the outline lies on it, mm: notches are drawn to the line, not measured. */
const ON_OUTLINE_MM = 1;

/** A point moved. */
export type Move = (point: Point) => Point;

/** The marks with every point moved. */
export function moveMarks(marks: readonly PieceMark[], move: Move): PieceMark[] {
  return marks.map((mark) => ({ ...mark, points: mark.points.map(move) }));
}

/**
 * Notches that stand on the outline go to the nearest place on the new one; those inside stay. Lines drawn on the
 * piece keep their place: the cloth under them has not moved.
 */
export function notchesTo(marks: readonly PieceMark[], before: Outline, after: Outline): PieceMark[] {
  return marks.map((mark) => {
    const [at] = mark.points;
    if (mark.kind !== 'notch' || !at || nearestOn(before, at).distance > ON_OUTLINE_MM) return mark;
    const to = nearestOn(after, at).point;
    const [dx, dy] = [to[0] - at[0], to[1] - at[1]];
    return { ...mark, points: mark.points.map(([x, y]): Point => [x + dx, y + dy]) };
  });
}

/** The place on a ring's boundary that is nearest to a point, and how far it is. */
export function nearestOn(ring: Outline, [px, py]: Point): { point: Point; distance: number } {
  let found: { point: Point; distance: number } = { point: [px, py], distance: Number.POSITIVE_INFINITY };
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const [dx, dy] = [bx - ax, by - ay];
    const along = Math.max(0, Math.min(1, ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy || 1)));
    const point: Point = [ax + along * dx, ay + along * dy];
    const distance = Math.hypot(point[0] - px, point[1] - py);
    if (distance < found.distance) found = { point, distance };
  });
  return found;
}

/** Index of the edge that runs nearest to a place, of those that keep roughly to its direction; −1 for none. */
export function edgeNear(ring: Outline, at: Point, direction: readonly [number, number]): number {
  let best = -1;
  let least = Number.POSITIVE_INFINITY;
  const size = Math.hypot(...direction) || 1;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length === 0) return;
    const cosine = ((b[0] - a[0]) * direction[0] + (b[1] - a[1]) * direction[1]) / (length * size);
    if (Math.abs(cosine) < 0.9) return;
    const off = distanceToEdge(at, a, b);
    if (off < least) {
      least = off;
      best = i;
    }
  });
  return best;
}

/**
 * What single edges have of their own, on the new outline. `images`: where the old outline went; two where it was
 * opened out. Edges that are gone take theirs with them.
 */
export function carryAllowances(
  piece: Piece,
  after: Outline,
  images: readonly Move[],
): readonly EdgeAllowance[] | undefined {
  if (!piece.edgeAllowances) return undefined;
  const found = new Map<number, number>();
  for (const { edge, mm } of piece.edgeAllowances) {
    const a = piece.outline[edge];
    const b = piece.outline[(edge + 1) % piece.outline.length];
    if (!a || !b) continue;
    for (const image of images) {
      const [p, q] = [image(a), image(b)];
      const at = edgeNear(after, [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2], [q[0] - p[0], q[1] - p[1]]);
      if (at >= 0) found.set(at, mm);
    }
  }
  return [...found].map(([edge, mm]) => ({ edge, mm })).sort((x, y) => x.edge - y.edge);
}

/** Index of the outline's edge that lies on a fold; null where there is no fold. */
export function foldEdgeOf(outline: Outline, fold: readonly [Point, Point] | null): number | null {
  if (!fold) return null;
  const exact = outline.findIndex((p, i) => {
    const q = outline[(i + 1) % outline.length]!;
    return isSame(p, fold[0]) && isSame(q, fold[1]);
  });
  if (exact >= 0) return exact;
  const middle: Point = [(fold[0][0] + fold[1][0]) / 2, (fold[0][1] + fold[1][1]) / 2];
  const near = edgeNear(outline, middle, [fold[1][0] - fold[0][0], fold[1][1] - fold[0][1]]);
  return near < 0 ? null : near;
}

const isSame = (a: Point, b: Point): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-6;

/** The mirror image about a line, as a move. */
export function mirroredAbout(a: Point, b: Point): Move {
  const frame = foldFrame(a, b);
  if (!frame) return (point) => point;
  const { origin, ux, uy } = frame;
  return ([x, y]) => {
    const t = 2 * ((y - origin[1]) * ux - (x - origin[0]) * uy);
    return [x + t * uy, y - t * ux];
  };
}

/** Marks mirrored with their direction kept where they are closed. */
export function mirroredMarks(marks: readonly PieceMark[], move: Move): PieceMark[] {
  return marks.map((mark) => {
    const points = mark.points.map(move);
    return { ...mark, points: mark.closed ? points.reverse() : points };
  });
}

/** Marks cut off at a line: what lies on the left of a → b. A line cut in the middle becomes two. */
export function marksLeftOf(marks: readonly PieceMark[], a: Point, b: Point): PieceMark[] {
  const side = ([x, y]: Point): number => (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]);
  const slack = -1e-6 * Math.hypot(b[0] - a[0], b[1] - a[1]);
  return marks.flatMap((mark): PieceMark[] => {
    if (mark.points.every((p) => side(p) >= slack)) return [mark];
    if (mark.kind === 'notch') return [];
    return openParts(mark, side).map((points) => ({ ...mark, points, closed: false }));
  });
}

function openParts(mark: PieceMark, side: (p: Point) => number): Point[][] {
  const line = mark.closed ? [...mark.points, mark.points[0]!] : mark.points;
  const parts: Point[][] = [];
  let part: Point[] = [];
  line.forEach((p, i) => {
    const here = side(p);
    if (i > 0) {
      const q = line[i - 1]!;
      const before = side(q);
      if (before * here < 0) {
        const share = before / (before - here);
        part.push([q[0] + share * (p[0] - q[0]), q[1] + share * (p[1] - q[1])]);
      }
    }
    if (here >= 0) part.push(p);
    else {
      if (part.length > 1) parts.push(part);
      part = [];
    }
  });
  if (part.length > 1) parts.push(part);
  return parts;
}

/** The outline counter-clockwise with its edges counted anew, so that steps may rely on it. */
export function upright(piece: Piece): Piece {
  if (signedArea(piece.outline) >= 0) return piece;
  const last = piece.outline.length - 1;
  const turned = (edge: number): number => (2 * last - edge) % (last + 1);
  return {
    ...piece,
    outline: [...piece.outline].reverse(),
    foldEdge: piece.foldEdge === null ? null : turned(piece.foldEdge),
    ...(piece.edgeAllowances
      ? { edgeAllowances: piece.edgeAllowances.map(({ edge, mm }) => ({ edge: turned(edge), mm })) }
      : {}),
    ...(piece.openJoints
      ? {
          openJoints: piece.openJoints.map((joint) => ({
            ...joint,
            // What was the last edge of the stretch is its first one now.
            edge: turned((joint.edge + joint.edges - 1) % (last + 1)),
          })),
        }
      : {}),
  };
}
