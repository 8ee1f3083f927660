import type { Project } from '../exchange/project.ts';
import type { Language } from '../language.ts';
import type { Drawing } from '../plan/index.ts';
import { rectangle } from '../plan/intervals.ts';
import type { DrawingSink } from '../plan/sink.ts';
import { cleanText, isolate, LEADING, shorten, textWidth, wrap } from '../plan/text.ts';
import { PAGE_MARGIN_MM, PAPERS, TEXT } from '../plan/tokens.ts';
import type { ShownUnits } from '../units/index.ts';
import { blankPage, type PageTable, TableRows } from './pageTable.ts';
import type { Sheet, SheetPrint, SheetWindow } from './sheet.ts';
import { outputWords } from './words/index.ts';

const AFTER_WINDOW_MM = 3;
const STEP = { size: 3.2, box: 3.6, number: 12, text: 18, between: 1.8 } as const;
/** Width of the names before rows of boxes. */
const NAME_MM = 64;
const LEAST_TITLE_MM = 3.4;
const NOTE_LINE_MM = TEXT.note * LEADING + 0.2;
const AFTER_NOTES_MM = 3;
/** A heading keeps no more than this with it. */
const MOST_KEPT_MM = 200;
/** A row higher than this may go on overleaf. */
const MOST_ROW_MM = 40;

/** The project's name, and how fine lengths are told. */
export function pageSubtitle(project: Project, units: ShownUnits, language: Language): string {
  const words = outputWords(language);
  return `${isolate(cleanText(project.name))} · ${units === 'in' ? words.toSixteenths : words.toMillimetres(units)}`;
}

/** Pages written from top to bottom. */
export class Pages {
  readonly #language: Language;
  readonly #title: string;
  readonly #subtitle: string;
  readonly #width: number;
  readonly #height: number;
  readonly #done: Sheet[] = [];
  #sink: DrawingSink;
  #windows: SheetWindow[] = [];
  #prints: SheetPrint[] = [];
  #alsoHere: string[] = [];
  #y = 0;

