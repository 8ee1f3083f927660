import type { InEachLanguage, Language } from '../../../language.ts';
import { cuttingDe } from './de.ts';
import { type CuttingWords, cuttingEn } from './en.ts';

export type { CuttingWords } from './en.ts';

const WORDS: InEachLanguage<CuttingWords> = { en: cuttingEn, de: cuttingDe };

/** What is said of the order of cutting, in this language. */
export const cuttingWords = (language: Language): CuttingWords => WORDS[language];
