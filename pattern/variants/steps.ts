import { boundingBox } from '../../nesting/geometry/rings.ts';
import { turnBy } from '../../nesting/geometry/transforms.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import type { FoldAtLine, Piece, VariantStep } from '../exchange/project.ts';
import { halfOf, halved } from '../pieces/cutShape.ts';
import { FOLD_LINE_MM, SHORT_EDGE_MM } from '../pieces/tolerances.ts';
import { unfold } from '../pieces/unfold.ts';
import { ToldFault } from '../toldFault.ts';
import { toSewLine, withAllowance } from './allowances.ts';
import {
  carryAllowances,
  foldEdgeOf,
  type Move,
  marksLeftOf,
  mirroredAbout,
  mirroredMarks,
  moveMarks,
  upright,
} from './carry.ts';
import { foldLineAt } from './foldLines.ts';
import { type StepWords, stepWords } from './words/index.ts';

/** A step cannot be taken. The text says why, in the maker's words, without the piece's name. */
export class StepFault extends ToldFault {
  override readonly name = 'StepFault';

  constructor(say: (words: StepWords) => string) {
    super((language) => say(stepWords(language)));
  }
}

/**
 * Takes one step from a piece to its variant. Marks and notches, the grain, the top and the allowances of single edges
 * go along.
 *
 * @throws StepFault where the step makes no sense for the piece
 */
export function takeStep(drawn: Piece, step: VariantStep): Piece {
  const piece = upright(drawn);
  switch (step.kind) {
    case 'unfold':
      return unfolded(piece);
    case 'foldBack':
      return foldedBack(piece, step.line ? atLine(piece, step.line) : insideEdge(piece, step));
    case 'allowance':
      return allowanceStep(piece, step);
    case 'mirror':
      return mirrored(piece);
    case 'lengthen':
      return lengthened(piece, step);
    case 'scale':
      return scaled(piece, step.alongPercent / 100, step.acrossPercent / 100);
  }
}

function unfolded(piece: Piece): Piece {
  const half = halfOf(piece);
  if (!half) throw new StepFault(({ noFold }) => noFold);
  const whole = unfold(half);
  const image = mirroredAbout(...half.fold);
  const edgeAllowances = carryAllowances(piece, whole.outline, [(point) => point, image]);
  return {
    ...piece,
    outline: whole.outline,
    holes: whole.holes,
    marks: [...piece.marks, ...mirroredMarks(piece.marks, image)],
    foldEdge: null,
    ...(edgeAllowances ? { edgeAllowances } : {}),
  };
}

function foldedBack(piece: Piece, line: readonly [Point, Point]): Piece {
  if (piece.foldEdge !== null) throw new StepFault(({ isHalf }) => isHalf);
  const [[ax, ay], [bx, by]] = line;
  const length = Math.hypot(bx - ax, by - ay);
  // What is kept lies on the left of the line.
  const isOut = ([x, y]: Point): boolean =>
    (bx - ax) * (y - ay) - (by - ay) * (x - ax) <= FOLD_LINE_MM * length;
  if (piece.outline.every(isOut)) throw new StepFault(({ nothingInside }) => nothingInside);
  const half = halvedAt(piece, line);
  const edgeAllowances = carryAllowances(piece, half.outline, [(point) => point]);
  return {
    ...piece,
    outline: half.outline,
    holes: half.holes,
    marks: marksLeftOf(piece.marks, ...line),
    foldEdge: foldEdgeOf(half.outline, half.fold),
    ...(edgeAllowances ? { edgeAllowances } : {}),
  };
}

/** A line so far inside an edge, the piece on its left. */
function insideEdge(
  piece: Piece,
  { edge, insideMm }: Extract<VariantStep, { kind: 'foldBack' }>,
): readonly [Point, Point] {
  const a = piece.outline[edge];
  const b = piece.outline[(edge + 1) % piece.outline.length];
  if (!a || !b) throw new StepFault(({ noEdge }) => noEdge(edge + 1));
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length === 0) throw new StepFault(({ edgeNoLength }) => edgeNoLength(edge + 1));
  // The outline runs counter-clockwise, so that inside is on the left of its edges.
  const [nx, ny] = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
  const inside = ([x, y]: Point): Point => [x + insideMm * nx, y + insideMm * ny];
  return [inside(a), inside(b)];
}

/** A line drawn on the piece, what is to be kept on its left. */
function atLine(piece: Piece, at: FoldAtLine): readonly [Point, Point] {
  const line = foldLineAt(piece, at);
  if (!line || line.lengthMm < SHORT_EDGE_MM) throw new StepFault(({ lineGone }) => lineGone);
  const [from, to] = line.ends;
  return at.keep === 'left' ? [from, to] : [to, from];
}

