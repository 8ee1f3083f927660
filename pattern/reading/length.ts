/** CSS pixels per unit: 1in = 96px = 2.54cm = 72pt = 6pc, 1Q = ¼ mm (CSS Values and Units 3, §6.2). */
export const PIXELS_PER: Readonly<Record<string, number>> = {
  px: 1,
  in: 96,
  cm: 96 / 2.54,
  mm: 96 / 25.4,
  q: 96 / 101.6,
  pt: 96 / 72,
  pc: 16,
};

export const MM_PER_PIXEL = 25.4 / 96;

export interface Length {
  readonly value: number;
  /** Lower case; '' for a bare number. */
  readonly unit: string;
}

const NUMBER = '[+-]?(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][+-]?\\d+)?';
const LENGTH = new RegExp(`^\\s*(${NUMBER})\\s*(px|in|cm|mm|q|pt|pc|em|rem|ex|ch|%)?\\s*$`, 'i');

/** A length as CSS and SVG write it; null if it is none. */
export function parseLength(text: string | undefined): Length | null {
  const match = text === undefined || text.length > 64 ? null : LENGTH.exec(text);
  if (!match) return null;
  const value = Number(match[1]);
  return Number.isFinite(value) ? { value, unit: (match[2] ?? '').toLowerCase() } : null;
}

/**
 * A length in user units. `whole` is what 100 % means, `fontSize` what 1em means; ex and ch count half an em.
 * Null for what is no length.
 */
export function toUserUnits(text: string | undefined, whole: number, fontSize: number): number | null {
  const length = parseLength(text);
  if (!length) return null;
  const { value, unit } = length;
  if (unit === '') return value;
  if (unit === '%') return (value / 100) * whole;
  if (unit === 'em') return value * fontSize;
  if (unit === 'rem') return value * 16;
  if (unit === 'ex' || unit === 'ch') return (value * fontSize) / 2;
  return value * (PIXELS_PER[unit] ?? 1);
}

const NUMBERS = new RegExp(NUMBER, 'g');

/** All numbers in a list separated by spaces or commas. */
export function parseNumbers(text: string | undefined): number[] {
  return text === undefined ? [] : (text.match(NUMBERS) ?? []).map(Number);
}
