import type { InEachLanguage, Language } from '../../language.ts';
import { measureDe } from './de.ts';
import { type MeasureWords, measureEn } from './en.ts';

const WORDS: InEachLanguage<MeasureWords> = { en: measureEn, de: measureDe };

/** Why a line of a cut list can't be read, in this language. */
export const measureWords = (language: Language): MeasureWords => WORDS[language];

/** What is missing or wrong: known where it is found, said where it is shown. */
export type Missing = (words: MeasureWords, language: Language) => string;
