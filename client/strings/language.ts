import { firstSpoken, type InEachLanguage, type Language, USUAL_LANGUAGE } from '../../pattern/language.ts';

/** The language of the page: kept in this browser, since it is about who reads and not about the work. */
const KEY = 'clothlay.language';

/** What each language calls itself. */
export const LANGUAGE_NAMES: InEachLanguage<string> = { en: 'English', de: 'Deutsch' };

/** The language chosen here before, else the first of the browser's that the page speaks, else English. */
export function readLanguage(): Language {
  let kept: string | null = null;
  try {
    kept = localStorage.getItem(KEY);
  } catch {
    // Forbidden storage, or no browser at all.
  }
  const preferred = typeof navigator === 'undefined' ? [] : (navigator.languages ?? []);
  return firstSpoken([kept ?? '', ...preferred]) ?? USUAL_LANGUAGE;
}

/** Keeps the choice. Words are read once when the page is loaded: load it anew to see it. */
export function keepLanguage(language: Language): void {
  try {
    localStorage.setItem(KEY, language);
  } catch {
    // A browser that keeps nothing goes on in its own language.
  }
}
