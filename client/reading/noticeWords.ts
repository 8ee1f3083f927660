import { USUAL_LANGUAGE } from '../../pattern/language.ts';
import type { ReadingWarning, RefusedOutline } from '../../pattern/reading/drawing.ts';
import { language, t } from '../strings/index.ts';

/**
 * What reading noticed, as it is shown. Its own sentences are English and tell most; in other languages the page says
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

/** Why an outline can't be used. */
export function refusedText({ label, text }: Pick<RefusedOutline, 'label' | 'text'>): string {
  return language === USUAL_LANGUAGE ? text : t.drawing.outlineRefused(label);
}

/** Why a file can't be read. The page's own reasons are in its language already. */
export function unreadText(message: string): string {
  const isOwn = message === t.drawing.tooSlow || message === t.drawing.broken;
  return language === USUAL_LANGUAGE || isOwn ? message : t.drawing.failedSaying(message);
}
