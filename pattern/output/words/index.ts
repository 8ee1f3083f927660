import type { InEachLanguage, Language } from '../../language.ts';
import { outputDe } from './de.ts';
import { type OutputWords, outputEn } from './en.ts';

export type { OutputWords } from './en.ts';

const WORDS: InEachLanguage<OutputWords> = { en: outputEn, de: outputDe };

/** What lists and sheets say, in this language. */
export const outputWords = (language: Language): OutputWords => WORDS[language];
