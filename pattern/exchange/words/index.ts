import type { InEachLanguage, Language } from '../../language.ts';
import { exchangeDe } from './de.ts';
import { type ExchangeWords, exchangeEn } from './en.ts';

export type { ExchangeWords } from './en.ts';

const WORDS: InEachLanguage<ExchangeWords> = { en: exchangeEn, de: exchangeDe };

/** What is said of faulty files and requests, in this language. */
export const exchangeWords = (language: Language): ExchangeWords => WORDS[language];
