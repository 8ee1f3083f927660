import type { ClothLay, Project } from '../exchange/project.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { DrawnPoint } from '../plan/index.ts';
import { bounds, cosSin, type Ring, rectangle, turned } from '../plan/intervals.ts';
import { labelPoint } from '../plan/labelPoint.ts';
import { DrawingSink } from '../plan/sink.ts';
import { cleanText, isolate, LEADING, shorten, textWidth } from '../plan/text.ts';
import { PAGE_MARGIN_MM, PAPERS, SCALES, TEXT } from '../plan/tokens.ts';
import { Pages } from './pages.ts';
import type { PlanSheetOptions } from './planSheets.ts';
import { type PrintedPiece, type PrintedStretch, printedStretches } from './printPreview.ts';
import { countCopies, isPlainPicture } from './printTile.ts';
import type { Sheet, SheetPrint } from './sheet.ts';
import { type OutputWords, outputWords } from './words/index.ts';

type PrintWords = OutputWords['print'];

/** The whole cloth is drawn in one row down to this scale; smaller, and it is cut into rows. */
const ONE_ROW_SCALE = 20;
/** A row of cloth is not higher than this, mm. */
const MOST_ROW_MM = 150;
/** More pictures than this on one shape would only make the file large: they would be seen as grey. */
const MOST_COPIES = 6_000;
const TAG = { size: 3, least: 1.8 } as const;
/** Longest side of the largest piece where few are shown, and where many are, mm. */
const SIDE = { few: 80, many: 42, manyFrom: 40 } as const;
const CELL = { between: 5, least: 30, after: 2.5 } as const;
const EDGE_MM = 1;
/** Words under a picture that stay with it and its heading, mm. */
const AFTER_HEAD_MM = 10;

/**
 * What the cut pieces of a lay will look like on its print: the cloth with the print under the pieces, then each piece
 * upright, side by side; where the print is not upright on a piece, that is said. Empty for cloth without a picture of
 * its repeat.
 */
export function printSheets(lay: ClothLay, project: Project, options: PlanSheetOptions): Sheet[] {
  const cloth = project.cloths.find(({ id }) => id === lay.clothId);
  if (cloth?.printPicture === undefined || !isPlainPicture(cloth.printPicture)) return [];
  const stretches = printedStretches(lay, project);
  if (stretches.length === 0) return [];
  const { language = USUAL_LANGUAGE } = options;
  const words = outputWords(language).print;
  const subtitle = isolate(cleanText(project.name));
  const pages = new Pages(words.title(isolate(cleanText(cloth.name))), subtitle, options.page, language);
  pages.note(words.lead);
  if (stretches.some(({ isDoubled }) => isDoubled)) pages.note(words.opened);
  const inner = PAPERS[options.page].width - 2 * PAGE_MARGIN_MM;
  for (const stretch of stretches) {
    const scale = clothScale(stretch, inner);
    const part = stretches.length > 1 ? `${words.part(stretch.segment + 1)} · ` : '';
    pages.head(`${part}${words.scale(scale)}`, stretch.height / scale + 2 * EDGE_MM + AFTER_HEAD_MM);
    drawCloth(pages, stretch, inner, language);
    pages.note(...judged(stretch.pieces, words));
  }
  const pieces = stretches.flatMap((stretch) => stretch.pieces.map((piece) => ({ piece, stretch })));
  drawPieces(pages, pieces, inner, language);
  return pages.close();
}

/** How the print stands on all of them, in a sentence; strong where something is wrong. */
function judged(pieces: readonly PrintedPiece[], words: PrintWords): [words: string, strong: boolean] {
  const wrong = pieces.filter(isWrong).map((piece) => nameOf(piece, words));
  if (wrong.length > 0) return [words.wrong([...new Set(wrong)].join(', ')), true];
  return [pieces.some(({ print }) => print === 'up') ? words.allUp : words.unknown, false];
}

const isWrong = ({ print }: PrintedPiece): boolean => print === 'upsideDown' || print === 'sideways';

function nameOf({ tag, name, hand }: PrintedPiece, words: PrintWords): string {
  const which = words.hands[hand];
  return `${tag} ${isolate(name)}${which === '' ? '' : `, ${which}`}`;
}

function clothScale({ width, height }: PrintedStretch, inner: number): number {
  const fits = (scale: number) => height / scale <= MOST_ROW_MM;
  return (
    SCALES.find((scale) => fits(scale) && (scale >= ONE_ROW_SCALE || width / scale <= inner - 2 * EDGE_MM)) ??
    (SCALES.at(-1) as number)
  );
}

/** The cloth with its print and its pieces, in as many rows as it takes. */
function drawCloth(pages: Pages, stretch: PrintedStretch, inner: number, language: Language): void {
  const said = outputWords(language).print;
  const { width, height, tile, outline, pieces } = stretch;
  const scale = clothScale(stretch, inner);
  const toPage = ([x, y]: DrawnPoint): DrawnPoint => [x / scale + EDGE_MM, y / scale + EDGE_MM];
  const edge = (outline ?? rectangle(0, 0, width, height)).map(toPage);
  const sink = new DrawingSink(language);
  sink.add('cloth', { kind: 'path', role: 'cloth-edge', lines: [edge], closed: true });
  for (const piece of pieces) {
    const rings = piece.rings.map((ring) => ring.map(toPage));
    outlined(sink, rings, isWrong(piece));
    const words = isWrong(piece) ? `${piece.tag} ${said.short[piece.print as 'upsideDown']}` : piece.tag;
    if (!tagged(sink, rings, words, isWrong(piece))) tagged(sink, rings, piece.tag, isWrong(piece));
  }
  const drawing = sink.drawing(width / scale + 2 * EDGE_MM, height / scale + 2 * EDGE_MM, '');
  const rows = Math.max(1, Math.ceil(drawing.widthMm / inner - 1e-9));
  const step = drawing.widthMm / rows;
  for (let row = 0; row < rows; row++) {
    const [from, to] = [row * step, (row + 1) * step];
    const seen = rows === 1 ? edge : within(edge, from, to);
    const print: SheetPrint = { rings: [seen], tile, matrix: [1 / scale, 0, 0, 1 / scale, EDGE_MM, EDGE_MM] };
    const isFine = countCopies(print) > MOST_COPIES;
    if (isFine && row === 0) pages.note(said.tooFine);
    pages.window(drawing, { fromX: from, width: step, prints: isFine ? [] : [print] });
  }
}

