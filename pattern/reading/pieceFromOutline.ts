import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import { LIMITS, type Piece, type PieceMark } from '../exchange/project.ts';
import { ToldRangeError } from '../toldFault.ts';
import { liesIn } from './containment.ts';
import type { DrawingLine, DrawingOutline } from './drawing.ts';
import { type ReadingWords, readingWords } from './words/index.ts';

/** An outline of the drawing, or several of it made one. */
export type PickedOutline = Pick<DrawingOutline, 'id' | 'ring'>;

export interface PieceOptions {
  /** Id of the new piece in the project. */
  readonly id: string;
  readonly name: string;
  readonly fileName: string;
  /** What is cut out of it. Must lie inside the outline. */
  readonly holes?: readonly PickedOutline[];
  /** Where it is sewn: closed outlines or open lines. */
  readonly sewLines?: readonly (PickedOutline | DrawingLine)[];
  /** Lines that are drawn but not cut: slits to mark, placements, folds. */
  readonly internalLines?: readonly (PickedOutline | DrawingLine)[];
  /** Single points to be marked: notches. */
  readonly notches?: readonly Point[];
  readonly grainDeg?: number;
  readonly topDeg?: number;
  readonly foldEdge?: number | null;
  readonly line?: Piece['line'];
  readonly allowanceMm?: number;
  readonly notes?: string;
}

const MAX_HOLES = 500;
const MAX_MARKS = 2_000;
/** Decimals kept of a millimetre: finer than anything drawn, short enough to keep projects small. */
const DECIMALS = 1e5;

/**
 * A piece of the project made of outlines of one drawing, moved so that its box starts at (0, 0). Edges keep their
 * numbers: edge i of the piece is edge i of `outline.ring`.
 *
 * Throws RangeError, with a sentence for the maker, if a hole does not lie in the outline or there are too many lines.
 */
export function pieceFromOutline(outline: PickedOutline, options: PieceOptions): Piece {
  const { minX, minY } = boundingBox(outline.ring);
  const place = (points: readonly Point[]): Point[] =>
    points.map(([x, y]) => [rounded(x - minX), rounded(y - minY)]);
  const holes = options.holes ?? [];
  const sewLines = options.sewLines ?? [];
  const internalLines = options.internalLines ?? [];
  if (holes.length > MAX_HOLES) throw fault(({ manyHoles }) => manyHoles(MAX_HOLES, holes.length));
  const notches = options.notches ?? [];
  if (sewLines.length + internalLines.length + notches.length > MAX_MARKS)
    throw fault(({ manyMarks }) => manyMarks(MAX_MARKS));
  const shape = closedShape(outline.ring);
  for (const hole of holes) {
    if (!liesIn(closedShape(hole.ring), shape, { left: Number.POSITIVE_INFINITY }))
      throw fault(({ holeOutside }) => holeOutside(hole.id.slice(0, 60), outline.id.slice(0, 60)));
  }
  const mark = (kind: PieceMark['kind'], line: PickedOutline | DrawingLine): PieceMark =>
    'ring' in line
      ? { kind, points: place(line.ring), closed: true }
      : { kind, points: place(line.points).slice(0, LIMITS.points), closed: false };
  return {
    id: options.id,
    name: options.name.trim().slice(0, LIMITS.nameLength) || 'Piece',
    outline: place(outline.ring),
    // Holes run the other way round.
    holes: holes.map(({ ring }) => place(signedArea(ring) > 0 ? [...ring].reverse() : ring)),
    marks: [
      ...sewLines.map((line) => mark('sewLine', line)),
      ...internalLines.map((line) => mark('internal', line)),
      ...notches.map((at): PieceMark => ({ kind: 'notch', points: place([at]), closed: false })),
    ],
    grainDeg: options.grainDeg ?? 90,
    topDeg: options.topDeg ?? 90,
    foldEdge: options.foldEdge ?? null,
    line: options.line ?? 'cut',
    allowanceMm: options.allowanceMm ?? 0,
    source: {
      kind: 'drawing',
      file: options.fileName.slice(0, LIMITS.nameLength),
      element: outline.id.slice(0, LIMITS.nameLength),
    },
    notes: options.notes ?? '',
  };
}

const fault = (say: (words: ReadingWords) => string): ToldRangeError =>
  new ToldRangeError((language) => say(readingWords(language)));

const rounded = (value: number): number => Math.round(value * DECIMALS) / DECIMALS;

const closedShape = (ring: Outline) => ({
  points: ring,
  closed: true,
  box: boundingBox(ring),
  area: Math.abs(signedArea(ring)),
});

/** Direction of a drawn grain arrow, from its first to its last point, in degrees from 0 up to 180. */
export function grainFromLine(line: Pick<DrawingLine, 'points'>): number {
  const [fromX, fromY] = line.points[0] ?? [0, 0];
  const [toX, toY] = line.points[line.points.length - 1] ?? [0, 1];
  const degrees = (Math.atan2(toY - fromY, toX - fromX) * 180) / Math.PI;
  return (degrees + 360) % 180;
}
