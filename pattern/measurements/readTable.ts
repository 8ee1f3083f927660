import { LIMITS } from '../exchange/project.ts';
import { formatSize, type LengthUnit } from '../units/index.ts';
import type { Reading, Said } from './entry.ts';
import { copiesOf, findCounts } from './readCount.ts';
import { LIKELY_COUNT, type LineDefaults, readLine, takeOrder } from './readLine.ts';
import { type Measure, type Sides, sidesOf } from './readSides.ts';
import type { Missing } from './says/index.ts';
import { tokensOf } from './tokens.ts';
import { type Column, columnOf, MIRRORED, ON_FOLD, type SideWord, sideWord, unitName } from './words.ts';

/** The head of a table: what each column holds and in which unit. */
export interface TableHead {
  readonly columns: readonly Column[];
  readonly units: readonly (LengthUnit | undefined)[];
  /** Order of the sides in a column "W x H". */
  readonly order?: readonly [SideWord, SideWord];
}

/**
 * Cells of a line copied from a spreadsheet or written with bars or semicolons; null for an ordinary line. Commas divide
 * cells only where a head said so (`isCsv`): in a sentence they don't.
 */
export function cellsOf(line: string, isCsv = false): string[] | null {
  const divider = line.includes('\t')
    ? '\t'
    : /;.*;/u.test(line)
      ? ';'
      : /\|.*\|/u.test(line)
        ? '|'
        : isCsv && line.includes(',')
          ? ','
          : null;
  if (divider === null) return null;
  const cells = divided(line, divider);
  // | a | b | has an empty cell at either end.
  if (divider === '|' && cells[0] === '' && cells.at(-1) === '') return cells.slice(1, -1);
  return cells;
}

/** A cell in quotation marks may hold the divider, and its own marks doubled (RFC 4180): `"flap, left","11 1/4"""`. */
const QUOTED = /^\s*"((?:[^"]|"")*)"\s*$/;

/** A quotation longer than this many characters is taken for none: no name is. */
const MOST_QUOTED = 2_000;

function divided(line: string, divider: string): string[] {
  const cells: string[] = [];
  let open: string | null = null;
  for (const part of line.split(divider)) {
    const cell: string = open === null ? part : `${open}${divider}${part}`;
    // Inch marks stand behind a number; only a mark in front of a cell begins a quotation.
    if (cell.length <= MOST_QUOTED && /^\s*"/.test(cell) && !QUOTED.test(cell)) {
      open = cell;
      continue;
    }
    cells.push(unquoted(cell));
    open = null;
  }
  // A quotation that never ends was none.
  return open === null ? cells : [...cells, ...open.split(divider).map(unquoted)];
}

function unquoted(cell: string): string {
  const inner = QUOTED.exec(cell)?.[1];
  return inner === undefined ? cell.trim() : inner.replaceAll('""', '"').trim();
}

/** Whether a line ends within a cell in quotation marks, so that the next line belongs to it. */
export function endsInQuote(line: string): boolean {
  const last = line.split(/[\t;,]/u).findLast((cell) => /^\s*"/.test(cell));
  if (last === undefined) return false;
  const from = line.lastIndexOf(last);
  return !/^\s*"(?:[^"]|"")*"/.test(line.slice(from));
}

/** A head of columns divided by commas, as CSV files have them; null for anything else. */
export function csvHeadOf(line: string): TableHead | null {
  return line.includes(',') && cellsOf(line) === null ? headOf(divided(line, ',')) : null;
}

