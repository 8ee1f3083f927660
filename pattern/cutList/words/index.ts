import type { InEachLanguage, Language } from '../../language.ts';
import { cutListDe } from './de.ts';
import { type CutListWords, cutListEn } from './en.ts';

export type { CutListWords } from './en.ts';

const WORDS: InEachLanguage<CutListWords> = { en: cutListEn, de: cutListDe };

/** What is said of a cut list and its project, in this language. */
export const cutListWords = (language: Language): CutListWords => WORDS[language];
