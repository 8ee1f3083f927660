/** The language of the page: kept in this browser, since it is about who reads and not about the work. */
export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];

const KEY = 'clothlay.language';

/** The language chosen here before, else the first of the browser's that the page speaks, else English. */
export function readLanguage(): Language {
  let kept: string | null = null;
  try {
    kept = localStorage.getItem(KEY);
  } catch {
    // Forbidden storage, or no browser at all.
  }
  const preferred = typeof navigator === 'undefined' ? [] : (navigator.languages ?? []);
  for (const tag of [kept ?? '', ...preferred]) {
    const known = LANGUAGES.find((language) => tag.toLowerCase().split('-')[0] === language);
    if (known) return known;
  }
  return 'en';
}

/** Keeps the choice. Words are read once when the page is loaded: load it anew to see it. */
export function keepLanguage(language: Language): void {
  try {
    localStorage.setItem(KEY, language);
  } catch {
    // A browser that keeps nothing goes on in its own language.
  }
}
