import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { LengthUnit } from '../units/index.ts';
import type { HeadingLine, Reading, ReadLine } from './entry.ts';
import { type LineDefaults, readLine, takeOrder } from './readLine.ts';
import {
  cellsOf,
  csvHeadOf,
  endsInQuote,
  headOf,
  isRule,
  readLooseRow,
  readRow,
  type TableHead,
} from './readTable.ts';
import { measureWords } from './says/index.ts';
import { unitName } from './words.ts';

/** More lines than this are refused as a whole. */
export const MOST_LINES = 10_000;

export interface CutListReading {
  /** One for each line that is neither empty nor a heading, in order. */
  readonly lines: readonly ReadLine[];
  /** Lines that say something about the lines after them. */
  readonly headings: readonly HeadingLine[];
  /** Why nothing was read at all; a sentence. */
  readonly refused?: string;
}

export interface CutListOptions {
  /** In which unread lines are told of; English where left out. */
  readonly language?: Language;
  /** What a number without a unit is in. */
  readonly defaultUnit: LengthUnit;
  /** Names of the project's materials: words after the sides that are one of these are not part of a name. */
  readonly materials?: readonly string[];
}

/** Words that may stand around a unit in a line that only names one: "all measurements in cm". */
const UNIT_FILLER = new Set(
  'all alle sizes size measurements measurement measures dimensions are given in is the units unit maße masse maßangaben angaben einheit einheiten and und'.split(
    ' ',
  ),
);

/**
 * Reads a cut list as people write it, a line a piece: see the tests for what it takes. Lines that can't be read come
 * back with what is missing; the others are kept. Tables copied from a spreadsheet are read by their columns' heads,
 * English or German. "Lining:" alone on a line is the material of the lines after it, "all sizes in cm" their unit.
 *
 * Two conventions, both marked as assumed where they were needed: the first number is the width, across the grain, the
 * second the height, along it; and a number without a unit is in `defaultUnit`.
 */
export function readCutList(text: string, options: CutListOptions): CutListReading {
  const { language = USUAL_LANGUAGE } = options;
  const words = measureWords(language);
  // A file may begin with a mark of its byte order.
  const all = text.replace(/^\uFEFF/u, '').split(/\r\n|\r|\n/u);
  const filled = all.filter((line) => line.trim() !== '').length;
  if (filled > MOST_LINES) {
    const refused = words.listTooLong(filled, MOST_LINES);
    return { lines: [], headings: [], refused };
  }
  const lines: ReadLine[] = [];
  const headings: HeadingLine[] = [];
  let defaults: LineDefaults = {
    unit: options.defaultUnit,
    unitSaid: false,
    materials: options.materials ?? [],
  };
  let head: TableHead | null = null;
  let isCsv = false;
  const skipped = new Set<number>();
  all.forEach((first, index) => {
    if (first.trim() === '' || skipped.has(index)) return;
    const lineNumber = index + 1;
    const { raw, lines: taken } = wholeRow(all, index, head !== null || first.includes('\t'));
    for (let more = 1; more < taken; more++) skipped.add(index + more);
    const line = raw.trim();
    const csvHead = csvHeadOf(raw);
    if (csvHead) isCsv = true;
    const cells = cellsOf(raw, isCsv);
    const newHead = csvHead ?? (cells && headOf(cells));
    if (newHead && !csvHead) isCsv = false;
    if (newHead) {
      head = newHead;
      // Where a table has a column for the material, an empty cell means none.
      if (newHead.columns.includes('material')) defaults = withoutMaterial(defaults);
      headings.push({ lineNumber, text: line, kind: 'columns' });
      return;
    }
    if (cells && isRule(cells)) return;
    const heading = cells ? null : headingOf(line);
    if (heading) {
      defaults = { ...defaults, ...heading.defaults };
      headings.push({ lineNumber, text: line, kind: heading.kind });
      return;
    }
    const reading = read(raw, cells, head, defaults);
    const found = reading.ok ? reading : { ok: false as const, missing: reading.missing(words, language) };
    lines.push({ lineNumber, text: line, ...found });
  });
  return { lines, headings };
}

/** Cells may hold so many line breaks. */
const MOST_BREAKS = 10;

/** The row that begins on a line: with the lines after it where a cell in quotation marks goes on there. */
function wholeRow(all: readonly string[], index: number, isTable: boolean): { raw: string; lines: number } {
  const first = all[index] ?? '';
  if (!isTable || !endsInQuote(first)) return { raw: first, lines: 1 };
  let raw = first;
  for (let lines = 2; lines <= MOST_BREAKS + 1 && index + lines <= all.length; lines++) {
    raw = `${raw} ${(all[index + lines - 1] ?? '').trim()}`;
    if (!endsInQuote(raw)) return { raw, lines };
  }
  return { raw: first, lines: 1 };
}

function withoutMaterial({ material: _, ...rest }: LineDefaults): LineDefaults {
  return rest;
}

function read(line: string, cells: string[] | null, head: TableHead | null, defaults: LineDefaults): Reading {
  if (cells === null) return readLine(line.trim(), defaults);
  return head ? readRow(cells, head, defaults) : readLooseRow(cells, defaults);
}

function headingOf(line: string): { kind: 'unit' | 'material'; defaults: Partial<LineDefaults> } | null {
  if (/\d/.test(line)) return null;
  const { text, sides } = takeOrder(line);
  const words = text.toLowerCase().match(/\p{L}+|["″”]/gu) ?? [];
  const units = words
    .filter((word) => word !== 'in')
    .map(unitName)
    .filter((unit) => unit !== undefined);
  const onlyUnit = words.every((word) => UNIT_FILLER.has(word) || unitName(word) !== undefined);
  if (onlyUnit && (units.length === 1 || (sides && units.length === 0))) {
    return {
      kind: 'unit',
      defaults: {
        ...(units[0] ? { unit: units[0], unitSaid: true } : {}),
        ...(sides ? { order: sides } : {}),
      },
    };
  }
  const material = /^(?:#+\s*(?<hash>.+)|(?<colon>.+?)\s*:)$/u.exec(line)?.groups;
  const name = (material?.hash ?? material?.colon)?.replace(/:$/u, '').trim();
  return name ? { kind: 'material', defaults: { material: name } } : null;
}
