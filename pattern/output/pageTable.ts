import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { Drawing } from '../plan/index.ts';
import { rectangle } from '../plan/intervals.ts';
import { DrawingSink } from '../plan/sink.ts';
import { LEADING, shorten, textWidth, wrap } from '../plan/text.ts';
import { PAGE_MARGIN_MM, PAPERS, TEXT } from '../plan/tokens.ts';

export interface TableColumn {
  readonly title: string;
  /** Share of the page's width. */
  readonly share: number;
  readonly align?: 'start' | 'end';
  readonly strong?: boolean;
}

export interface PageTable {
  readonly title: string;
  readonly subtitle: string;
  /** Sentences above the table. */
  readonly notes: readonly string[];
  /** Names over groups of columns: from column, to column (both counted from 0). */
  readonly groups?: readonly { readonly title: string; readonly from: number; readonly to: number }[];
  readonly columns: readonly TableColumn[];
  readonly rows: readonly (readonly string[])[];
}

const ROW_MM = 5.2;
const CELL_MM = 1;
const HEAD_MM = 3.6;
const AFTER_GROUPS_MM = 0.6;
const AFTER_HEAD_MM = 1.4;
/** Between a row's words and the line under it. */
const UNDER_ROW_MM = 1.6;

/** A white page of a paper size, to be drawn on. */
export function blankPage(width: number, height: number, language: Language): DrawingSink {
  const sink = new DrawingSink(language);
  sink.add('page', { kind: 'path', role: 'page', lines: [rectangle(0, 0, width, height)], closed: true });
  return sink;
}

/** Draws a table's head and rows between two margins of a page, from top to bottom. */
export class TableRows {
  readonly #table: Pick<PageTable, 'groups' | 'columns' | 'rows'>;
  readonly #width: number;
  /** Left edges of the columns, and the right one of the last. */
  readonly #edges: readonly number[];

  /** @param width of the page */
  constructor(table: Pick<PageTable, 'groups' | 'columns' | 'rows'>, width: number) {
    this.#table = table;
    this.#width = width;
    const inner = width - 2 * PAGE_MARGIN_MM;
    const total = table.columns.reduce((sum, column) => sum + column.share, 0);
    const edges = [PAGE_MARGIN_MM];
    for (const { share } of table.columns) edges.push((edges.at(-1) as number) + (share / total) * inner);
    this.#edges = edges;
  }

  /** What head and so many rows take, mm. */
  height(rows: number): number {
    const groups = this.#table.groups ? HEAD_MM + AFTER_GROUPS_MM : 0;
    return groups + HEAD_MM + AFTER_HEAD_MM + rows * ROW_MM;
  }

  /** Names of columns and groups. @returns where the rows begin */
  head(sink: DrawingSink, top: number): number {
    let y = top;
    if (this.#table.groups) {
      y += HEAD_MM;
      for (const { title, from, to } of this.#table.groups) this.#group(sink, title, from, to, y);
      y += AFTER_GROUPS_MM;
    }
    y += HEAD_MM;
    this.#table.columns.forEach((column, i) => {
      this.#cell(sink, 'table-head', column.title, i, y, TEXT.note);
    });
    y += AFTER_HEAD_MM;
    this.#line(sink, y);
    return y;
  }

  /** As many rows as have room above `bottom`, from the one with this number. @returns the next one, and where it ended */
  rows(sink: DrawingSink, first: number, top: number, bottom: number): { next: number; y: number } {
    const { rows } = this.#table;
    let y = top;
    let next = first;
    while (next < rows.length && y + ROW_MM <= bottom) {
      (rows[next] as readonly string[]).forEach((words, i) => {
        this.#cell(sink, 'table-text', words, i, y + ROW_MM - UNDER_ROW_MM, 2.8);
      });
      y += ROW_MM;
      this.#line(sink, y);
      next += 1;
    }
    return { next, y };
  }

  #group(sink: DrawingSink, title: string, from: number, to: number, y: number): void {
    const [left, right] = [this.#edges[from] as number, (this.#edges[to + 1] as number) - CELL_MM];
    const words = shorten(title, right - left - CELL_MM, TEXT.note, 'table-strong');
    sink.text('notes', 'table-strong', words, right, y, TEXT.note, { anchor: 'end' });
    const under = [
      [left + CELL_MM * 2, y + 1],
      [right, y + 1],
    ] as const;
    sink.add('notes', { kind: 'path', role: 'table-line', closed: false, lines: [under] });
  }

  #cell(
    sink: DrawingSink,
    row: 'table-head' | 'table-text',
    words: string,
    i: number,
    y: number,
    most: number,
  ): void {
    const column = this.#table.columns[i] as TableColumn;
    const [left, right] = [(this.#edges[i] as number) + CELL_MM, (this.#edges[i + 1] as number) - CELL_MM];
    const role = row === 'table-text' && column.strong ? 'table-strong' : row;
    const end = column.align === 'end';
    // A long name is set smaller before it is cut short.
    const fitting = (most * (right - left)) / textWidth(words, most, role);
    const size = Math.max(TEXT.least, Math.min(most, fitting));
    const shown = shorten(words, right - left, size, role);
    sink.text('notes', role, shown, end ? right : left, y, size, { anchor: end ? 'end' : 'start' });
  }

  #line(sink: DrawingSink, y: number): void {
    const line = [
      [PAGE_MARGIN_MM, y],
      [this.#width - PAGE_MARGIN_MM, y],
    ] as const;
    sink.add('notes', { kind: 'path', role: 'table-line', closed: false, lines: [line] });
  }
}

/** A long table as upright pages of A4 or Letter, head and titles on each. At least one page. */
export function drawTable(
  table: PageTable,
  page: keyof typeof PAPERS,
  language: Language = USUAL_LANGUAGE,
): Drawing[] {
  const { width, height } = PAPERS[page];
  const inner = width - 2 * PAGE_MARGIN_MM;
  const drawings: Drawing[] = [];
  const lines = new TableRows(table, width);
  let next = 0;
  do {
    const sink = blankPage(width, height, language);
    let y = PAGE_MARGIN_MM + TEXT.title * 0.8;
    const text = (role: 'title' | 'subtitle' | 'note', words: string, size: number) =>
      sink.text('notes', role, shorten(words, inner, size, role), PAGE_MARGIN_MM, y, size);
    text('title', table.title, TEXT.title);
    y += 4.8;
    text('subtitle', table.subtitle, 3);
    y += 1.6;
    if (drawings.length === 0) {
      for (const note of table.notes) {
        for (const line of wrap(note, inner, TEXT.note, 'note')) {
          y += TEXT.note * LEADING + 0.4;
          text('note', line, TEXT.note);
        }
      }
    }
    ({ next } = lines.rows(sink, next, lines.head(sink, y + 3), height - PAGE_MARGIN_MM));
    drawings.push(sink.drawing(width, height, table.title, table.subtitle));
  } while (next < table.rows.length);
  return drawings;
}
