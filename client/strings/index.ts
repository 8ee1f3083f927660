import { de } from './de.ts';
import { en, type Strings } from './en.ts';
import { type Language, readLanguage } from './language.ts';

const WORDS: Readonly<Record<Language, Strings>> = { en, de };

/** The words on the page in the language shown. Another language is another file with the same keys. */
export const t: Strings = WORDS[readLanguage()];

const dateTime = new Intl.DateTimeFormat(t.lang, { dateStyle: 'medium', timeStyle: 'short' });
const dateOnly = new Intl.DateTimeFormat(t.lang, { dateStyle: 'medium' });
const percent = new Intl.NumberFormat(t.lang, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
const money = new Intl.NumberFormat(t.lang, { minimumFractionDigits: 2, maximumFractionDigits: 2 });

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

/** Whole cents as money without a currency sign: the project has none. */
export function showMoney(cents: number): string {
  return money.format(cents / 100);
}
