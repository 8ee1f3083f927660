import { distance } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { EdgeAllowance, Piece } from '../exchange/project.ts';
import { toSewLine } from '../variants/allowances.ts';
import { nearestOn } from '../variants/carry.ts';

/** Edges whose allowance differs by less than this have the same one, mm: what programs round off on curves, and less than a needle. */
const SAME_MM = 0.25;
/** The line worked out from the allowances and the one drawn may lie so far apart, mm. */
const AGREES_MM = 0.4;
/** Allowances wider than this are something else: a frame, a facing. Millimetres. */
const WIDEST_MM = 80;
/** Comparisons of edges; a piece that needs more is all curves and is left alone. */
const MOST_WORK = 4_000_000;

/**
 * How much allowance a piece holds between the line to cut and the one sew line drawn in it: the usual width, and edges
 * that differ from it (a hem, a fold edge). Null where it has no such line, or where moving the cut line in by these
 * widths does not come out at the line that is drawn.
 */
export function drawnAllowance(piece: Piece): Pick<Piece, 'allowanceMm' | 'edgeAllowances'> | null {
  const [sewLine, another] = piece.marks.filter((mark) => mark.kind === 'sewLine');
  if (piece.line !== 'cut' || !sewLine?.closed || another) return null;
  if (piece.outline.length * sewLine.points.length > MOST_WORK) return null;
  const widths = piece.outline.map((from, edge) =>
    widthAt(from, piece.outline[(edge + 1) % piece.outline.length]!, sewLine.points),
  );
  const usual = usualWidth(piece.outline, widths, piece.foldEdge);
  if (usual === null || usual < SAME_MM) return null;
  const edges: EdgeAllowance[] = widths.flatMap((mm, edge) =>
    edge === piece.foldEdge || Math.abs(mm - usual) < SAME_MM ? [] : [{ edge, mm: tidy(mm) }],
  );
  if (Math.max(usual, ...edges.map(({ mm }) => mm)) > WIDEST_MM) return null;
  const found = { allowanceMm: tidy(usual), ...(edges.length > 0 ? { edgeAllowances: edges } : {}) };
  return agrees({ ...piece, ...found }, sewLine.points) ? found : null;
}

/** How far an edge lies from the line at its middle, where corners have no say. */
function widthAt([ax, ay]: Point, [bx, by]: Point, line: Outline): number {
  return nearestOn(line, [(ax + bx) / 2, (ay + by) / 2]).distance;
}

/** The width that most of the outline has, by length; null where there is no outline but the fold. */
function usualWidth(outline: Outline, widths: readonly number[], foldEdge: number | null): number | null {
  const length = (edge: number): number => distance(outline[edge]!, outline[(edge + 1) % outline.length]!);
  const byWidth = new Map<number, number>();
  widths.forEach((mm, edge) => {
    if (edge === foldEdge) return;
    const step = Math.round(mm / SAME_MM);
    byWidth.set(step, (byWidth.get(step) ?? 0) + length(edge));
  });
  const [most] = [...byWidth].sort((a, b) => b[1] - a[1])[0] ?? [];
  if (most === undefined) return null;
  const near = widths.filter((mm, edge) => edge !== foldEdge && Math.round(mm / SAME_MM) === most);
  return near.toSorted((a, b) => a - b)[Math.floor(near.length / 2)] ?? null;
}

function agrees(piece: Piece, drawn: Outline): boolean {
  try {
    const sewn = toSewLine(piece).outline;
    const isNear = (points: Outline, ring: Outline): boolean =>
      points.every((point) => nearestOn(ring, point).distance <= AGREES_MM);
    return isNear(sewn, drawn) && isNear(drawn, sewn);
  } catch {
    // Nothing is left, or the figures are none the clipper can do: then they don't agree.
    return false;
  }
}

/** Hundredths of a millimetre: drawn numbers come with many decimals. */
const tidy = (mm: number): number => Math.round(mm * 100) / 100;