/** The part of an edge between two lines across the page; pieces are clipped by the window that shows the row. */
function within(edge: Ring, from: number, to: number): Ring {
  const box = bounds(edge);
  const [left, right] = [Math.max(from, box.minX), Math.min(to, box.maxX)];
  return rectangle(left, box.minY, right - left, box.maxY - box.minY);
}

/** Light about a dark line, so that it is seen on any print. */
function outlined(sink: DrawingSink, rings: readonly Ring[], wrong: boolean): void {
  for (const role of ['print-halo', wrong ? 'print-wrong' : 'print-edge'] as const) {
    sink.add('pieces', { kind: 'path', role, lines: rings, closed: true });
  }
}

/** Words on a white ground inside an outline, as large as there is room. */
function tagged(sink: DrawingSink, rings: readonly Ring[], words: string, wrong: boolean): boolean {
  const role = wrong ? 'print-words' : 'piece-name';
  const [width, height] = [textWidth(words, TAG.size, role) + 1.6, TAG.size + 0.9];
  const at = labelPoint(rings, width, height, TAG.least / TAG.size, 1);
  if (!at) return false;
  const size = TAG.size * at.size;
  const [w, h] = [width * at.size, height * at.size];
  const box = rectangle(at.x - w / 2, at.y - h / 2, w, h);
  sink.add('labels', { kind: 'path', role: 'print-tag', lines: [box], closed: true });
  sink.text('labels', role, words, at.x, at.y + size * 0.36, size, { anchor: 'middle' });
  return true;
}

interface Cell {
  readonly piece: PrintedPiece;
  readonly stretch: PrintedStretch;
  readonly width: number;
  readonly height: number;
  /** Width with the words beneath. */
  readonly wide: number;
}

/** Every piece upright, all in one scale, in rows. */
function drawPieces(
  pages: Pages,
  pieces: readonly { readonly piece: PrintedPiece; readonly stretch: PrintedStretch }[],
  inner: number,
  language: Language,
): void {
  const words = outputWords(language).print;
  const longest = Math.max(
    ...pieces.map(({ piece: { box } }) => Math.max(box.maxX - box.minX, box.maxY - box.minY)),
  );
  const side = pieces.length < SIDE.manyFrom ? SIDE.few : SIDE.many;
  const scale = SCALES.find((each) => longest / each <= side) ?? (SCALES.at(-1) as number);
  const cells = pieces.map(({ piece, stretch }): Cell => {
    const { minX, maxX, minY, maxY } = piece.box;
    const width = (maxX - minX) / scale + 2 * EDGE_MM;
    return {
      piece,
      stretch,
      width,
      height: (maxY - minY) / scale + 2 * EDGE_MM,
      wide: Math.max(width, CELL.least),
    };
  });
  const [first] = cells;
  pages.head(`${words.pieces} · ${words.scale(scale)}`, (first?.height ?? 0) + AFTER_HEAD_MM);
  let row: Cell[] = [];
  let used = 0;
  const flush = (): void => {
    if (row.length > 0) drawRow(pages, row, scale, inner, language);
    row = [];
    used = 0;
  };
  for (const cell of cells) {
    if (used + cell.wide > inner) flush();
    row.push(cell);
    used += cell.wide + CELL.between;
  }
  flush();
}

function drawRow(pages: Pages, row: readonly Cell[], scale: number, inner: number, language: Language): void {
  const words = outputWords(language).print;
  const high = Math.max(...row.map(({ height }) => height));
  const line = TEXT.note * LEADING;
  const sink = new DrawingSink(language);
  const prints: SheetPrint[] = [];
  let x = 0;
  for (const { piece, stretch, width, height, wide } of row) {
    const left = x + (wide - width) / 2 + EDGE_MM - piece.box.minX / scale;
    const top = high - height + EDGE_MM - piece.box.minY / scale;
    const rings = piece.rings.map((ring) =>
      turned(ring, piece.turn).map(([u, v]): DrawnPoint => [u / scale + left, v / scale + top]),
    );
    const [cos, sin] = cosSin(piece.turn);
    const print: SheetPrint = {
      rings,
      tile: stretch.tile,
      matrix: [cos / scale, sin / scale, -sin / scale, cos / scale, left, top],
    };
    if (countCopies(print) <= MOST_COPIES) prints.push(print);
    outlined(sink, rings, isWrong(piece));
    const middle = x + wide / 2;
    const name = shorten(nameOf(piece, words), wide + CELL.between - 1, TEXT.note, 'note-strong');
    sink.text('labels', 'note-strong', name, middle, high + line, TEXT.note, { anchor: 'middle' });
    const stands = words.stands[piece.print];
    const role = 'print-words';
    sink.text('labels', role, stands, middle, high + 2 * line, TEXT.least, { anchor: 'middle' });
    x += wide + CELL.between;
  }
  pages.window(sink.drawing(inner, high + 2 * line + CELL.after, ''), { prints });
}
