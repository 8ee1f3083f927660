import type { InEachLanguage, Language } from '../../language.ts';
import { unitDe } from './de.ts';
import { type UnitWords, unitEn } from './en.ts';

export type { UnitWords } from './en.ts';

const WORDS: InEachLanguage<UnitWords> = { en: unitEn, de: unitDe };

/** Why something typed is no length, in this language. */
export const unitWords = (language: Language): UnitWords => WORDS[language];
