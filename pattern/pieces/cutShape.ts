import { cleanRing, counterClockwise, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { Piece } from '../exchange/project.ts';
import { addAllowance } from './allowance.ts';
import { excursions, foldFrame, fromFold, toFold } from './foldFrame.ts';
import type { CutShape, HalfShape, Shape } from './shape.ts';
import { FOLD_LINE_MM, SHORT_EDGE_MM } from './tolerances.ts';
import { unfold } from './unfold.ts';
import { withoutRepeats } from './withoutRepeats.ts';

/**
 * The line to cut. A piece drawn by its cut line comes back as it is; one drawn by its sew line gets its allowance:
 * outwards at the outline, inwards at holes (a hole narrower than two allowances closes), corners mitred. A fold
 * edge gets none: the allowance of its neighbours is cut off at the fold line, and the edge stays exactly straight.
 *
 * The piece must be free of errors (`checkPiece`); otherwise the result is undefined, or a RangeError is thrown
 * where there is nothing to cut.
 */
export function cutShape(piece: Piece): CutShape {
  const allowance = piece.line === 'sew' ? piece.allowanceMm : 0;
  const half = halfOf(piece);
  if (half === null) {
    const whole = {
      outline: withoutRepeats(counterClockwise(piece.outline)),
      holes: piece.holes.map(holeOf),
    };
    return { ...(allowance === 0 ? whole : grown(whole, allowance)), fold: null };
  }
  if (allowance === 0) return half;
  // The corner at the fold is mitred as that of the whole piece is: grow that, then keep one half.
  return halved(grown(unfold(half), allowance), half.fold, SHORT_EDGE_MM);
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

function grown(shape: Shape, allowance: number): Shape {
  const [outer] = addAllowance(shape.outline, allowance);
  if (!outer) throw new RangeError(`cutShape: nothing is left with an allowance of ${allowance} mm`);
  const holes = shape.holes.flatMap((hole) => addAllowance(hole, -allowance).map((inner) => inner.outer));
  return { outline: outer.outer, holes: [...outer.holes, ...holes].map(clockwise) };
}

/**
 * What of a shape lies on the left of the fold line, with the stretch of fold that covers `fold`. Vertices within
 * `onLineMm` of the line are put on it: drawn ones may miss it, computed ones only by rounding.
 */
function halved(shape: Shape, fold: readonly [Point, Point], onLineMm: number): HalfShape {
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
