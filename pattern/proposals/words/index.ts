import type { InEachLanguage, Language } from '../../language.ts';
import { sizeDe } from './de.ts';
import { type SizeWords, sizeEn } from './en.ts';

const WORDS: InEachLanguage<SizeWords> = { en: sizeEn, de: sizeDe };

/** What is said of drawings that are not true to size, in this language. */
export const sizeWords = (language: Language): SizeWords => WORDS[language];
