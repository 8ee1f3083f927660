import type { Language } from '../../pattern/language.ts';
import type { Strings } from './en.ts';
import { readLanguage } from './language.ts';

/**
 * Each language is a file of its own that only its readers fetch. Those files import nothing but each other: the
 * page waits for them here, before any other of its modules runs.
 */
const LOADERS: Readonly<Record<Language, () => Promise<Strings>>> = {
  en: async () => (await import('./en.ts')).en,
  de: async () => (await import('./de.ts')).de,
};

/** The language shown, for words that are made elsewhere. */
export const language: Language = readLanguage();

/** The words on the page in the language shown. Another language is another file with the same keys. */
export const t: Strings = await LOADERS[language]();

const dateTime = new Intl.DateTimeFormat(t.lang, { dateStyle: 'medium', timeStyle: 'short' });
const dateOnly = new Intl.DateTimeFormat(t.lang, { dateStyle: 'medium' });
const percent = new Intl.NumberFormat(t.lang, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
const plain = new Intl.NumberFormat(t.lang, { maximumFractionDigits: 6, useGrouping: false });
const money = new Intl.NumberFormat(t.lang, { minimumFractionDigits: 2, maximumFractionDigits: 2 });
const moneyInField = new Intl.NumberFormat(t.lang, {
  minimumFractionDigits: 2,
  maximumFractionDigits: 2,
  useGrouping: false,
});

/** An ISO time as read here, or the text itself where it is no time. */
export function showTime(iso: string): string {
  const time = new Date(iso);
  return Number.isNaN(time.getTime()) ? iso : dateTime.format(time);
}

export function showDate(time: Date): string {
  return dateOnly.format(time);
}

export function showPercent(value: number): string {
  return `${percent.format(value)} %`;
}

/** A number for a field: as it is, with the decimal sign of the language. */
export function showNumber(value: number): string {
  return plain.format(value);
}

/** An amount for a field: without marks between thousands, so that it can be read back. */
export function showMoneyInField(cents: number): string {
  return moneyInField.format(cents / 100);
}

/** Whole cents as money without a currency sign: the project has none. */
export function showMoney(cents: number): string {
  return money.format(cents / 100);
}
