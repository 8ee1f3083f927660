import { en, type Strings } from './en.ts';

/** Parts of a page's words; functions and lists count as one word. */
type Partly<T> = {
  readonly [K in keyof T]?: T[K] extends (...args: never) => unknown
    ? T[K]
    : T[K] extends string
      ? string
      : Partly<T[K]>;
};

/** Every word on the page, in German. What is not yet translated stands in English. */
const translated: Partly<Strings> = {
  lang: 'de',
};

/** `over` laid over `under`, object by object. */
function laidOver<T>(under: T, over: Partly<T> | undefined): T {
  if (over === undefined) return under;
  if (typeof under !== 'object' || under === null || Array.isArray(under)) return over as T;
  const entries = Object.entries(under).map(([key, value]) => [
    key,
    laidOver(value, (over as Record<string, never>)[key]),
  ]);
  return Object.fromEntries(entries) as T;
}

export const de: Strings = laidOver(en, translated);
