import type { Piece } from '../exchange/project.ts';
import type { Language } from '../language.ts';
import type { ShownUnits } from '../units/index.ts';
import type { Drawing, DrawingItem, DrawnPoint } from './drawing.ts';
import { bounds, type Ring, turned } from './intervals.ts';
import { grainLine, topMark } from './pieceMarks.ts';
import { DrawingSink } from './sink.ts';
import { CAP_HEIGHT, cleanText, isolate, LEADING, textWidth } from './text.ts';
import { type Role, TEXT } from './tokens.ts';
import type { PlanWords } from './words/index.ts';

export interface PieceDrawingOptions {
  readonly units: ShownUnits;
  /** English where left out. */
  readonly language?: Language;
  /** The longer side of the piece on paper, mm. */
  readonly sizeMm?: number;
}

type Point = readonly [number, number];

const SIZE_MM = 60;
const MARGIN_MM = 2.5;
/** Room for a dimension beside the piece. */
const DIMENSION_MM = 5.5;
/** From the piece to its dimension line. */
const GAP_MM = 2.2;
/** A piece is never drawn larger than it is. */
const LEAST_SCALE = 1;

const MARK_ROLES = { sewLine: 'sew-line', internal: 'inner-line', notch: 'notch' } as const satisfies Record<
  string,
  Role
>;

/**
 * A piece by itself, for a card: outline and holes, sew lines and other marks, grain line, top mark, the fold edge
 * with the other half in dashes, and the width and height of the whole piece. In no round scale; no name, since a
 * card has its own.
 */
export function drawPiece(piece: Piece, options: PieceDrawingOptions): Drawing {
  const fold = foldOf(piece);
  const ghost = fold ? piece.outline.map((p) => reflect(p, fold)) : [];
  const box = bounds([...piece.outline, ...ghost]);
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  const scale = Math.max(LEAST_SCALE, Math.max(width, height) / (options.sizeMm ?? SIZE_MM));
  const left = MARGIN_MM + DIMENSION_MM;
  const top = MARGIN_MM;
  const toPage = ([x, y]: Point): DrawnPoint => [left + (x - box.minX) / scale, top + (box.maxY - y) / scale];
  const drawnWidth = width / scale;
  const drawnHeight = height / scale;

  const sink = new DrawingSink(options.language);
  const rings = [piece.outline, ...piece.holes].map((ring) => ring.map(toPage));
  const sewn = piece.line === 'sew';
  const items: DrawingItem[] = [
    { kind: 'path', role: 'piece-plain', lines: rings, closed: true },
    { kind: 'path', role: sewn ? 'sew-edge' : 'piece-edge', lines: rings, closed: true },
  ];
  for (const mark of piece.marks) {
    if (mark.points.length === 1) {
      items.push(dot(toPage(mark.points[0] as Point)));
    } else {
      items.push({
        kind: 'path',
        role: MARK_ROLES[mark.kind],
        lines: [mark.points.map(toPage)],
        closed: mark.closed,
      });
    }
  }
  const keepOut: Ring[] = [];
  const topSign = topMark(rings, -piece.topDeg, keepOut, sink.words.top);
  if (topSign) keepOut.push(topSign.box);
  const grain = grainLine(rings, -piece.grainDeg, keepOut);
  if (grain) items.push(grain);
  if (topSign) items.push(...topSign.items);
  if (fold) {
    sink.add('pieces', { kind: 'path', role: 'ghost', lines: [ghost.map(toPage)], closed: true });
    items.push(...foldMark([toPage(fold[0]), toPage(fold[1])], rings[0] as Ring, sink.words));
  }
  const name = isolate(cleanText(piece.name));
  const size = sink.size(width, height, options.units);
  const title = `${name}, ${size}`;
  sink.add('pieces', { kind: 'group', role: 'piece', title, data: { pieceId: piece.id }, items });

  const right = left + drawnWidth;
  const down = top + drawnHeight;
  sink.add(
    'rulers',
    dimensionLine([left, down + GAP_MM], [right, down + GAP_MM]),
    dimensionLine([left - GAP_MM, top], [left - GAP_MM, down]),
  );
  const lines = [];
  const across = sink.length(width, options.units);
  const upright = sink.length(height, options.units);
  const wide = (text: string) => textWidth(text, TEXT.note, 'dimension-text');
  if (wide(across) <= drawnWidth && wide(upright) <= drawnHeight) {
    const baseline = down + GAP_MM + 1.2 + TEXT.note * CAP_HEIGHT;
    const middleX = left + drawnWidth / 2;
    sink.text('rulers', 'dimension-text', across, middleX, baseline, TEXT.note, { anchor: 'middle' });
    sink.text('rulers', 'dimension-text', upright, left - GAP_MM - 1.2, top + drawnHeight / 2, TEXT.note, {
      anchor: 'middle',
      rotation: -90,
    });
    lines.push('');
  } else lines.push(size);
  if (sewn) lines.push(`${sink.words.sewLine} + ${sink.length(piece.allowanceMm, options.units)}`);
  if (fold) lines.push(sink.words.opened);
  let bottom = down + GAP_MM + 1.2;
  for (const line of lines) {
    bottom += TEXT.note * LEADING;
    const baseline = bottom - TEXT.note * (LEADING - CAP_HEIGHT);
    sink.text('rulers', 'dimension-text', line, left, baseline, TEXT.note);
  }
  return {
    widthMm: roundUp(Math.max(right, ...lines.map((line) => left + wide(line))) + MARGIN_MM),
    heightMm: roundUp(bottom + MARGIN_MM),
    title,
    description: fold ? sink.words.halfPiece(title) : title,
    lang: sink.language,
    scale,
    frames: [],
    layers: sink.layers(),
  };
}

