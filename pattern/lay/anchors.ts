import type { Anchor } from '../../nesting/cloth/index.ts';
import type { Point } from '../../nesting/geometry/points.ts';
import { signedArea } from '../../nesting/geometry/rings.ts';
import { placePoint, turnBy } from '../../nesting/geometry/transforms.ts';
import type { JoinedEnd, Match, Piece, Project } from '../exchange/project.ts';
import { edgeAllowance } from '../pieces/cutShape.ts';

/** What cannot be matched, told before packing. */
export type MatchFault =
  | { readonly kind: 'gone'; readonly match: Match }
  | { readonly kind: 'lengths'; readonly match: Match; readonly aMm: number; readonly bMm: number }
  /** How far inside the cut line of a piece its seam lies is not known: bars meet at the cut line there. */
  | { readonly kind: 'seamUnknown'; readonly match: Match; readonly pieceIds: readonly string[] }
  | { readonly kind: 'ring'; readonly match: Match; readonly off: Point };

/** Edges whose lengths differ by more are told, mm: less is eased in when they are sewn. */
const SAME_LENGTH_MM = 3;

/**
 * The points by which pieces keep to the cloth's repeat: those placed on a motif by their own point, and those joined
 * to others by points that agree where the seams lie. Pieces joined through others hang together: of each such group
 * one seam lies on a bar (or motif), and all others follow from it as the sewn thing has them.
 */
export function anchorsOf(project: Project): {
  readonly anchors: ReadonlyMap<string, Anchor>;
  readonly faults: readonly MatchFault[];
} {
  const pieces = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const anchors = new Map<string, Anchor>();
  const faults: MatchFault[] = [];
  for (const { id, motif } of project.pieces) {
    if (motif) anchors.set(id, { ...motif });
  }
  const open = (project.matches ?? []).filter((match) => {
    const [a, b] = [pieces.get(match.a.pieceId), pieces.get(match.b.pieceId)];
    if (!a || !b || !joinedPoint(a, match.a) || !joinedPoint(b, match.b)) {
      faults.push({ kind: 'gone', match });
      return false;
    }
    const unknown = [match.a, match.b].filter((end) => !isSeamKnown(pieces.get(end.pieceId)!, end));
    if (unknown.length > 0) {
      faults.push({ kind: 'seamUnknown', match, pieceIds: unknown.map(({ pieceId }) => pieceId) });
    }
    const [aMm, bMm] = [edgeLength(a, match.a), edgeLength(b, match.b)];
    if (aMm !== null && bMm !== null && Math.abs(aMm - bMm) > SAME_LENGTH_MM) {
      faults.push({ kind: 'lengths', match, aMm, bMm });
    }
    return true;
  });
  const pending = [...open];
  while (pending.length > 0) {
    // Go on from a piece that has its anchor; where none has, the first seam of a new group lies on the repeat.
    let at = pending.findIndex(({ a, b }) => anchors.has(a.pieceId) || anchors.has(b.pieceId));
    if (at < 0) {
      at = 0;
      const { a } = pending[0]!;
      const point = joinedPoint(pieces.get(a.pieceId)!, a)!;
      anchors.set(a.pieceId, { at: point, onMotif: [0, 0], toleranceMm: 0 });
    }
    const [match] = pending.splice(at, 1) as [Match];
    const [known, other] = anchors.has(match.a.pieceId) ? [match.a, match.b] : [match.b, match.a];
    const derived = carried(pieces.get(known.pieceId)!, known, pieces.get(other.pieceId)!, other, anchors);
    const there = anchors.get(other.pieceId);
    if (!there) anchors.set(other.pieceId, derived);
    else {
      const off: Point = [derived.at[0] - there.at[0], derived.at[1] - there.at[1]];
      if (known.pieceId !== other.pieceId && Math.hypot(...off) > SAME_LENGTH_MM) {
        faults.push({ kind: 'ring', match, off });
      }
    }
  }
  return { anchors, faults };
}