function halvedAt(piece: Piece, line: readonly [Point, Point]): ReturnType<typeof halved> {
  try {
    return halved(piece, line, FOLD_LINE_MM);
  } catch {
    throw new StepFault(({ lineOff }) => lineOff);
  }
}

function allowanceStep(piece: Piece, step: Extract<VariantStep, { kind: 'allowance' }>): Piece {
  const missing = step.edges.find(({ edge }) => edge >= piece.outline.length);
  if (missing) throw new StepFault(({ noEdgeForAllowance }) => noEdgeForAllowance(missing.edge + 1));
  try {
    return withAllowance(piece, step);
  } catch (error) {
    if (error instanceof RangeError) throw new StepFault(({ nothingLeft }) => nothingLeft);
    throw error;
  }
}

function mirrored(piece: Piece): Piece {
  const flip: Move = ([x, y]) => [-x, y];
  const turned = (ring: Outline): Point[] => ring.map(flip).reverse();
  const last = piece.outline.length - 1;
  const edgeOf = (edge: number): number => (2 * last - edge) % (last + 1);
  return {
    ...piece,
    outline: turned(piece.outline),
    holes: piece.holes.map(turned),
    marks: mirroredMarks(piece.marks, flip),
    grainDeg: (180 - piece.grainDeg) % 180,
    topDeg: tidy(180 - piece.topDeg),
    foldEdge: piece.foldEdge === null ? null : edgeOf(piece.foldEdge),
    ...(piece.edgeAllowances
      ? { edgeAllowances: piece.edgeAllowances.map(({ edge, mm }) => ({ edge: edgeOf(edge), mm })) }
      : {}),
  };
}

/** A direction in (−180, 180]. */
function tidy(degrees: number): number {
  const rest = ((degrees % 360) + 360) % 360;
  return rest > 180 ? rest - 360 : rest;
}

/**
 * Spread apart at a line, or lapped there, as a paper pattern is: all beyond the line moves, what is lapped over goes
 * onto the line, and a side that crosses the line is drawn straight between its ends on both sides of it.
 */
function lengthened(piece: Piece, step: Extract<VariantStep, { kind: 'lengthen' }>): Piece {
  const { cos, sin } = turnBy(upwards(piece.grainDeg + (step.direction === 'along' ? 0 : 90)));
  const along = piece.outline.map(([x, y]) => x * cos + y * sin);
  const low = Math.min(...along);
  const high = Math.max(...along);
  const at = low + step.atMm;
  if (step.atMm <= 0 || at >= high) throw new StepFault(({ lineDoesNotCross }) => lineDoesNotCross);
  if (step.byMm < 0 && at - step.byMm >= high)
    throw new StepFault(({ shortenedTooMuch }) => shortenedTooMuch);
  const move: Move = ([x, y]) => {
    const s = x * cos + y * sin;
    const by = s <= at ? 0 : step.byMm >= 0 ? step.byMm : Math.max(step.byMm, at - s);
    return [x + by * cos, y + by * sin];
  };
  return moved(piece, move);
}

/** The end of a line that points up, or to the right where it is level: so "from the low end" means one thing. */
function upwards(lineDeg: number): number {
  return ((lineDeg % 180) + 180) % 180;
}

/** Larger or smaller along and across the grain; the sew line is scaled, the allowance keeps its width. */
function scaled(piece: Piece, alongBy: number, acrossBy: number): Piece {
  const hasAllowance = piece.allowanceMm > 0 || (piece.edgeAllowances?.length ?? 0) > 0;
  const base = piece.line === 'cut' && hasAllowance ? sewLineOf(piece) : piece;
  const { cos, sin } = turnBy(piece.grainDeg);
  const box = boundingBox(base.outline);
  const [cx, cy] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  return moved(base, ([x, y]) => {
    const along = ((x - cx) * cos + (y - cy) * sin) * alongBy;
    const across = (-(x - cx) * sin + (y - cy) * cos) * acrossBy;
    return [cx + along * cos - across * sin, cy + along * sin + across * cos];
  });
}

function sewLineOf(piece: Piece): Piece {
  try {
    return toSewLine(piece);
  } catch (error) {
    if (error instanceof RangeError) throw new StepFault(({ nothingLeft }) => nothingLeft);
    throw error;
  }
}

/** Every vertex moved, in the same order: edges keep their numbers. */
function moved(piece: Piece, move: Move): Piece {
  return {
    ...piece,
    outline: piece.outline.map(move),
    holes: piece.holes.map((hole) => hole.map(move)),
    marks: moveMarks(piece.marks, move),
  };
}
