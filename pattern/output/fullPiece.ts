import type { Outline } from '../../nesting/packing/types.ts';
import type { CutRow, Piece, Project } from '../exchange/project.ts';
import { cutShape, wholeShape } from '../pieces/index.ts';
import { clipRing } from '../plan/clipToBand.ts';
import type { Drawing, DrawingItem, DrawnPoint } from '../plan/index.ts';
import {
  type Bounds,
  bounds,
  type Interval,
  inside,
  type Ring,
  subtract,
  turned,
} from '../plan/intervals.ts';
import { labelPoint } from '../plan/labelPoint.ts';
import { topMark } from '../plan/pieceMarks.ts';
import { CAP_HEIGHT, cleanText, isolate, LEADING, shorten, textWidth } from '../plan/text.ts';
import { TEXT } from '../plan/tokens.ts';
import { countWords, LANG, WORDS } from '../plan/words.ts';
import { formatLength, formatSize, type ShownUnits } from '../units/index.ts';

export interface FullPieceOptions {
  readonly units: ShownUnits;
  /** A half piece is drawn opened out. */
  readonly unfold: boolean;
  /** Boxes on the drawing within one of which the words should stand if they fit there: those of the sheets. */
  readonly rooms?: readonly Bounds[];
}

/** A piece in true size, with the outlines that say which sheets have something on them. */
export interface FullPiece {
  readonly piece: Piece;
  readonly name: string;
  readonly size: string;
  readonly drawing: Drawing;
  /** Cut line on the drawing, y down. */
  readonly outline: Outline;
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
export function drawFullPiece(piece: Piece, project: Project, options: FullPieceOptions): FullPiece {
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
  const size = formatSize(box.maxX - box.minX, box.maxY - box.minY, options.units);
  const keepOut: Ring[] = [];
  if (half.fold && !opened) {
    const [a, b] = [toPage(half.fold[0]), toPage(half.fold[1])];
    path('fold-edge', [[a, b]], false);
  } else if (half.fold) {
    path('crease', [[toPage(half.fold[0]), toPage(half.fold[1])]], false);
  }
  const lines = labelLines(piece, project, size, half.fold !== null && !opened, options);
  const label = labelInRooms(rings, options.rooms ?? [], name, lines) ?? pieceLabel(rings, name, lines);
  if (label) {
    items.push(...label.items);
    keepOut.push(label.box);
  }
  const top = topMark(rings, -piece.topDeg, keepOut);
  if (top) {
    items.push(...top.items);
    keepOut.push(top.box);
  }
  const grain = longGrain(rings, -piece.grainDeg, keepOut);
  if (grain) items.push(grain);
  return {
    piece,
    name,
    size,
    outline,
    drawing: {
      widthMm: box.maxX - box.minX,
      heightMm: box.maxY - box.minY,
      title: `${name}, full size`,
      description: size,
      lang: LANG,
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
  onFold: boolean,
  { units }: FullPieceOptions,
): string[] {
  const rows = project.cutList.filter((row) => row.pieceId === piece.id && countOf(row) > 0);
  const cut = rows.map((row) => {
    const material = project.materials.find((m) => m.id === row.materialId);
    return `${isolate(shorten(cleanText(material?.name ?? row.materialId), 30, 1, 'piece-label'))}: cut ${countWords(row)}`;
  });
  const sewn = piece.line === 'sew' && piece.allowanceMm > 0;
  return [
    ...cut,
    size,
    ...(sewn ? [`cut line ${formatLength(piece.allowanceMm, units)} outside the ${WORDS.sewLine}`] : []),
    ...(onFold ? ['heavy edge on the fold'] : []),
  ];
}

function countOf({ plain, mirrored, onFold }: Pick<CutRow, 'plain' | 'mirrored' | 'onFold'>): number {
  return plain + mirrored + onFold;
}

const LABEL_SIZE_MM = 6;
/** Names are shortened to this width in the size they are drawn in, times that size. */
const NAME_EMS = 18;

type Label = {
  readonly items: DrawingItem[];
  readonly box: Ring;
  readonly lines: number;
  readonly size: number;
};

/** The words on the sheet that has most room for them; null if no sheet has. */
function labelInRooms(
  rings: readonly Ring[],
  rooms: readonly Bounds[],
  name: string,
  lines: readonly string[],
): Label | null {
  const swap = (ring: Ring): Ring => ring.map(([x, y]) => [y, x]);
  let best: Label | null = null;
  for (const { minX, minY, maxX, maxY } of rooms) {
    const inside = rings
      .map((ring) => swap(clipRing(swap(clipRing(ring, minX, maxX)), minY, maxY)))
      .filter((ring) => ring.length > 2);
    const label = inside.length > 0 ? pieceLabel(inside, name, lines) : null;
    if (!label) continue;
    if (!best || label.lines > best.lines || (label.lines === best.lines && label.size > best.size + 0.1)) {
      best = label;
    }
  }
  return best;
}

/** Name and lines in the middle of the piece, as large as fits; the name alone where no more does. */
function pieceLabel(rings: readonly Ring[], name: string, lines: readonly string[]): Label | null {
  const strong = { text: isolate(shorten(name, NAME_EMS, 1, 'piece-name')), role: 'piece-name' } as const;
  const all = [strong, ...lines.map((text) => ({ text, role: 'piece-label' }) as const)];
  for (const block of [all, all.slice(0, 2), [strong]]) {
    for (const rotation of [0, -90]) {
      const ems = Math.max(...block.map(({ text, role }) => textWidth(text, 1, role))) + 1;
      const high = block.length * LEADING + 0.6;
      const back = rings.map((ring) => turned(ring, -rotation));
      const point = labelPoint(back, ems, high, TEXT.least, LABEL_SIZE_MM);
      if (!point) continue;
      const items = block.map(({ text, role }, i): DrawingItem => {
        const baseline = point.y + point.size * ((i - block.length / 2) * LEADING + CAP_HEIGHT + 0.2);
        const [x, y] = turned([[point.x, baseline]], rotation)[0] as DrawnPoint;
        return { kind: 'text', role, x, y, size: point.size, anchor: 'middle', rotation, text };
      });
      const [w, h] = [(ems * point.size) / 2, (high * point.size) / 2];
      const box: DrawnPoint[] = [
        [point.x - w, point.y - h],
        [point.x + w, point.y - h],
        [point.x + w, point.y + h],
        [point.x - w, point.y + h],
      ];
      return { items, box: turned(box, rotation), lines: block.length, size: point.size };
    }
  }
  return null;
}

const GRAIN = { least: 8, share: 0.8, head: 4, side: 1.5, lanes: 23 } as const;

/** A grain line as long as the piece allows, to lay a ruler along, clear of the words. `degrees` clockwise. */
function longGrain(rings: readonly Ring[], degrees: number, keepOut: readonly Ring[]): DrawingItem | null {
  const own = rings.map((ring) => turned(ring, -degrees));
  const clear = keepOut.map((ring) => bounds(turned(ring, -degrees)));
  const { minY, maxY } = bounds(own[0] as Ring);
  let best: { interval: Interval; y: number; score: number } | null = null;
  for (let lane = 1; lane <= GRAIN.lanes; lane++) {
    const y = minY + ((maxY - minY) * lane) / (GRAIN.lanes + 1);
    const shadows = clear
      .filter((box) => box.minY < y + GRAIN.side && box.maxY > y - GRAIN.side)
      .map((box): Interval => [box.minX - 2, box.maxX + 2]);
    for (const [from, to] of subtract(inside(own, y), shadows)) {
      const length = (to - from) * GRAIN.share;
      // Near an edge the line would be taken for a mark of the edge.
      const score = length + Math.min(y - minY, maxY - y, 15);
      if (length >= GRAIN.least && (!best || score > best.score + 1e-6)) {
        const middle = (from + to) / 2;
        best = { interval: [middle - length / 2, middle + length / 2], y, score };
      }
    }
  }
  if (!best) return null;
  const {
    interval: [from, to],
    y,
  } = best;
  const head = Math.min(GRAIN.head, (to - from) / 4);
  const side = (head * GRAIN.side) / GRAIN.head;
  const lines: DrawnPoint[][] = [
    [
      [from, y],
      [to, y],
    ],
    [
      [from + head, y - side],
      [from, y],
      [from + head, y + side],
    ],
    [
      [to - head, y - side],
      [to, y],
      [to - head, y + side],
    ],
  ];
  return { kind: 'path', role: 'grain', lines: lines.map((line) => turned(line, degrees)), closed: false };
}

/** Mirror image of a point in the line of the fold. */
function reflect([x, y]: Point, [[ax, ay], [bx, by]]: readonly [Point, Point]): Point {
  const dx = bx - ax;
  const dy = by - ay;
  const twice = (2 * ((x - ax) * dx + (y - ay) * dy)) / (dx * dx + dy * dy);
  return [2 * ax + twice * dx - x, 2 * ay + twice * dy - y];
}