/** The anchor of a piece that is joined to one whose anchor is known: the same place of the sewn thing. */
function carried(
  from: Piece,
  fromEnd: JoinedEnd,
  to: Piece,
  toEnd: JoinedEnd,
  anchors: ReadonlyMap<string, Anchor>,
): Anchor {
  const anchor = anchors.get(from.id)!;
  const seam = joinedPoint(from, fromEnd)!;
  const upright = (piece: Piece, [x, y]: Point): Point =>
    placePoint([x, y], turnBy(90 - piece.topDeg), false, 0, 0);
  const drawn = (piece: Piece, [x, y]: Point): Point =>
    placePoint([x, y], turnBy(piece.topDeg - 90), false, 0, 0);
  const [dx, dy] = upright(from, [seam[0] - anchor.at[0], seam[1] - anchor.at[1]]);
  const [ex, ey] = drawn(to, [dx, dy]);
  const [qx, qy] = joinedPoint(to, toEnd)!;
  return { ...anchor, at: [qx - ex, qy - ey] };
}

/**
 * Where a piece is joined: on its sew line, at which bars must meet, not on the line that is cut. The sew line is the one
 * drawn, else it lies as deep as the piece says that its allowance is.
 */
function joinedPoint(piece: Piece, end: JoinedEnd): Point | null {
  const onLine = outlinePoint(piece, end);
  if (onLine === null || piece.line === 'sew') return onLine?.point ?? null;
  const { point, edge } = onLine;
  const drawn = nearestOnSewLine(piece, point);
  if (drawn !== null && end.notch !== null) return drawn;
  const depth =
    drawn === null ? edgeAllowance(piece)(edge) : Math.hypot(drawn[0] - point[0], drawn[1] - point[1]);
  const [a, b] = edgeOf(piece, edge);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const by = depth * (signedArea(piece.outline) > 0 ? 1 : -1);
  return [point[0] - ((b[1] - a[1]) / length) * by, point[1] + ((b[0] - a[0]) / length) * by];
}

/** The middle of an edge, or a notch, as drawn, and the edge it is on; null where it is no longer there. */
function outlinePoint(
  piece: Piece,
  { edge, notch }: JoinedEnd,
): { readonly point: Point; readonly edge: number } | null {
  if (notch !== null) {
    const mark = piece.marks[notch];
    const [point] = mark?.kind === 'notch' ? mark.points : [];
    return point ? { point, edge: nearestEdge(piece.outline, point) } : null;
  }
  if (edge === null || edge >= piece.outline.length) return null;
  const [a, b] = edgeOf(piece, edge);
  return { point: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], edge };
}

/** Whether it is known where the seam lies: the outline is it, it is drawn, or the allowance is told. */
function isSeamKnown(piece: Piece, end: JoinedEnd): boolean {
  const at = outlinePoint(piece, end);
  if (at === null || piece.line === 'sew') return true;
  return nearestOnSewLine(piece, at.point) !== null || edgeAllowance(piece)(at.edge) > 0;
}

function edgeOf({ outline }: Piece, edge: number): [Point, Point] {
  return [outline[edge]!, outline[(edge + 1) % outline.length]!];
}

function edgeLength(piece: Piece, { edge }: JoinedEnd): number | null {
  if (edge === null) return null;
  const [a, b] = edgeOf(piece, edge);
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** A sew line farther off than this belongs to something else, mm. */
const MOST_ALLOWANCE_MM = 60;

function nearestOnSewLine({ marks }: Piece, point: Point): Point | null {
  let best: Point | null = null;
  let least = MOST_ALLOWANCE_MM;
  for (const { kind, points, closed } of marks) {
    if (kind !== 'sewLine') continue;
    const count = closed ? points.length : points.length - 1;
    for (let i = 0; i < count; i++) {
      const near = nearestOn(points[i]!, points[(i + 1) % points.length]!, point);
      const distance = Math.hypot(near[0] - point[0], near[1] - point[1]);
      if (distance < least) {
        least = distance;
        best = near;
      }
    }
  }
  return best;
}

function nearestEdge(outline: Piece['outline'], point: Point): number {
  const distances = outline.map((a, i) => {
    const [x, y] = nearestOn(a, outline[(i + 1) % outline.length]!, point);
    return Math.hypot(x - point[0], y - point[1]);
  });
  return distances.indexOf(Math.min(...distances));
}

/** The point of the line from `a` to `b` that is nearest to another. */
function nearestOn([ax, ay]: Point, [bx, by]: Point, [x, y]: Point): Point {
  const squared = (bx - ax) ** 2 + (by - ay) ** 2;
  const along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / squared;
  const t = squared === 0 ? 0 : Math.min(1, Math.max(0, along));
  return [ax + t * (bx - ax), ay + t * (by - ay)];
}
