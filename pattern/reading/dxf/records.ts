import { READING_LIMITS } from '../limits.ts';
import { Refusal } from '../refusal.ts';

/** One thing of a DXF file: its kind (group 0) and the groups that follow, as code and value. */
export interface DxfRecord {
  readonly kind: string;
  readonly codes: readonly number[];
  readonly values: readonly string[];
}

/**
 * The records of a text DXF one after the other. Each group is two lines: a code, a value (AutoCAD 2012 DXF
 * Reference, "Group codes in numerical order"). Comments (999) and what stands before the first record are dropped.
 *
 * Throws `Refusal` where the file is no sequence of groups, or ends before its EOF record.
 */
export function* recordsOf(text: string): Generator<DxfRecord> {
  let kind: string | null = null;
  let codes: number[] = [];
  let values: string[] = [];
  let groups = 0;
  let line = 0;
  let at = 0;
  const next = (): string | null => {
    if (at >= text.length) return null;
    let end = text.indexOf('\n', at);
    if (end < 0) end = text.length;
    const value = text.slice(at, text.charCodeAt(end - 1) === 13 ? end - 1 : end);
    at = end + 1;
    line += 1;
    return value;
  };
  for (;;) {
    const codeLine = next();
    if (codeLine === null) break;
    // A stray blank line at the very end, or between groups as some programs write it.
    if (codeLine.trim() === '') continue;
    const codeAt = line;
    const value = next();
    if (value === null) break;
    if (!/^\s*-?\d{1,5}\s*$/.test(codeLine)) {
      if (kind === null && groups === 0) throw new Refusal(({ notDxf }) => notDxf);
      throw new Refusal(({ dxfDamaged }) => dxfDamaged(codeAt));
    }
    const code = Number(codeLine);
    groups += 1;
    if (groups > READING_LIMITS.dxfGroups) throw new Refusal(({ dxfTooMuch }) => dxfTooMuch);
    if (code === 999) continue;
    if (code !== 0) {
      codes.push(code);
      values.push(value);
      continue;
    }
    if (kind !== null) yield { kind, codes, values };
    kind = value.trim().toUpperCase();
    codes = [];
    values = [];
    if (kind === 'EOF') return;
  }
  if (kind === null && groups === 0) throw new Refusal(({ empty }) => empty);
  throw new Refusal(({ dxfCutOff }) => dxfCutOff);
}

/** The first value of a group, trimmed; undefined if the record has none. */
export function textOf(record: DxfRecord, code: number): string | undefined {
  const at = record.codes.indexOf(code);
  return at < 0 ? undefined : record.values[at]?.trim();
}

/** The first value of a group as a number; `otherwise` if there is none. NaN if it is no number. */
export function numberOf(record: DxfRecord, code: number, otherwise: number): number {
  const at = record.codes.indexOf(code);
  return at < 0 ? otherwise : toNumber(record.values[at]);
}

/** All values of a group as numbers, in order. */
export function numbersOf(record: DxfRecord, code: number): number[] {
  const found: number[] = [];
  record.codes.forEach((each, i) => {
    if (each === code) found.push(toNumber(record.values[i]));
  });
  return found;
}

/** A number as the format writes it; anything else, hexadecimal and "Infinity" too, is NaN. */
export function toNumber(text: string | undefined): number {
  const trimmed = (text ?? '').trim();
  return /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eEdD][-+]?\d{1,3})?$/.test(trimmed)
    ? Number(trimmed.replace(/[dD]/, 'e'))
    : Number.NaN;
}
