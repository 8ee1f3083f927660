import { type Language, USUAL_LANGUAGE } from '../../pattern/language.ts';
import { layWords } from '../../pattern/lay/words/index.ts';

/** What an error says of itself, whichever thread or machine it comes from. */
export function codeOf(error: unknown): unknown {
  if (!(error instanceof Error)) return undefined;
  const { code, facts } = error as Error & {
    readonly code?: unknown;
    readonly facts?: { readonly code?: unknown };
  };
  return code ?? facts?.code;
}

/** Whether a lay ended because it was told to, and could not be waited for. */
export function wasStopped(error: unknown): boolean {
  return codeOf(error) === 'stopped';
}

/** One sentence or two for whoever asked for the lay; what was found before stays with it. */
export function whyFailed(error: unknown, language: Language = USUAL_LANGUAGE): string {
  const words = layWords(language).failed;
  switch (codeOf(error)) {
    case 'outOfMemory':
      return words.outOfMemory;
    case 'crashed':
    case 'died':
      return words.brokeDown;
    case 'closed':
      return words.closed;
    default:
      return words.fault;
  }
}