const roundUp = (mm: number) => Math.ceil(mm * 10) / 10;

function dimensionLine([ax, ay]: DrawnPoint, [bx, by]: DrawnPoint): DrawingItem {
  const level = ay === by;
  const tick = (x: number, y: number): DrawnPoint[] =>
    level
      ? [
          [x, y - 1],
          [x, y + 1],
        ]
      : [
          [x - 1, y],
          [x + 1, y],
        ];
  const line: DrawnPoint[] = [
    [ax, ay],
    [bx, by],
  ];
  return { kind: 'path', role: 'dimension', lines: [line, tick(ax, ay), tick(bx, by)], closed: false };
}

/** The two ends of the edge that lies on a fold. */
function foldOf(piece: Piece): readonly [Point, Point] | null {
  if (piece.foldEdge === null) return null;
  const a = piece.outline[piece.foldEdge];
  const b = piece.outline[(piece.foldEdge + 1) % piece.outline.length];
  return a && b && (a[0] !== b[0] || a[1] !== b[1]) ? [a, b] : null;
}

/** Mirror image of a point in the line of the fold. */
function reflect([x, y]: Point, [[ax, ay], [bx, by]]: readonly [Point, Point]): Point {
  const dx = bx - ax;
  const dy = by - ay;
  const twice = (2 * ((x - ax) * dx + (y - ay) * dy)) / (dx * dx + dy * dy);
  return [2 * ax + twice * dx - x, 2 * ay + twice * dy - y];
}

/** The fold edge as a heavy line, with its word along it outside the drawn half. */
function foldMark([a, b]: readonly [DrawnPoint, DrawnPoint], outline: Ring, words: PlanWords): DrawingItem[] {
  const items: DrawingItem[] = [{ kind: 'path', role: 'fold-edge', lines: [[a, b]], closed: false }];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const name = [words.fold, words.foldShort].find((w) => textWidth(w, TEXT.least, 'fold-name') <= length - 1);
  if (name === undefined) return items;
  const middle: DrawnPoint = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  let angle = (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
  if (angle > 90) angle -= 180;
  if (angle <= -90) angle += 180;
  // In axes along the fold: the half that is drawn lies above it or below, the word on the other side.
  const fold = (turned([middle], -angle)[0] as DrawnPoint)[1];
  const own = turned(outline, -angle);
  const isAbove = own.reduce((sum, [, y]) => sum + y - fold, 0) < 0;
  const baseline = fold + (isAbove ? 1 + TEXT.least * CAP_HEIGHT : -1);
  const [x, y] = turned([[(turned([middle], -angle)[0] as DrawnPoint)[0], baseline]], angle)[0] as DrawnPoint;
  items.push({
    kind: 'text',
    role: 'fold-name',
    x,
    y,
    size: TEXT.least,
    anchor: 'middle',
    rotation: Math.round(angle * 1000) / 1000,
    text: name,
  });
  return items;
}

function dot([x, y]: DrawnPoint): DrawingItem {
  const r = 0.45;
  const lines: DrawnPoint[][] = [
    [
      [x - r, y],
      [x, y - r],
      [x + r, y],
      [x, y + r],
    ],
  ];
  return { kind: 'path', role: 'leader-dot', lines, closed: true };
}
