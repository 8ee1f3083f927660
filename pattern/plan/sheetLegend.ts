import type { ShownUnits } from '../units/index.ts';
import type { DrawingItem, DrawnPoint } from './drawing.ts';
import { handFill } from './drawPlaced.ts';
import { hatchLines } from './hatch.ts';
import { rectangle } from './intervals.ts';
import type { LayRow } from './layRows.ts';
import { rulerUnits, scaleBar, scaleBarMm } from './ruler.ts';
import type { DrawingSink } from './sink.ts';
import { CAP_HEIGHT, isolate, LEADING, shorten, textWidth, wrap } from './text.ts';
import { HATCHES, TEXT } from './tokens.ts';
import type { Hand, PlanWords } from './words/index.ts';

export interface LegendContent {
  readonly rows: readonly LayRow[];
  /** One paragraph each. */
  readonly notes: readonly string[];
  /** The one line of caution. */
  readonly caution: string;
  readonly units: ShownUnits;
  readonly scale: number;
  readonly flaws: boolean;
  readonly held: boolean;
  readonly leftOver: boolean;
}

const COLUMN = { least: 88, most: 124, between: 5 } as const;
const ROW_MM = 4;
const AFTER_TABLE_MM = 1.5;
const AFTER_SIGNS_MM = 1.2;
/** Height of the line with the scale, and the room its bars' figures take. */
export const SCALE_ROW_MM = 5;
const SCALE_FIGURE_MM = 14;
const SWATCH = { width: 6.5, height: 2.8 } as const;
const COLUMNS_FROM_ROWS = 5;

/** The line with the scale and its bars. Gives its height and width. */
export function drawScale(
  sink: DrawingSink,
  scale: number,
  units: ShownUnits,
  x: number,
  y: number,
): { height: number; width: number } {
  const words = `${sink.words.scale} 1:${scale}`;
  sink.text('rulers', 'note-strong', words, x, y + 2.2, TEXT.note);
  let at = x + textWidth(words, TEXT.note, 'note-strong') + 3;
  for (const unit of rulerUnits(units)) {
    sink.add('rulers', scaleBar(at, y + 0.5, unit, scale, sink.language));
    at += scaleBarMm(unit, scale) / scale + SCALE_FIGURE_MM;
  }
  return { height: SCALE_ROW_MM, width: at - x };
}

/** The table, the key of signs and the notes, with the top left corner at (x, y). Gives the height taken. */
export function drawLegend(
  sink: DrawingSink,
  content: LegendContent,
  x: number,
  y: number,
  width: number,
  mostHeight: number,
): number {
  const signs = signHeight(content, sink.words, x, width);
  const notes = noteLines(content, width);
  const below = signs + AFTER_SIGNS_MM + notes.length * TEXT.note * LEADING;
  let at = y;
  at += drawTable(sink, content, x, at, width, mostHeight - below);
  at += drawSigns(sink, content, x, at, width) + AFTER_SIGNS_MM;
  for (const { text, strong } of notes) {
    at += TEXT.note * LEADING;
    sink.text('notes', strong ? 'note-strong' : 'note', text, x, at - 0.6, TEXT.note);
  }
  return at - y;
}

function noteLines({ notes, caution }: LegendContent, width: number): { text: string; strong: boolean }[] {
  return [
    ...notes.flatMap((note) => wrap(note, width, TEXT.note, 'note').map((text) => ({ text, strong: false }))),
    ...wrap(caution, width, TEXT.note, 'note-strong').map((text) => ({ text, strong: true })),
  ];
}

