import type { Request } from 'express';
import { LANGUAGES, type Language, USUAL_LANGUAGE } from '../../pattern/language.ts';

/** The language asked for (RFC 9110 §12.5.4): the best of those spoken here, English where none is. */
export function languageOf(request: Request): Language {
  const best = request.acceptsLanguages(...LANGUAGES);
  return LANGUAGES.find((language) => language === best) ?? USUAL_LANGUAGE;
}
