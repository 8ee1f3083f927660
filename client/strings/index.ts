import { en, type Strings } from './en.ts';

/** The words on the page in the language shown. Another language is another file with the same keys. */
export const t: Strings = en;

const dateTime = new Intl.DateTimeFormat(en.lang, { dateStyle: 'medium', timeStyle: 'short' });
const dateOnly = new Intl.DateTimeFormat(en.lang, { dateStyle: 'medium' });

/** An ISO time as read here, or the text itself where it is no time. */
export function showTime(iso: string): string {
  const time = new Date(iso);
  return Number.isNaN(time.getTime()) ? iso : dateTime.format(time);
}

export function showDate(time: Date): string {
  return dateOnly.format(time);
}

export function showPercent(percent: number): string {
  return `${percent.toFixed(1)} %`;
}

/** Whole cents as money without a currency sign: the project has none. */
export function showMoney(cents: number): string {
  return (cents / 100).toFixed(2);
}