/** The head of a table if these cells are one: no numbers, and at least one column of sides that is known. */
export function headOf(cells: readonly string[]): TableHead | null {
  if (cells.some((cell) => /\d/.test(cell))) return null;
  const columns = cells.map((cell): Column => (takeOrder(cell).sides ? 'size' : columnOf(cell)));
  const known = columns.filter((column) => column !== 'other');
  const sides = known.filter((column) => ['width', 'height', 'length', 'size'].includes(column));
  if (known.length < 2 || sides.length === 0) return null;
  const units = cells.map((cell) => {
    const words = cell.match(/\p{L}+|["″”]/gu) ?? [];
    return words
      .slice(1)
      .map(unitName)
      .find((unit) => unit !== undefined);
  });
  const order = cells.map((cell) => takeOrder(cell).sides).find((found) => found !== undefined);
  return { columns, units, ...(order ? { order } : {}) };
}

/** Whether a line only rules off a table's head: `---|---`. */
export function isRule(cells: readonly string[]): boolean {
  return cells.every((cell) => /^:?[-=]*:?$/.test(cell)) && cells.some((cell) => cell !== '');
}

/** Reads a row under a head. */
export function readRow(cells: readonly string[], head: TableHead, defaults: LineDefaults): Reading {
  const cell = (column: Column): string =>
    head.columns
      .map((found, index) => (found === column ? (cells[index] ?? '') : ''))
      .filter((text) => text !== '')
      .join(' ');
  const rowUnit = unitName(cell('unit'));
  const base: LineDefaults = rowUnit ? { ...defaults, unit: rowUnit, unitSaid: true } : defaults;
  const sides =
    cell('size') === '' ? sidesOfColumns(cells, head, base) : sidesOfCell(cell('size'), head, base);
  if (!sides.ok) return sides;
  const marks = `${cell('name')} ${cell('count')} ${cell('hand')} ${cell('other')}`;
  const count = countOfCells(
    cell('count'),
    cell('hand'),
    MIRRORED.some((pattern) => marks.search(pattern) >= 0),
  );
  if (typeof count === 'function') return { ok: false, missing: count };
  const material = cell('material') || defaults.material;
  return {
    ok: true,
    entry: {
      name: cell('name').slice(0, LIMITS.nameLength) || formatSize(sides.acrossMm, sides.alongMm, 'cm'),
      acrossMm: sides.acrossMm,
      alongMm: sides.alongMm,
      count: count.copies,
      pair: count.pair,
      onFold: isYes(cell('fold')) || marks.search(ON_FOLD) >= 0,
      ...(material ? { material: material.slice(0, LIMITS.nameLength) } : {}),
      grainSaid: sides.grainSaid,
      unitSaid: sides.unitSaid,
      countSaid: count.said,
    },
  };
}

function isYes(cell: string): boolean {
  return /^(?:x|✓|✔|yes|y|ja|j|true|1|fold|on fold|bruch)$/iu.test(cell);
}

function sidesOfColumns(cells: readonly string[], head: TableHead, defaults: LineDefaults): Sides {
  const filled = head.columns.flatMap((column, index) =>
    column === 'width' || column === 'height' || column === 'length'
      ? [{ column, unit: head.units[index], text: cells[index] ?? '' }]
      : [],
  );
  const given = filled.filter(({ text }) => text !== '');
  const missing = filled.filter(({ text }) => text === '').map(({ column }) => column);
  if (given.length > 2) return { ok: false, missing: ({ threeSides }) => threeSides };
  const [first, second] = given;
  if (!first || !second) {
    if (missing.length === 0) return { ok: false, missing: ({ secondMissing }) => secondMissing };
    return {
      ok: false,
      missing: (words) =>
        words.sidesMissing(words.and(missing.map((column) => words.sides[column])), missing.length),
    };
  }
  const measures: Measure[] = [];
  for (const { column, unit, text } of [first, second]) {
    const measure = measureOfCell(text, column);
    if (typeof measure === 'function') return { ok: false, missing: measure };
    const { quantity } = measure;
    measures.push(unit && quantity.unit === null ? { ...measure, quantity: { ...quantity, unit } } : measure);
  }
  return sidesOf(measures[0]!, measures[1]!, { ...defaults, ownUnits: true });
}

function measureOfCell(text: string, side: SideWord): Measure | Missing {
  const [token, ...more] = tokensOf(text, false);
  if (token?.kind !== 'number' || more.length > 0)
    return ({ sideUnread, sides }) => sideUnread(sides[side], text.slice(0, 40));
  return { quantity: token.quantity, negative: token.negative, side };
}

function sidesOfCell(text: string, head: TableHead, defaults: LineDefaults): Sides {
  const column = head.columns.indexOf('size');
  const unit = head.units[column];
  const reading = readLine(text, {
    ...defaults,
    ...(unit ? { unit, unitSaid: true } : {}),
    ...(head.order ? { order: head.order } : {}),
  });
  return reading.ok ? { ...reading.entry, ok: true } : reading;
}

/** `2`, `2x`, `2 pcs`, `1 pair`, `cut 2`; empty means one. */
function countOfCells(
  text: string,
  hand: string,
  mirrored: boolean,
): { copies: number; pair: boolean; said: Said } | Missing {
  const paired = mirrored || isYes(hand) || /^(?:pairs?|paare?)$/iu.test(hand);
  if (text === '') return { copies: paired ? 2 : 1, pair: paired, said: 'assumed' };
  const tokens = tokensOf(text, false);
  const number = tokens.find((t) => t.kind === 'number');
  const alone = tokens.filter((t) => t.kind !== 'sign').length === 1 && number?.kind === 'number';
  const found = findCounts(tokens, () => false)[0];
  const value = alone ? (number.negative ? -1 : 1) * number.quantity.value : found?.value;
  if (value === undefined) return ({ countUnread }) => countUnread(text.slice(0, 40));
  const copies = copiesOf(value, !alone && (found?.pairs ?? false));
  if (typeof copies === 'function') return copies;
  const pair = paired || (!alone && (found?.pairs ?? false));
  if (pair && copies > 1 && copies % 2 === 1) return ({ oddPairs }) => oddPairs(copies);
  return { copies, pair: pair && copies > 1, said: 'said' };
}

/**
 * Reads a row without a head: texts are the name and then the material; numbers the width, the height and the count,
 * in this order, unless units or words like "2 pcs" say which is the count.
 */
export function readLooseRow(cells: readonly string[], defaults: LineDefaults): Reading {
  const filled = cells.filter((cell) => cell !== '');
  const kinds = filled.map((text) => ({ text, ...cellKind(text) }));
  const numbers = kinds.filter((cell) => cell.kind === 'number');
  // A cell such as "30 x 20 cm" or "2 pcs": the words say it all.
  const joined = (counts: 'assumed' | null): Reading => {
    const reading = readLine(filled.join(' , '), defaults);
    return reading.ok && counts ? { ok: true, entry: { ...reading.entry, countSaid: counts } } : reading;
  };
  if (kinds.some((cell) => cell.kind === 'sides')) {
    return joined(null);
  }
  const lengths = numbers.filter((cell) => cell.unit);
  const bare = numbers.filter((cell) => !cell.unit);
  const texts = kinds.filter((cell) => cell.kind === 'text').map((cell) => cell.text);
  const counted = texts.filter((text) => findCounts(tokensOf(text, false), () => false).length > 0);
  let sides: string[];
  let count: string | null = null;
  let said: 'assumed' | null = null;
  if (numbers.length === 2) sides = numbers.map((cell) => cell.text);
  else if (numbers.length === 3 && counted.length === 0) {
    const byUnit = lengths.length === 2 && bare.length === 1;
    const counting = byUnit
      ? bare[0]
      : likelyCount(numbers, kinds.indexOf(numbers[0]!) < kinds.findIndex(isText));
    if (!counting) return { ok: false, missing: ({ whichCount }) => whichCount };
    count = counting.text;
    sides = numbers.filter((cell) => cell !== counting).map((cell) => cell.text);
    said = byUnit ? null : 'assumed';
  } else {
    return { ok: false, missing: ({ numbersInRow }) => numbersInRow(numbers.length) };
  }
  const [name = '', ...others] = texts.filter((text) => !counted.includes(text));
  const line = [name, sides.join(' x '), ...(count === null ? [] : [`(${count})`]), ...counted, ...others];
  const reading = readLine(line.join(' , '), defaults);
  return reading.ok && said ? { ok: true, entry: { ...reading.entry, countSaid: said } } : reading;
}

interface Cell {
  readonly kind: 'number' | 'sides' | 'text';
  readonly text: string;
}

const isText = (cell: Cell): boolean => cell.kind === 'text';

/** Which of three bare numbers is the count: one before the name, else the last, if they can be. */
function likelyCount(numbers: readonly Cell[], beforeName: boolean): Cell | undefined {
  const [first, , last] = numbers;
  const whole = (cell: Cell | undefined): boolean => /^\d+$/.test(cell?.text ?? '');
  const likely = (cell: Cell | undefined): boolean => whole(cell) && Number(cell?.text) <= LIKELY_COUNT;
  if (beforeName && whole(first)) return first;
  if (likely(last)) return last;
  if (likely(first)) return first;
  return whole(last) ? last : undefined;
}

function cellKind(text: string): { kind: 'number' | 'sides' | 'text'; unit: boolean } {
  const tokens = tokensOf(text, false);
  const [first] = tokens;
  if (tokens.length === 1 && first?.kind === 'number') {
    return { kind: 'number', unit: first.quantity.unit !== null };
  }
  const numbers = tokens.filter((token) => token.kind === 'number').length;
  const product = numbers >= 2 && tokens.some((token) => token.kind === 'times');
  const word = tokens.some((token) => token.kind === 'word' && sideWord(token.word) !== undefined);
  return { kind: product || (numbers > 0 && word && tokens.length <= 3) ? 'sides' : 'text', unit: false };
}
