import type { InEachLanguage, Language } from '../../language.ts';
import { partsDe } from './de.ts';
import { type PartsWords, partsEn } from './en.ts';

export type { PartsWords } from './en.ts';

const WORDS: InEachLanguage<PartsWords> = { en: partsEn, de: partsDe };

/** What is said about parts that are joined, in this language. */
export const partsWords = (language: Language): PartsWords => WORDS[language];
