import type { InEachLanguage, Language } from '../../language.ts';
import { pieceDe } from './de.ts';
import { type PieceWords, pieceEn } from './en.ts';

export type { PieceWords } from './en.ts';

const WORDS: InEachLanguage<PieceWords> = { en: pieceEn, de: pieceDe };

/** What is said of a piece, in this language. */
export const pieceWords = (language: Language): PieceWords => WORDS[language];
