/** The languages in which clothlay speaks. Whoever makes words is told which; nothing here remembers one. */
export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];

/** What is spoken where nobody said otherwise. */
export const USUAL_LANGUAGE: Language = 'en';

/** One entry a language. A new language is a new key, and the compiler then asks for it everywhere. */
export type InEachLanguage<T> = Readonly<Record<Language, T>>;

/** The first of the tags (`de-AT`, `en`) that is spoken here, or null. */
export function firstSpoken(tags: readonly string[]): Language | null {
  for (const tag of tags) {
    const base = tag.trim().toLowerCase().split('-')[0];
    const known = LANGUAGES.find((language) => language === base);
    if (known) return known;
  }
  return null;
}
