import type { ClothLay, Piece, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { DrawingItem, DrawnPoint, PathItem, Role, TextItem } from '../plan/index.ts';
import { rectangle } from '../plan/intervals.ts';
import { DrawingSink } from '../plan/sink.ts';
import { cleanText, isolate, shorten } from '../plan/text.ts';
import { type ShownUnits, unitName } from '../units/index.ts';
import type { FullDrawing } from './fullDrawing.ts';
import { fullLayDrawings } from './fullLay.ts';
import { drawFullPiece } from './fullPiece.ts';
import type { Sheet } from './sheet.ts';
import { outputWords } from './words/index.ts';

/** Dark sheets with light lines in true size, to be thrown onto the cloth by a projector from above. */
export interface ProjectorOptions {
  readonly units: ShownUnits;
  /** English where left out. */
  readonly language?: Language;
  /** Turned over left for right, for cloth that lies face down. Words stay readable. */
  readonly mirrored: boolean;
  /** Half pieces are drawn opened out. */
  readonly unfold: boolean;
}

/** Room for the words at the foot, however narrow the piece, mm: dark paper costs nothing. */
const LEAST_WIDTH_MM = 460;
/** Dark border around what is drawn, mm. */
const BORDER_MM = 40;
/** Side of the calibration page and of its squares, mm, where lengths are metric. */
const CALIBRATION = { sideMm: 500, stepMm: 50, heavyMm: 100 } as const;
/** The same for inches: 20 in, in squares of 2 in, with every tenth inch heavy. */
const CALIBRATION_INCH = { sideMm: 508, stepMm: 50.8, heavyMm: 254 } as const;

/** A grid to set the projector by, then a sheet for each piece. The pieces must be free of errors. */
export function projectorPieceSheets(
  pieces: readonly Piece[],
  project: Project,
  options: ProjectorOptions,
): Sheet[] {
  return [
    calibrationSheet(options.units, options.language),
    ...pieces.map((piece) => darkSheet(drawFullPiece(piece, project, options), project, options)),
  ];
}

/** A grid to set the projector by, then a sheet for each stretch of each cloth with a piece on it. */
export function projectorLaySheets(
  lays: readonly ClothLay[],
  project: Project,
  options: Omit<ProjectorOptions, 'unfold'>,
): Sheet[] {
  return [
    calibrationSheet(options.units, options.language),
    ...fullLayDrawings(lays, project, options).map((full) => darkSheet(full, project, options)),
  ];
}

/** What each line becomes on the dark sheet; roles that are missing are left out. */
const LINES: Partial<Readonly<Record<Role, Role>>> = {
  'piece-edge': 'light-line',
  'fold-edge': 'light-heavy',
  'sew-line': 'light-dashed',
  'inner-line': 'light-dashed',
  crease: 'light-dashed',
  notch: 'light-line',
  grain: 'light-thin',
  direction: 'light-thin',
  flaw: 'light-dashed',
  'cloth-edge': 'light-thin',
  top: 'light-fill',
};

function darkSheet(
  { drawing, name, size }: FullDrawing,
  project: Project,
  { mirrored, units, language = USUAL_LANGUAGE }: Pick<ProjectorOptions, 'mirrored' | 'units' | 'language'>,
): Sheet {
  const width = Math.max(drawing.widthMm, LEAST_WIDTH_MM) + 2 * BORDER_MM;
  const height = drawing.heightMm + 2 * BORDER_MM;
  const said = outputWords(language).projector;
  const sink = darkPage(width, height, language);
  grid(sink, width, height, units);
  const x = (at: number) => BORDER_MM + (mirrored ? drawing.widthMm - at : at);
  const point = ([px, py]: DrawnPoint): DrawnPoint => [x(px), BORDER_MM + py];
  const paint = (items: readonly DrawingItem[]): void => {
    for (const item of items) {
      if (item.kind === 'group') paint(item.items);
      else if (item.kind === 'text') sink.add('labels', lightText(item, point, mirrored));
      else {
        const role = LINES[item.role];
        if (role) sink.add('pieces', lightPath(item, role, point));
      }
    }
  };
  for (const layer of drawing.layers) paint(layer.items);
  const words = [
    name,
    size,
    ...(mirrored ? [said.mirrored] : []),
    isolate(cleanText(project.name)),
    said.full,
  ].join(' · ');
  const text = shorten(words, width - 2 * BORDER_MM, 8, 'light-text');
  sink.text('notes', 'light-text', text, BORDER_MM, height - BORDER_MM / 2 + 3, 8);
  return { bookmark: name, drawing: sink.drawing(width, height, `${name}, ${said.title}`) };
}

function lightPath(item: PathItem, role: Role, point: (p: DrawnPoint) => DrawnPoint): PathItem {
  return { ...item, role, lines: item.lines.map((line) => line.map(point)) };
}

const TURNED = { start: 'end', middle: 'middle', end: 'start' } as const;

/** A word where it belongs, not in mirror writing. */
function lightText(item: TextItem, point: (p: DrawnPoint) => DrawnPoint, mirrored: boolean): TextItem {
  const [x, y] = point([item.x, item.y]);
  const role = item.role === 'piece-name' ? 'light-strong' : 'light-text';
  if (!mirrored) return { ...item, role, x, y };
  // A line of words that rose to the right now rises to the left: turned back it reads upwards again.
  return { ...item, role, x, y, rotation: -item.rotation || 0, anchor: TURNED[item.anchor] };
}

/** The grid beneath: a line every 10 cm (or 5 in) from the corner of what is drawn. */
function grid(sink: DrawingSink, width: number, height: number, units: ShownUnits): void {
  const step = units === 'in' ? 127 : 100;
  const lines: DrawnPoint[][] = [];
  for (let x = BORDER_MM; x <= width - BORDER_MM + 0.1; x += step)
    lines.push([
      [x, 0],
      [x, height],
    ]);
  for (let y = BORDER_MM; y <= height - BORDER_MM + 0.1; y += step)
    lines.push([
      [0, y],
      [width, y],
    ]);
  sink.add('cloth', { kind: 'path', role: 'light-grid', lines, closed: false });
}

/** Squares of known size all over the picture, to be brought onto the squares of a cutting mat. */
function calibrationSheet(units: ShownUnits, language: Language = USUAL_LANGUAGE): Sheet {
  const said = outputWords(language).projector;
  const { sideMm, stepMm, heavyMm } = units === 'in' ? CALIBRATION_INCH : CALIBRATION;
  const size = sideMm + 2 * BORDER_MM;
  const sink = darkPage(size, size, language);
  const count = Math.round(sideMm / stepMm);
  for (let i = 0; i <= count; i++) {
    const at = BORDER_MM + i * stepMm;
    const isHeavy = Math.abs((i * stepMm) % heavyMm) < 0.01 || i === count;
    const lines: DrawnPoint[][] = [
      [
        [at, BORDER_MM],
        [at, BORDER_MM + sideMm],
      ],
      [
        [BORDER_MM, at],
        [BORDER_MM + sideMm, at],
      ],
    ];
    sink.add('cloth', { kind: 'path', role: isHeavy ? 'light-line' : 'light-thin', lines, closed: false });
    const figure = units === 'in' ? String(i * 2) : String(i * 5);
    sink.text('labels', 'light-text', figure, at, BORDER_MM - 4, 7, { anchor: 'middle' });
    sink.text('labels', 'light-text', figure, BORDER_MM - 4, at + 2.5, 7, { anchor: 'end' });
  }
  const [a, b] = [BORDER_MM, BORDER_MM + sideMm];
  const diagonals: DrawnPoint[][] = [
    [
      [a, a],
      [b, b],
    ],
    [
      [a, b],
      [b, a],
    ],
  ];
  sink.add('cloth', { kind: 'path', role: 'light-dashed', lines: diagonals, closed: false });
  const unit = unitName(units === 'in' ? 'in' : 'cm', language);
  sink.text('notes', 'light-strong', said.calibrate, BORDER_MM, size - BORDER_MM / 2, 9);
  sink.text('notes', 'light-text', unit, BORDER_MM - 4, BORDER_MM - 4, 7, { anchor: 'end' });
  sink.text('notes', 'light-text', said.how, BORDER_MM, size - BORDER_MM / 2 + 11, 7);
  return { bookmark: said.calibration, drawing: sink.drawing(size, size, said.calibration) };
}

function darkPage(width: number, height: number, language: Language): DrawingSink {
  const sink = new DrawingSink(language);
  sink.add('page', {
    kind: 'path',
    role: 'dark-page',
    lines: [rectangle(0, 0, width, height)],
    closed: true,
  });
  return sink;
}
