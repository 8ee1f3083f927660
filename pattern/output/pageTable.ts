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

/** A white page of a paper size, to be drawn on. */
export function blankPage(width: number, height: number, language: Language): DrawingSink {
  const sink = new DrawingSink(language);
  sink.add('page', { kind: 'path', role: 'page', lines: [rectangle(0, 0, width, height)], closed: true });
  return sink;
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
  let next = 0;
  do {
    const sink = blankPage(width, height, language);
    let y = PAGE_MARGIN_MM + TEXT.title * 0.8;
    const text = (role: 'title' | 'subtitle' | 'note' | 'table-head', words: string, size: number) =>
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
    y += 3;
    const total = table.columns.reduce((sum, column) => sum + column.share, 0);
    const edges = [PAGE_MARGIN_MM];
    for (const { share } of table.columns) edges.push((edges.at(-1) as number) + (share / total) * inner);
    const edge = (i: number) => edges[i] as number;
    if (table.groups) {
      y += HEAD_MM;
      for (const { title, from, to } of table.groups) {
        const room = edge(to + 1) - edge(from) - 2 * CELL_MM;
        sink.text(
          'notes',
          'table-strong',
          shorten(title, room, TEXT.note, 'table-strong'),
          edge(to + 1) - CELL_MM,
          y,
          TEXT.note,
          {
            anchor: 'end',
          },
        );
        sink.add('notes', {
          kind: 'path',
          role: 'table-line',
          closed: false,
          lines: [
            [
              [edge(from) + CELL_MM * 2, y + 1],
              [edge(to + 1) - CELL_MM, y + 1],
            ],
          ],
        });
      }
      y += 0.6;
    }
    y += HEAD_MM;
    const cell = (row: 'table-head' | 'table-text', words: string, i: number, most: number) => {
      const column = table.columns[i] as TableColumn;
      const role = row === 'table-text' && column.strong ? 'table-strong' : row;
      const room = edge(i + 1) - edge(i) - 2 * CELL_MM;
      const end = column.align === 'end';
      // A long name is set smaller before it is cut short.
      const size = Math.max(TEXT.least, Math.min(most, (most * room) / textWidth(words, most, role)));
      sink.text(
        'notes',
        role,
        shorten(words, room, size, role),
        end ? edge(i + 1) - CELL_MM : edge(i) + CELL_MM,
        y,
        size,
        {
          anchor: end ? 'end' : 'start',
        },
      );
    };
    table.columns.forEach((column, i) => {
      cell('table-head', column.title, i, TEXT.note);
    });
    const line = (at: number) =>
      sink.add('notes', {
        kind: 'path',
        role: 'table-line',
        closed: false,
        lines: [
          [
            [PAGE_MARGIN_MM, at],
            [width - PAGE_MARGIN_MM, at],
          ],
        ],
      });
    line(y + 1.4);
    y += 1.4;
    while (next < table.rows.length && y + ROW_MM < height - PAGE_MARGIN_MM - 5) {
      y += ROW_MM - 1.6;
      (table.rows[next] as readonly string[]).forEach((words, i) => {
        cell('table-text', words, i, 2.8);
      });
      y += 1.6;
      line(y);
      next += 1;
    }
    drawings.push({
      widthMm: width,
      heightMm: height,
      title: table.title,
      description: table.subtitle,
      lang: language,
      scale: 1,
      frames: [],
      layers: sink.layers(),
    });
  } while (next < table.rows.length);
  return drawings;
}