  constructor(title: string, subtitle: string, page: keyof typeof PAPERS, language: Language) {
    this.#language = language;
    this.#title = title;
    this.#subtitle = subtitle;
    ({ width: this.#width, height: this.#height } = PAPERS[page]);
    this.#sink = this.#begin();
  }

  /** Width that can be written on, mm. */
  get #inner(): number {
    return this.#width - 2 * PAGE_MARGIN_MM;
  }

  #begin(): DrawingSink {
    const sink = blankPage(this.#width, this.#height, this.#language);
    const y = PAGE_MARGIN_MM + TEXT.title * 0.8;
    // A long title is set smaller before it is cut short: its end tells what the page is.
    const fitting = (TEXT.title * this.#inner) / textWidth(this.#title, TEXT.title, 'title');
    const size = Math.min(TEXT.title, Math.max(LEAST_TITLE_MM, fitting * 0.99));
    const title = shorten(this.#title, this.#inner, size, 'title');
    sink.text('notes', 'title', title, PAGE_MARGIN_MM, y, size);
    sink.text(
      'notes',
      'subtitle',
      shorten(this.#subtitle, this.#inner, 3, 'subtitle'),
      PAGE_MARGIN_MM,
      y + 4.8,
      3,
    );
    this.#y = y + 6.6;
    return sink;
  }

  #room(height: number): void {
    if (this.#y + height <= this.#height - PAGE_MARGIN_MM) return;
    this.#end();
    this.#sink = this.#begin();
  }

  #end(): void {
    const first = this.#done.length === 0;
    const drawing = this.#sink.drawing(this.#width, this.#height, this.#title, this.#subtitle);
    this.#done.push({
      drawing,
      ...(first ? { bookmark: this.#title } : {}),
      ...(this.#alsoHere.length > 0 ? { alsoHere: this.#alsoHere } : {}),
      ...(this.#prints.length > 0 ? { prints: this.#prints } : {}),
      ...(this.#windows.length > 0 ? { windows: this.#windows } : {}),
    });
    this.#windows = [];
    this.#prints = [];
    this.#alsoHere = [];
  }

  note(words: string, strong = false): void {
    const role = strong ? 'note-strong' : 'note';
    for (const line of wrap(words, this.#inner, TEXT.note, role)) {
      this.#room(NOTE_LINE_MM);
      this.#y += NOTE_LINE_MM;
      this.#sink.text('notes', role, line, PAGE_MARGIN_MM, this.#y, TEXT.note);
    }
  }

  /**
   * A table under a heading, in the contents by its title: here if it has room, else from the next page on.
   * @param heading what it is, beneath the title of the page
   */
  table(heading: string, table: PageTable): void {
    const lines = new TableRows(table, this.#width);
    const notes = table.notes.flatMap((note) => wrap(note, this.#inner, TEXT.note, 'note')).length;
    const before = notes * NOTE_LINE_MM + AFTER_NOTES_MM;
    this.head(heading, before + lines.height(table.rows.length));
    this.#alsoHere.push(table.title);
    for (const note of table.notes) this.note(note);
    let next = 0;
    while (next < table.rows.length) {
      this.#room(AFTER_NOTES_MM + lines.height(1));
      const top = lines.head(this.#sink, this.#y + AFTER_NOTES_MM);
      const drawn = lines.rows(this.#sink, next, top, this.#height - PAGE_MARGIN_MM);
      next = drawn.next;
      this.#y = drawn.y;
    }
    this.#y += AFTER_NOTES_MM;
  }

  /** @param before room for so much is kept under it on its page, mm */
  head(words: string, before = 6): void {
    this.#room(8 + Math.min(before, MOST_KEPT_MM));
    this.#y += 7;
    const shown = shorten(words, this.#inner, 3.6, 'fact');
    this.#sink.text('notes', 'fact', shown, PAGE_MARGIN_MM, this.#y, 3.6);
    this.#y += 0.8;
  }

  /**
   * A drawing, or the part of it from `fromX` so wide.
   * @param prints under it, measured as the drawing is
   */
  window(
    drawing: Drawing,
    {
      fromX = 0,
      width = drawing.widthMm,
      prints = [],
    }: { readonly fromX?: number; readonly width?: number; readonly prints?: readonly SheetPrint[] } = {},
  ): void {
    this.#room(drawing.heightMm);
    const clip = { x: PAGE_MARGIN_MM, y: this.#y, width, height: drawing.heightMm };
    const [dx, dy] = [clip.x - fromX, clip.y];
    this.#windows.push({ drawing, x: dx, y: dy, clip });
    for (const { rings, tile, matrix } of prints) {
      const [a, b, c, d, e, f] = matrix;
      this.#prints.push({
        rings: rings.map((ring) => ring.map(([x, y]) => [x + dx, y + dy] as const)),
        tile,
        matrix: [a, b, c, d, e + dx, f + dy],
      });
    }
    this.#y += drawing.heightMm + AFTER_WINDOW_MM;
  }

  /** A box to tick, the step's number, and its lines: what, where (strong), what comes of it. */
  step(number: string, what: string, at: string, gives: string, done = false): void {
    const { size } = STEP;
    const width = this.#inner - STEP.text;
    const lines = [
      ...wrap(what, width, size, 'note').map((text) => ({ text, role: 'note' as const })),
      ...(at === ''
        ? []
        : wrap(at, width, size, 'note-strong').map((text) => ({ text, role: 'note-strong' as const }))),
      ...(gives === ''
        ? []
        : wrap(gives, width, size, 'note').map((text) => ({ text, role: 'note' as const }))),
    ];
    this.#room(Math.min(lines.length, 8) * size * LEADING + STEP.between);
    this.#y += STEP.between;
    this.#box(PAGE_MARGIN_MM, this.#y + 0.5, done);
    if (number !== '') {
      this.#sink.text(
        'notes',
        'cut-number',
        number,
        PAGE_MARGIN_MM + STEP.number,
        this.#y + size * LEADING,
        4,
        {
          anchor: 'end',
        },
      );
    }
    for (const { text, role } of lines) {
      this.#room(size * LEADING);
      this.#y += size * LEADING;
      this.#sink.text('notes', role, text, PAGE_MARGIN_MM + STEP.text - 3, this.#y, size);
    }
    this.#y += 0.6;
  }

  /** A row of boxes to tick under a name: what each is, crossed where it is done. */
  boxes(
    name: string,
    detail: string,
    boxes: readonly { readonly words: string; readonly done: boolean }[],
  ): void {
    const { size, box } = STEP;
    const column = NAME_MM;
    const cells = boxes.map(({ words, done }) => ({
      words,
      done,
      width: box + 1.2 + textWidth(words, size, 'note') + 3.5,
    }));
    const rows: (typeof cells)[] = [[]];
    let used = 0;
    for (const cell of cells) {
      if (used + cell.width > this.#inner - column && (rows.at(-1)?.length ?? 0) > 0) {
        rows.push([]);
        used = 0;
      }
      rows.at(-1)?.push(cell);
      used += cell.width;
    }
    const names = wrap(name, column - 3, size, 'note-strong').slice(0, 2);
    const details = wrap(detail, column - 3, TEXT.note, 'note').slice(0, 2);
    const left = names.length * size * LEADING + details.length * TEXT.note * LEADING;
    const row = box + 2.2;
    const height = Math.max(left, rows.length * row) + 2;
    this.#room(Math.min(height, MOST_ROW_MM));
    const top = this.#y;
    let y = top + 0.6;
    for (const line of names) {
      y += size * LEADING;
      this.#sink.text('notes', 'note-strong', line, PAGE_MARGIN_MM, y, size);
    }
    for (const line of details) {
      y += TEXT.note * LEADING;
      this.#sink.text('notes', 'note', line, PAGE_MARGIN_MM, y, TEXT.note);
    }
    for (const cellsOfRow of rows) {
      if (this.#y + row > this.#height - PAGE_MARGIN_MM) this.#room(row);
      let x = PAGE_MARGIN_MM + column;
      for (const cell of cellsOfRow) {
        this.#box(x, this.#y + 1.4, cell.done);
        this.#sink.text('notes', 'note', cell.words, x + box + 1.2, this.#y + 1.4 + box - 0.6, size);
        x += cell.width;
      }
      this.#y += row;
    }
    this.#y = Math.max(this.#y, y) + 1.4;
    const line = [
      [PAGE_MARGIN_MM, this.#y],
      [this.#width - PAGE_MARGIN_MM, this.#y],
    ] as const;
    this.#sink.add('notes', { kind: 'path', role: 'table-line', lines: [line], closed: false });
  }

  #box(x: number, y: number, done: boolean): void {
    const side = STEP.box;
    this.#sink.add('notes', {
      kind: 'path',
      role: 'ruler',
      lines: [rectangle(x, y, side, side)],
      closed: true,
    });
    if (!done) return;
    this.#sink.add('notes', {
      kind: 'path',
      role: 'notch',
      closed: false,
      lines: [
        [
          [x + 0.5, y + 0.5],
          [x + side - 0.5, y + side - 0.5],
        ],
        [
          [x + side - 0.5, y + 0.5],
          [x + 0.5, y + side - 0.5],
        ],
      ],
    });
  }

  close(): Sheet[] {
    this.#end();
    return this.#done;
  }
}
