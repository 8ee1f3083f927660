import type { InEachLanguage, Language } from '../../language.ts';
import { photoDe } from './de.ts';
import { type PhotoWords, photoEn } from './en.ts';

export type { PhotoWords } from './en.ts';

const WORDS: InEachLanguage<PhotoWords> = { en: photoEn, de: photoDe };

/** Why a photo can't be measured, in this language. */
export const photoWords = (language: Language): PhotoWords => WORDS[language];
