import type { InEachLanguage, Language } from '../../language.ts';
import { stepDe } from './de.ts';
import { type StepWords, stepEn } from './en.ts';

export type { StepWords } from './en.ts';

const WORDS: InEachLanguage<StepWords> = { en: stepEn, de: stepDe };

/** What is said of steps that can't be taken, in this language. */
export const stepWords = (language: Language): StepWords => WORDS[language];
