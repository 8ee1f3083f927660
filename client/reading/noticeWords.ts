import { USUAL_LANGUAGE } from '../../pattern/language.ts';
import type { ReadingWarning } from '../../pattern/reading/drawing.ts';
import { language, t } from '../strings/index.ts';

/**
 * What reading noticed on the way, as it is shown. These sentences are English and tell most; in other languages the page says
 * what kind of thing it was, with the name and the number that the sentence holds.
 */
export function warningText({ code, text }: Pick<ReadingWarning, 'code' | 'text'>): string {
  if (language === USUAL_LANGUAGE) return text;
  const name = /"([^"]{1,60})"/.exec(text)?.[1];
  const count = /: (\d+)(?: parts?)?\.$/.exec(text)?.[1];
  return t.drawing.noticed(
    t.drawing.noticedBy[code],
    [name, count].filter((part) => part !== undefined),
  );
}
