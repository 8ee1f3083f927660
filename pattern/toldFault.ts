import { type Language, USUAL_LANGUAGE } from './language.ts';

/** A fault in what a maker asked for: it knows what to say of it, and says it in the language asked for. */
export class ToldFault extends Error {
  readonly inLanguage: (language: Language) => string;

  constructor(inLanguage: (language: Language) => string) {
    super(inLanguage(USUAL_LANGUAGE));
    this.name = 'ToldFault';
    this.inLanguage = inLanguage;
  }
}

/** The text of any error: in that language where the error knows how. */
export function errorInWords(error: unknown, language: Language): string {
  if (error instanceof ToldFault) return error.inLanguage(language);
  return error instanceof Error ? error.message : String(error);
}
