import { cleanRing, counterClockwise, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { Piece } from '../exchange/project.ts';
import { addAllowance, type EdgeDistance } from './allowance.ts';
import { excursions, foldFrame, fromFold, toFold } from './foldFrame.ts';
import type { CutShape, HalfShape, Shape } from './shape.ts';
import { FOLD_LINE_MM, SHORT_EDGE_MM } from './tolerances.ts';
import { unfold } from './unfold.ts';
import { withoutRepeats } from './withoutRepeats.ts';

/**
 * The line to cut. A piece drawn by its cut line comes back as it is; one drawn by its sew line gets its allowance:
 * outwards at the outline, inwards at holes (a hole narrower than two allowances closes), corners as the piece says.
 * A fold edge gets none: the allowance of its neighbours is cut off at the fold line, and the edge stays exactly
 * straight.
 *
 * The piece must be free of errors (`checkPiece`); otherwise the result is undefined, or a RangeError is thrown
 * where there is nothing to cut.
 */
export function cutShape(piece: Piece): CutShape {
  return movedShape(piece, piece.line === 'sew' ? edgeAllowance(piece) : () => 0, piece.corners);
}

/** How wide the allowance of each edge of the outline is, in mm, by the edge's index. */
export function edgeAllowance(
  piece: Pick<Piece, 'allowanceMm' | 'edgeAllowances'>,
): (edge: number) => number {
  const own = new Map(piece.edgeAllowances?.map(({ edge, mm }) => [edge, mm]));
  return (edge) => own.get(edge) ?? piece.allowanceMm;
}

/**
 * The drawn line with every edge moved out by its own distance (in, where negative) and holes moved against it by
 * the usual one (that of edge −1). What is said of `cutShape` holds for any distances.
 */
export function movedShape(piece: Piece, by: (edge: number) => number, corners?: Piece['corners']): CutShape {
  const usual = by(-1);
  const even = piece.outline.every((_, edge) => edge === piece.foldEdge || by(edge) === usual);
  const half = halfOf(piece);
  const whole: Shape = half ?? {
    outline: withoutRepeats(counterClockwise(piece.outline)),
    holes: piece.holes.map(holeOf),
  };
  if (even && usual === 0) return half ?? { ...whole, fold: null };
  const distance = even ? usual : distanceByPlace(piece, by, half?.fold ?? null);
  if (half === null) return { ...grown(whole, distance, usual, corners), fold: null };
  // The corner at the fold is mitred as that of the whole piece is: grow that, then keep one half.
  return halved(grown(unfold(half), distance, usual, corners), half.fold, SHORT_EDGE_MM);
}

/** Distances of edges that computing may have joined, split or mirrored: each goes by the drawn edge it lies on. */
function distanceByPlace(
  piece: Piece,
  by: (edge: number) => number,
  fold: readonly [Point, Point] | null,
): EdgeDistance {
  const frame = fold && foldFrame(...fold);
  return (a, b) => {
    let middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    if (frame) {
      const [s, t] = toFold(frame, middle, 0);
      middle = fromFold(frame, [s, Math.abs(t)]);
    }
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    piece.outline.forEach((p, edge) => {
      if (edge === piece.foldEdge) return;
      const off = distanceToEdge(middle, p, piece.outline[(edge + 1) % piece.outline.length]!);
      if (off < least) {
        least = off;
        best = edge;
      }
    });
    return by(best);
  };
}

/** How far a point lies from the edge from a to b. */
export function distanceToEdge([px, py]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const [dx, dy] = [bx - ax, by - ay];
  const along = Math.max(0, Math.min(1, ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(ax + along * dx - px, ay + along * dy - py);
}

/** The whole piece's cut line: as `cutShape`, unfolded if it was drawn as a half. */
export function wholeShape(piece: Piece): Shape {
  const shape = cutShape(piece);
  return shape.fold === null ? shape : unfold({ ...shape, fold: shape.fold }, SHORT_EDGE_MM);
}

/** The drawn line as a half with its fold, joined to one edge where vertices lie on it; null for a whole piece. */
export function halfOf(piece: Piece): HalfShape | null {
  const { foldEdge, outline } = piece;
  if (foldEdge === null) return null;
  const a = outline[foldEdge];
  const b = outline[(foldEdge + 1) % outline.length];
  if (!a || !b) throw new RangeError(`cutShape: piece ${piece.id} has no edge ${foldEdge}`);
  const fold: [Point, Point] = signedArea(outline) < 0 ? [b, a] : [a, b];
  const holes = piece.holes.map(holeOf);
  return halved({ outline: withoutRepeats(counterClockwise(outline)), holes }, fold, FOLD_LINE_MM);
}

function grown(shape: Shape, by: number | EdgeDistance, usual: number, corners?: Piece['corners']): Shape {
  const [outer] = addAllowance(shape.outline, by, corners);
  if (!outer) throw new RangeError(`cutShape: nothing is left with an allowance of ${usual} mm`);
  const holes = shape.holes.flatMap((hole) =>
    addAllowance(hole, -usual, corners).map((inner) => inner.outer),
  );
  return { outline: outer.outer, holes: [...outer.holes, ...holes].map(clockwise) };
}

/**
 * What of a shape lies on the left of the fold line, with the stretch of fold that covers `fold`. Vertices within
 * `onLineMm` of the line are put on it: drawn ones may miss it, computed ones only by rounding.
 */
export function halved(shape: Shape, fold: readonly [Point, Point], onLineMm: number): HalfShape {
  const frame = foldFrame(...fold);
  if (!frame) throw new RangeError('cutShape: the fold edge has no length');
  const local = aboveLine(shape.outline.map((p) => toFold(frame, p, onLineMm)));
  const rings = pairedAlongLine(excursions(local));
  const middle = toFold(frame, fold[1])[0] / 2;
  const found = rings.find((ring) => covers(ring, middle));
  if (!found) throw new RangeError('cutShape: the piece does not lie on its fold edge');
  const back = found.map((p) => fromFold(frame, p));
  const holes = shape.holes.flatMap((hole) => {
    const ring = hole.map((p) => toFold(frame, p, onLineMm));
    if (ring.every((p) => p[1] <= 0)) return [];
    const kept = ring.every((p) => p[1] >= 0) ? ring : aboveLine(ring);
    return [cleanRing(kept.map((p) => fromFold(frame, p)))];
  });
  const edge = foldStretch(found, middle);
  return {
    outline: back,
    holes: holes.filter((hole) => hole.length >= 3),
    fold: [back[edge]!, back[(edge + 1) % back.length]!],
  };
}

/** The ring cut off at t = 0; where it dips below, it runs along the line instead. */
function aboveLine(ring: Outline): Point[] {
  if (ring.every((p) => p[1] >= 0)) return [...ring];
  const out: Point[] = [];
  ring.forEach((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    if (p[1] >= 0) out.push(p);
    if (p[1] * q[1] < 0) out.push([p[0] + ((q[0] - p[0]) * p[1]) / (p[1] - q[1]), 0]);
  });
  return out;
}

/**
 * Excursions of one ring joined again by straight stretches of the line, of which every second one is inside:
 * sorted along the line, ends 0 and 1 bound the first stretch of fold, ends 2 and 3 the next.
 */
function pairedAlongLine(parts: readonly Point[][]): Point[][] {
  const ends = parts.flatMap((part) => [part[0]![0], part.at(-1)![0]]).sort((a, b) => a - b);
  const stretchEnd = new Map<number, number>();
  for (let k = 0; k + 1 < ends.length; k += 2) stretchEnd.set(ends[k]!, ends[k + 1]!);
  const left = [...parts];
  const rings: Point[][] = [];
  while (left.length > 0) {
    const ring = [...left.shift()!];
    for (;;) {
      // The interior is above the line, so its boundary runs along the line from left to right.
      const to = stretchEnd.get(ring.at(-1)![0]);
      if (to === undefined || to === ring[0]![0]) break;
      const next = left.findIndex((part) => part[0]![0] === to);
      if (next < 0) break;
      ring.push(...left.splice(next, 1)[0]!);
    }
    // Where the outline only touches the line, one excursion ends at the point at which the next begins.
    rings.push(ring.filter((p, i) => i === 0 || p[0] !== ring[i - 1]![0] || p[1] !== ring[i - 1]![1]));
  }
  return rings;
}

/** Index of the edge of a ring along the line that covers s, from left to right; −1 if none does. */
function foldStretch(ring: readonly Point[], s: number): number {
  return ring.findIndex((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return p[1] === 0 && q[1] === 0 && p[0] <= s && s <= q[0];
  });
}

function covers(ring: readonly Point[], s: number): boolean {
  return foldStretch(ring, s) >= 0;
}

function holeOf(ring: Outline): Outline {
  return withoutRepeats(clockwise(ring));
}

function clockwise(ring: Outline): Outline {
  return signedArea(ring) > 0 ? [...ring].reverse() : ring;
}
