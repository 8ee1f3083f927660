import { cleanRing, signedArea } from '../../nesting/geometry/rings.ts';
import { turnBy } from '../../nesting/geometry/transforms.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { Joins, Piece } from '../exchange/project.ts';
import { cutShape } from '../pieces/cutShape.ts';
import { foldFrame, fromFold, toFold } from '../pieces/foldFrame.ts';
import type { Shape } from '../pieces/shape.ts';

/** One of the lengths that a piece is joined from. */
export interface JoinPart extends Shape {
  /** 1 … `of`, from the piece's low end. */
  readonly n: number;
  readonly of: number;
}

/** A piece laid along its length: s runs along it, t across it, both from its low end and its middle. */
interface Length {
  readonly cos: number;
  readonly sin: number;
  readonly low: number;
  readonly lengthMm: number;
  /** Position of the middle line across. */
  readonly middle: number;
}

/**
 * The cut lines of the lengths that a piece is made from with so many joins, each with its allowance at every joined
 * end. Lengths are as equal as forbidden stretches allow. A diagonal join lies at 45° to the length, its middle on the
 * piece's middle line; its allowance is measured square to the seam, so that it takes √2 times as much along.
 *
 * Null where no join may lie where it would have to. The piece must be free of errors.
 */
export function joinedParts(piece: Piece, joins: Joins, count: number): JoinPart[] | null {
  const shape = cutShape(piece);
  if (count === 0) return [{ outline: shape.outline, holes: shape.holes, n: 1, of: 1 }];
  // A join through a hole is none.
  if (shape.holes.length > 0) return null;
  if (shape.fold !== null) return count === 1 ? halves(shape.outline, shape.fold, joins.allowanceMm) : null;
  const length = lengthOf(piece, shape.outline, joins.divides);
  const places = joinPlaces(length.lengthMm, joins, count);
  if (places === null) return null;
  const tilt = joins.slant === 'diagonal' ? 1 : 0;
  const along = joins.allowanceMm * (tilt === 1 ? Math.SQRT2 : 1);
  const of = count + 1;
  const parts = Array.from({ length: of }, (_, i): JoinPart => {
    let outline: Outline = shape.outline;
    const from = places[i - 1];
    const to = places[i];
    if (from !== undefined) outline = keptBeyond(outline, length, from - along, tilt, 1);
    if (to !== undefined) outline = keptBeyond(outline, length, to + along, tilt, -1);
    return { outline: cleanRing(outline), holes: [], n: i + 1, of };
  });
  return parts.every(({ outline }) => outline.length >= 3 && signedArea(outline) > 0) ? parts : null;
}

/** The two halves of a piece that is drawn as one of them, each with its allowance beyond the line where they meet. */
function halves(outline: Outline, fold: readonly [Point, Point], allowanceMm: number): JoinPart[] | null {
  const frame = foldFrame(...fold);
  if (!frame) return null;
  const local = outline.map((p) => toFold(frame, p));
  // Each stretch of the outline on the fold line is carried out by the allowance, square to it.
  const grown = local.flatMap(([s, t], i): Point[] => {
    if (t !== 0) return [[s, t]];
    const before = local[(i + local.length - 1) % local.length]!;
    const after = local[(i + 1) % local.length]!;
    const out: Point = [s, -allowanceMm];
    if (allowanceMm === 0 || (before[1] === 0 && after[1] === 0)) return [out];
    return after[1] === 0 ? [[s, t], out] : before[1] === 0 ? [out, [s, t]] : [[s, t]];
  });
  const ring = (points: readonly Point[]): Outline => cleanRing(points.map((p) => fromFold(frame, p)));
  const other = grown.map(([s, t]): Point => [s, 0 - t]).reverse();
  return [
    { outline: ring(grown), holes: [], n: 1, of: 2 },
    { outline: ring(other), holes: [], n: 2, of: 2 },
  ];
}

/** How long a piece is along its longer side, along the grain or across it, mm. */
export function joinableLength(piece: Piece): number {
  return lengthOf(piece, cutShape(piece).outline).lengthMm;
}

function lengthOf(piece: Piece, outline: Outline, divides: Joins['divides'] = 'length'): Length {
  const [along, across] = [0, 90].map((by): Length => {
    const { cos, sin } = turnBy((((piece.grainDeg + by) % 180) + 180) % 180);
    const s = outline.map(([x, y]) => x * cos + y * sin);
    const t = outline.map(([x, y]) => y * cos - x * sin);
    return {
      cos,
      sin,
      low: Math.min(...s),
      lengthMm: Math.max(...s) - Math.min(...s),
      middle: (Math.min(...t) + Math.max(...t)) / 2,
    };
  }) as [Length, Length];
  return along.lengthMm >= across.lengthMm === (divides === 'length') ? along : across;
}

/** A joined piece has no length shorter than this, mm: nobody sews shorter ones together. */
const SHORTEST_MM = 10;

/**
 * Where the joins lie, from the low end: as evenly as possible outside the part about the middle that is to be whole;
 * null if there is no room for so many.
 */
function joinPlaces(
  lengthMm: number,
  { wholeMiddleMm }: Pick<Joins, 'wholeMiddleMm'>,
  count: number,
): number[] | null {
  const [from, to] = [(lengthMm - wholeMiddleMm) / 2, (lengthMm + wholeMiddleMm) / 2];
  const places: number[] = [];
  let least = SHORTEST_MM;
  for (let i = 1; i <= count; i++) {
    const wanted = (i * lengthMm) / (count + 1);
    // Each of those still to come needs its own shortest length.
    const most = lengthMm - (count - i + 1) * SHORTEST_MM;
    const allowed = [wanted, least, from, to].filter(
      (s) => s >= least && s <= most && (wholeMiddleMm === 0 || s <= from || s >= to),
    );
    const place = allowed.sort((a, b) => Math.abs(a - wanted) - Math.abs(b - wanted))[0];
    if (place === undefined) return null;
    places.push(place);
    least = place + SHORTEST_MM;
  }
  return places;
}

/** What of the outline lies on one side of a join line (`side` 1: beyond it), the line square or at 45°. */
function keptBeyond(
  outline: Outline,
  { cos, sin, low, middle }: Length,
  at: number,
  tilt: number,
  side: 1 | -1,
): Outline {
  const value = ([x, y]: Point): number => {
    const s = x * cos + y * sin - low;
    const t = y * cos - x * sin - middle;
    return side * (s + tilt * t - at);
  };
  const out: Point[] = [];
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length]!;
    const [here, next] = [value(p), value(q)];
    if (here >= 0) out.push(p);
    if (here * next < 0) {
      const share = here / (here - next);
      out.push([p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])]);
    }
  });
  return out;
}
