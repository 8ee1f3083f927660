import type { Outline } from '../../nesting/packing/types.ts';
import type { CutRow, Piece, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { cutShape, wholeShape } from '../pieces/index.ts';
import type { DrawingItem, DrawnPoint } from '../plan/index.ts';
import { type Bounds, bounds, type Ring } from '../plan/intervals.ts';
import { topMark } from '../plan/pieceMarks.ts';
import { cleanText, isolate, shorten } from '../plan/text.ts';
import { planWords } from '../plan/words/index.ts';
import { formatLength, formatSize, type ShownUnits } from '../units/index.ts';
import type { FullDrawing } from './fullDrawing.ts';
import { longGrain, pieceWords } from './fullMarks.ts';
import { outputWords } from './words/index.ts';

export interface FullPieceOptions {
  readonly units: ShownUnits;
  /** English where left out. */
  readonly language?: Language;
  /** A half piece is drawn opened out. */
  readonly unfold: boolean;
  /** Boxes on the drawing within one of which the words should stand if they fit there: those of the sheets. */
  readonly rooms?: readonly Bounds[];
}

/** The cut line as `drawFullPiece` draws it: its box from (0, 0), y down. */
export function fullOutline(piece: Piece, unfold: boolean): Outline {
  const { outline } = unfold ? wholeShape(piece) : cutShape(piece);
  const box = bounds(outline);
  return outline.map(([x, y]) => [x - box.minX, box.maxY - y]);
}

const MARK_ROLES = { sewLine: 'sew-line', internal: 'inner-line', notch: 'notch' } as const;
/** Half a cross that marks a point. */
const CROSS_MM = 2;
type Point = readonly [number, number];

/**
 * A piece in true size, for cutting it out of paper: cut line, holes, sew line, marks, fold edge, grain line, top,
 * and in words what it is and how often it is cut. The drawing is exactly as large as the piece. The piece must be
 * free of errors (`checkPiece`).
 */
export function drawFullPiece(piece: Piece, project: Project, options: FullPieceOptions): FullDrawing {
  const { language = USUAL_LANGUAGE } = options;
  const half = cutShape(piece);
  const opened = options.unfold && half.fold !== null;
  const shape = opened ? wholeShape(piece) : half;
  const box = bounds(shape.outline);
  const toPage = ([x, y]: Point): DrawnPoint => [x - box.minX, box.maxY - y];
  const rings = [shape.outline, ...shape.holes].map((ring) => ring.map(toPage));
  const outline = rings[0] as Ring;
  const items: DrawingItem[] = [];
  const path = (role: Extract<DrawingItem, { kind: 'path' }>['role'], lines: Ring[], closed: boolean) =>
    items.push({ kind: 'path', role, lines, closed });

  path('piece-edge', rings, true);
  const both = (points: Outline): Outline[] =>
    opened && half.fold
      ? [points, points.map((p) => reflect(p, half.fold as readonly [Point, Point]))]
      : [points];
  if (piece.line === 'sew' && piece.allowanceMm > 0) {
    path(
      'sew-line',
      [piece.outline, ...piece.holes].flatMap(both).map((ring) => ring.map(toPage)),
      true,
    );
  }
  for (const mark of piece.marks) {
    if (mark.points.length === 1) {
      for (const [x, y] of both(mark.points).map((line) => toPage(line[0] as Point))) {
        path(
          'notch',
          [
            [
              [x - CROSS_MM, y],
              [x + CROSS_MM, y],
            ],
            [
              [x, y - CROSS_MM],
              [x, y + CROSS_MM],
            ],
          ],
          false,
        );
      }
      continue;
    }
    path(
      MARK_ROLES[mark.kind],
      both(mark.points).map((line) => line.map(toPage)),
      mark.closed,
    );
  }
  const name = isolate(cleanText(piece.name));
  const size = formatSize(box.maxX - box.minX, box.maxY - box.minY, options.units, language);
  const keepOut: Ring[] = [];
  if (half.fold && !opened) {
    const [a, b] = [toPage(half.fold[0]), toPage(half.fold[1])];
    path('fold-edge', [[a, b]], false);
  } else if (half.fold) {
    path('crease', [[toPage(half.fold[0]), toPage(half.fold[1])]], false);
  }
  const lines = labelLines(piece, project, size, opened ? 'opened' : half.fold ? 'onFold' : 'whole', options);
  const label = pieceWords(rings, options.rooms ?? [], name, lines);
  if (label) {
    items.push(...label.items);
    keepOut.push(label.box);
  }
  const top = topMark(rings, -piece.topDeg, keepOut, planWords(language).top);
  if (top) {
    items.push(...top.items);
    keepOut.push(top.box);
  }
  const grain = longGrain(rings, -piece.grainDeg, keepOut);
  if (grain) items.push(grain);
  return {
    name,
    size,
    outlines: [outline],
    drawing: {
      widthMm: box.maxX - box.minX,
      heightMm: box.maxY - box.minY,
      title: outputWords(language).fullSize(name),
      description: size,
      lang: language,
      scale: 1,
      frames: [],
      layers: [{ name: 'pieces', items }],
    },
  };
}

function labelLines(
  piece: Piece,
  project: Project,
  size: string,
  drawn: 'whole' | 'onFold' | 'opened',
  { units, language = USUAL_LANGUAGE }: FullPieceOptions,
): string[] {
  const words = outputWords(language).full;
  const rows = project.cutList.filter((row) => row.pieceId === piece.id && countOf(row) > 0);
  const cut = rows.map((row) => {
    const material = project.materials.find((m) => m.id === row.materialId);
    const name = isolate(shorten(cleanText(material?.name ?? row.materialId), 30, 1, 'piece-label'));
    return words.cut(
      name,
      drawn === 'opened' ? openedCounts(row, language) : planWords(language).counts(row),
    );
  });
  const sewn = piece.line === 'sew' && piece.allowanceMm > 0;
  return [
    ...cut,
    size,
    ...(sewn ? [words.cutLine(formatLength(piece.allowanceMm, units, language))] : []),
    ...(drawn === 'onFold' ? [words.onFold] : []),
  ];
}

/** Of a half piece drawn opened out: what the cut list has on the fold is cut from one layer by this drawing. */
function openedCounts(row: CutRow, language: Language): string {
  const flat = { ...row, onFold: 0 };
  const opened = row.onFold > 0 ? [outputWords(language).full.opened(row.onFold)] : [];
  return [...(countOf(flat) > 0 ? [planWords(language).counts(flat)] : []), ...opened].join(' + ');
}

function countOf({ plain, mirrored, onFold }: Pick<CutRow, 'plain' | 'mirrored' | 'onFold'>): number {
  return plain + mirrored + onFold;
}

/** Mirror image of a point in the line of the fold. */
function reflect([x, y]: Point, [[ax, ay], [bx, by]]: readonly [Point, Point]): Point {
  const dx = bx - ax;
  const dy = by - ay;
  const twice = (2 * ((x - ax) * dx + (y - ay) * dy)) / (dx * dx + dy * dy);
  return [2 * ax + twice * dx - x, 2 * ay + twice * dy - y];
}
