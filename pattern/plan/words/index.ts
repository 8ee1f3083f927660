import type { InEachLanguage, Language } from '../../language.ts';
import { planDe } from './de.ts';
import { type PlanWords, planEn } from './en.ts';

export type { Hand, HandWords, PlanWords } from './en.ts';

const WORDS: InEachLanguage<PlanWords> = { en: planEn, de: planDe };

/** What drawings say, in this language. */
export const planWords = (language: Language): PlanWords => WORDS[language];
