import type { InEachLanguage, Language } from '../../language.ts';
import { readingDe } from './de.ts';
import { type ReadingWords, readingEn } from './en.ts';

export type { ReadingWords } from './en.ts';

const WORDS: InEachLanguage<ReadingWords> = { en: readingEn, de: readingDe };

/** Why a drawing can't be read or an outline not used, in this language. */
export const readingWords = (language: Language): ReadingWords => WORDS[language];
