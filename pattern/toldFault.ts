import { type Language, USUAL_LANGUAGE } from './language.ts';

type InLanguage = (language: Language) => string;

/** A fault in what a maker asked for: it knows what to say of it, and says it in the language asked for. */
export class ToldFault extends Error {
  readonly inLanguage: InLanguage;

  constructor(inLanguage: InLanguage) {
    super(inLanguage(USUAL_LANGUAGE));
    this.name = 'ToldFault';
    this.inLanguage = inLanguage;
  }
}

/** The same for numbers and points that can't be worked with. */
export class ToldRangeError extends RangeError {
  readonly inLanguage: InLanguage;

  constructor(inLanguage: InLanguage) {
    super(inLanguage(USUAL_LANGUAGE));
    this.inLanguage = inLanguage;
  }
}

/** The text of any error: in that language where the error knows how. */
export function errorInWords(error: unknown, language: Language): string {
  if (error instanceof ToldFault || error instanceof ToldRangeError) return error.inLanguage(language);
  return error instanceof Error ? error.message : String(error);
}