function drawTable(
  sink: DrawingSink,
  { rows, units }: LegendContent,
  x: number,
  y: number,
  width: number,
  mostHeight: number,
): number {
  if (rows.length === 0) return 0;
  const fitting = Math.max(1, Math.floor((width + COLUMN.between) / (COLUMN.least + COLUMN.between)));
  const columns = Math.max(1, Math.min(fitting, Math.ceil(rows.length / COLUMNS_FROM_ROWS)));
  const columnWidth = Math.min(COLUMN.most, (width + COLUMN.between) / columns - COLUMN.between);
  const mostRows = Math.max(1, Math.floor((mostHeight - AFTER_TABLE_MM - ROW_MM) / ROW_MM + 1e-6));
  const needed = Math.ceil(rows.length / columns);
  const perColumn = Math.min(needed, mostRows);
  // The last line says what is left out, if anything is.
  const cutOff = needed > mostRows;
  const shown = cutOff ? rows.slice(0, perColumn * columns - 1) : rows;
  const at = columnsOf(sink, rows, units, columnWidth);
  for (let column = 0; column < columns && column * perColumn < rows.length; column++) {
    tableHead(sink, x + column * (columnWidth + COLUMN.between), y, columnWidth, at);
  }
  const place = (i: number) => ({
    x: x + Math.floor(i / perColumn) * (columnWidth + COLUMN.between),
    y: y + ROW_MM * (1 + (i % perColumn)),
  });
  shown.forEach((row, i) => {
    const { x: left, y: top } = place(i);
    tableRow(sink, row, units, left, top, columnWidth, at);
  });
  if (cutOff) {
    const at = place(shown.length);
    const left = rows.length - shown.length;
    sink.text('notes', 'table-text', sink.words.moreRows(left), at.x, at.y + 2.8, TEXT.note);
  }
  return ROW_MM * (1 + perColumn) + AFTER_TABLE_MM;
}

const handText = (row: LayRow): string => `${row.placements} × ${row.words.short}`;
const sizeText = (sink: DrawingSink, row: LayRow, units: ShownUnits): string =>
  sink.size(row.widthMm, row.heightMm, units);

/** Clear space between the hand and the size of a row. */
const BETWEEN_TEXTS_MM = 1.5;

/** Where the columns begin, from the left and from the right of a row; the hand has what room the longest takes. */
function columnsOf(sink: DrawingSink, rows: readonly LayRow[], units: ShownUnits, width: number) {
  const size = 25;
  const cut = 12;
  const taken = rows.map(
    (row) =>
      textWidth(handText(row), TEXT.least, 'table-text') +
      textWidth(sizeText(sink, row, units), TEXT.least, 'table-text'),
  );
  const hand = Math.max(15, Math.max(...taken) + BETWEEN_TEXTS_MM - (size - 2));
  return {
    swatch: 5.5,
    name: 13.5,
    hand: width - cut - size - hand,
    size: width - cut - 2,
    cut: width,
  };
}

type Columns = ReturnType<typeof columnsOf>;

function tableHead(sink: DrawingSink, x: number, y: number, width: number, at: Columns): void {
  const baseline = y + 2.8;
  sink.text('notes', 'table-head', sink.words.table.piece, x + at.name, baseline, TEXT.least);
  sink.text('notes', 'table-head', sink.words.table.hand, x + at.hand, baseline, TEXT.least);
  sink.text('notes', 'table-head', sink.words.table.size, x + at.size, baseline, TEXT.least, {
    anchor: 'end',
  });
  sink.text('notes', 'table-head', sink.words.table.cut, x + at.cut, baseline, TEXT.least, { anchor: 'end' });
  rule(sink, x, y + ROW_MM - 0.2, width);
}

function rule(sink: DrawingSink, x: number, y: number, width: number): void {
  const lines: DrawnPoint[][] = [
    [
      [x, y],
      [x + width, y],
    ],
  ];
  sink.add('notes', { kind: 'path', role: 'table-line', lines, closed: false });
}

function tableRow(
  sink: DrawingSink,
  row: LayRow,
  units: ShownUnits,
  x: number,
  y: number,
  width: number,
  at: Columns,
): void {
  const baseline = y + 2.8;
  sink.text('notes', 'table-strong', row.key, x, baseline, TEXT.note);
  sink.add('notes', ...swatch(row.hand, x + at.swatch, y + 0.6));
  const name = isolate(shorten(row.name, at.hand - at.name - 1, TEXT.note, 'table-text'));
  sink.text('notes', 'table-text', name, x + at.name, baseline, TEXT.note);
  sink.text('notes', 'table-text', handText(row), x + at.hand, baseline, TEXT.least);
  const size = sizeText(sink, row, units);
  sink.text('notes', 'table-text', size, x + at.size, baseline, TEXT.least, { anchor: 'end' });
  if (row.cut !== undefined && row.asked !== undefined) {
    const role = row.cut < row.asked ? 'warning' : 'table-text';
    sink.text('notes', role, `${row.cut} / ${row.asked}`, x + at.cut, baseline, TEXT.note, { anchor: 'end' });
  }
  rule(sink, x, y + ROW_MM - 0.2, width);
}

function swatch(hand: Hand, x: number, y: number): DrawingItem[] {
  const ring = rectangle(x, y, SWATCH.width, SWATCH.height);
  return [...handFill(hand, [ring], []), { kind: 'path', role: 'piece-edge', lines: [ring], closed: true }];
}

