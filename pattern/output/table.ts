import type { ClothLay, Project } from '../exchange/project.ts';

/** A table for other programs: written as CSV or JSON from the same rows. */
export interface DataTable {
  /** Heads of the columns, words of the field with their unit: `width_mm`. */
  readonly columns: readonly string[];
  readonly rows: readonly (readonly (string | number | null)[])[];
}

/** A spreadsheet takes text that begins so for a formula (CWE-1236); an apostrophe in front keeps it text. */
const FORMULA = /^[=+\-@\t\r\uff0b\uff0d\uff1d\uff20]/;

/**
 * The table as CSV (RFC 4180: commas, CRLF, quotes doubled), UTF-8 with a byte order mark, by which spreadsheets
 * know the letters. Numbers have a decimal point. Text that a spreadsheet would run as a formula gets an
 * apostrophe in front.
 */
export function toCsv({ columns, rows }: DataTable): string {
  const lines = [columns, ...rows].map((row) => row.map(csvCell).join(','));
  return `\ufeff${lines.join('\r\n')}\r\n`;
}

function csvCell(value: string | number | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const safe = FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** The table as an object with its rows as objects by column. Text stays as it is. */
export function toRecords({ columns, rows }: DataTable): {
  rows: Record<string, string | number | null>[];
} {
  return { rows: rows.map((row) => Object.fromEntries(columns.map((name, i) => [name, row[i] ?? null]))) };
}

/** Names of a lay's material and cloth as tables begin with them; the ids where the project has them no more. */
export function layNames({ cloths, materials }: Project): (lay: ClothLay) => readonly [string, string] {
  const clothNames = new Map(cloths.map(({ id, name }) => [id, name]));
  const materialNames = new Map(materials.map(({ id, name }) => [id, name]));
  return ({ materialId, clothId }) => [
    materialNames.get(materialId) ?? materialId,
    clothNames.get(clothId) ?? clothId,
  ];
}

/** To a tenth of a millimetre, the finest that anyone cuts. */
export function tenth(mm: number): number {
  return Math.round(mm * 10) / 10 || 0;
}
