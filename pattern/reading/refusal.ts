import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { ToldFault } from '../toldFault.ts';
import type { UnreadDrawing } from './drawing.ts';
import { type ReadingWords, readingWords } from './words/index.ts';

type Say = (words: ReadingWords) => string;

/** Ends the reading of a file that cannot be used. It says why in one sentence for the maker; never leaves a reader. */
export class Refusal extends ToldFault {
  override readonly name = 'Refusal';

  constructor(say: Say) {
    super((language) => say(readingWords(language)));
  }
}

/** What a reader gives for a file that can't be used. */
export const unread = (fileName: string, language: Language | undefined, say: Say): UnreadDrawing => ({
  ok: false,
  fileName,
  message: say(readingWords(language ?? USUAL_LANGUAGE)),
});

/** The same for what was thrown on the way: a refusal, or a fault of ours or a stack that ran full. */
export function unreadFor(error: unknown, fileName: string, language: Language | undefined): UnreadDrawing {
  return error instanceof Refusal
    ? { ok: false, fileName, message: error.inLanguage(language ?? USUAL_LANGUAGE) }
    : unread(fileName, language, ({ cannotFollow }) => cannotFollow);
}
