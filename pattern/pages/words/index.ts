import type { InEachLanguage, Language } from '../../language.ts';
import { pagesDe } from './de.ts';
import { type PagesWords, pagesEn } from './en.ts';

export type { PagesWords } from './en.ts';

const WORDS: InEachLanguage<PagesWords> = { en: pagesEn, de: pagesDe };

/** Why sheets can't be put together as typed, in this language. */
export const pagesWords = (language: Language): PagesWords => WORDS[language];
