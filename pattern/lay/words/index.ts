import type { InEachLanguage, Language } from '../../language.ts';
import { layDe } from './de.ts';
import { type LayWords, layEn } from './en.ts';

export type { LayWords } from './en.ts';

const WORDS: InEachLanguage<LayWords> = { en: layEn, de: layDe };

/** What is said of laying out, in this language. */
export const layWords = (language: Language): LayWords => WORDS[language];