interface Sign {
  readonly words: string;
  readonly draw: (x: number, y: number) => DrawingItem[];
}

function signsOf({ rows, flaws, held, leftOver }: LegendContent, words: PlanWords): Sign[] {
  const signs = (['plain', 'mirrored', 'pair', 'fold', 'either'] as const).flatMap((hand): Sign[] => {
    const row = rows.find((entry) => entry.hand === hand);
    return row ? [{ words: row.words.meaning, draw: (x, y) => swatch(hand, x, y) }] : [];
  });
  if (rows.length > 0) {
    signs.push(
      { words: words.signs.grain, draw: grainSign },
      { words: words.signs.top, draw: topSign },
      { words: words.signs.tag, draw: () => [] },
    );
  }
  if (held) signs.push({ words: words.heldMeaning, draw: heldSign });
  if (flaws) signs.push({ words: words.signs.flaw, draw: hatched('flaw', 'flaw-hatch', HATCHES.flaw) });
  if (leftOver) {
    signs.push({ words: words.leftOver, draw: hatched('offcut', 'offcut-hatch', HATCHES.offcut) });
  }
  return signs;
}

function hatched(
  role: 'flaw' | 'offcut',
  hatchRole: 'flaw-hatch' | 'offcut-hatch',
  hatch: { angleDeg: number; spacing: number; double: number },
): Sign['draw'] {
  return (x, y) => {
    const ring = rectangle(x, y, SWATCH.width, SWATCH.height);
    return [
      { kind: 'path', role, lines: [ring], closed: true },
      { kind: 'path', role: hatchRole, lines: hatchLines([ring], hatch), closed: false },
    ];
  };
}

function heldSign(x: number, y: number): DrawingItem[] {
  const ring = rectangle(x, y, SWATCH.width, SWATCH.height);
  return [
    { kind: 'path', role: 'held-hatch', lines: hatchLines([ring], HATCHES.held), closed: false },
    { kind: 'path', role: 'piece-edge', lines: [ring], closed: true },
  ];
}

function grainSign(x: number, y: number): DrawingItem[] {
  const at = y + SWATCH.height / 2;
  const end = x + SWATCH.width;
  const lines: DrawnPoint[][] = [
    [
      [x, at],
      [end, at],
    ],
    [
      [x + 1.1, at - 0.5],
      [x, at],
      [x + 1.1, at + 0.5],
    ],
    [
      [end - 1.1, at - 0.5],
      [end, at],
      [end - 1.1, at + 0.5],
    ],
  ];
  return [{ kind: 'path', role: 'grain', lines, closed: false }];
}

function topSign(x: number, y: number): DrawingItem[] {
  const middle = x + SWATCH.width / 2;
  const triangle: DrawnPoint[] = [
    [middle - 0.9, y + 2.2],
    [middle, y + 0.7],
    [middle + 0.9, y + 2.2],
  ];
  return [{ kind: 'path', role: 'top', lines: [triangle], closed: true }];
}

const SIGN_ROW_MM = 4.2;
const BETWEEN_SIGNS_MM = 4;

function signPlaces(content: LegendContent, words: PlanWords, x: number, width: number) {
  let at = x;
  let row = 0;
  return signsOf(content, words).map((sign) => {
    const room = sign.draw(0, 0).length > 0 ? SWATCH.width + 1.4 : 0;
    const needed = room + textWidth(sign.words, TEXT.note, 'note');
    if (at > x && at + needed > x + width) {
      at = x;
      row++;
    }
    const place = { sign, x: at, row, room };
    at += needed + BETWEEN_SIGNS_MM;
    return place;
  });
}

function signHeight(content: LegendContent, words: PlanWords, x: number, width: number): number {
  const places = signPlaces(content, words, x, width);
  return places.length === 0 ? 0 : ((places.at(-1)?.row ?? 0) + 1) * SIGN_ROW_MM;
}

function drawSigns(sink: DrawingSink, content: LegendContent, x: number, y: number, width: number): number {
  for (const place of signPlaces(content, sink.words, x, width)) {
    const top = y + place.row * SIGN_ROW_MM;
    sink.add('notes', ...place.sign.draw(place.x, top + 0.5));
    const baseline = top + 0.5 + SWATCH.height / 2 + TEXT.note * CAP_HEIGHT * 0.5;
    sink.text('notes', 'note', place.sign.words, place.x + place.room, baseline, TEXT.note);
  }
  return signHeight(content, sink.words, x, width);
}
