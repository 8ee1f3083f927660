import { boundingBox, distance, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { FoldAtLine, Piece, PieceMark } from '../exchange/project.ts';
import { distanceToEdge } from '../pieces/cutShape.ts';

/** A straight stretch of a line drawn on a piece, at which the piece may be folded back. */
export interface FoldLine {
  /** Index of the mark, and of the point of it at which the stretch begins. */
  readonly mark: number;
  readonly from: number;
  readonly kind: PieceMark['kind'];
  readonly ends: readonly [Point, Point];
  readonly lengthMm: number;
}

/** Points nearer than this to the line between its ends are on it, mm: what drawing programs round off, and chords of arcs are not. */
const STRAIGHT_MM = 0.05;
/** A line shorter than this part of the piece's larger measure is a mark or a piece of a curve. */
const LEAST_PART = 0.1;

/** The straight stretches of a piece's drawn lines that are long enough to be folded at, the longest first. */
export function foldLines(piece: Pick<Piece, 'outline' | 'marks'>): readonly FoldLine[] {
  const { minX, minY, maxX, maxY } = boundingBox(piece.outline);
  const least = LEAST_PART * Math.max(maxX - minX, maxY - minY);
  return piece.marks
    .flatMap((mark, index) => (mark.kind === 'notch' ? [] : straightParts(mark, index)))
    .filter(({ lengthMm }) => lengthMm >= least)
    .sort((a, b) => b.lengthMm - a.lengthMm);
}

/** The stretch that a step names; null where it is no longer drawn. */
export function foldLineAt(piece: Pick<Piece, 'marks'>, { mark, from }: FoldAtLine): FoldLine | null {
  const drawn = piece.marks[mark];
  if (!drawn || drawn.kind === 'notch') return null;
  return straightParts(drawn, mark).find((part) => part.from === from) ?? null;
}

/** On which side of a line more of the piece lies: usually the other is what is folded away. */
export function largerSide(outline: Outline, [[ax, ay], [bx, by]]: FoldLine['ends']): FoldAtLine['keep'] {
  const side = ([x, y]: Point): number => (bx - ax) * (y - ay) - (by - ay) * (x - ax);
  const kept: Point[] = [];
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length]!;
    const [here, there] = [side(p), side(q)];
    if (here >= 0) kept.push(p);
    if (here * there < 0) {
      const share = here / (here - there);
      kept.push([p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])]);
    }
  });
  return 2 * Math.abs(signedArea(kept)) >= Math.abs(signedArea(outline)) ? 'left' : 'right';
}

/** A line in its straight stretches, from its first point or, where it is closed, from its sharpest corner. */
function straightParts({ points, closed, kind }: PieceMark, mark: number): FoldLine[] {
  const count = points.length;
  const begin = closed ? sharpestCorner(points) : 0;
  const at = (step: number): Point => points[(begin + step) % count]!;
  const last = closed ? count : count - 1;
  const parts: FoldLine[] = [];
  let from = 0;
  while (from < last) {
    let to = from + 1;
    while (to < last && isStraight(from, to + 1, at)) to += 1;
    const ends = [at(from), at(to)] as const;
    parts.push({ mark, from: (begin + from) % count, kind, ends, lengthMm: distance(...ends) });
    from = to;
  }
  return parts;
}

function isStraight(from: number, to: number, at: (step: number) => Point): boolean {
  for (let step = from + 1; step < to; step++)
    if (distanceToEdge(at(step), at(from), at(to)) > STRAIGHT_MM) return false;
  return true;
}

function sharpestCorner(points: readonly Point[]): number {
  let sharpest = 0;
  let most = -1;
  points.forEach((point, i) => {
    const before = points[(i + points.length - 1) % points.length]!;
    const after = points[(i + 1) % points.length]!;
    const [ax, ay] = [point[0] - before[0], point[1] - before[1]];
    const [bx, by] = [after[0] - point[0], after[1] - point[1]];
    const turn = Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
    if (turn > most) {
      most = turn;
      sharpest = i;
    }
  });
  return sharpest;
}
