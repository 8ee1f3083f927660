import { ToldRangeError } from '../toldFault.ts';
import { type PhotoWords, photoWords } from './words/index.ts';

/** A photo can't be measured so. */
export const photoFault = (say: (words: PhotoWords) => string): ToldRangeError =>
  new ToldRangeError((language) => say(photoWords(language)));
