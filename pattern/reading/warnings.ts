import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { ReadingWarning } from './drawing.ts';
import { READING_LIMITS } from './limits.ts';
import { type ReadingWords, readingWords } from './words/index.ts';

type Code = ReadingWarning['code'];

/** Gathers warnings, so that ten thousand faults of one kind become a handful of lines. */
export class Warnings {
  /** For what is said of single outlines and of the size. */
  readonly words: ReadingWords;
  private readonly said = new Map<string, { code: Code; text: string; count: number }>();
  private readonly spelledOut = new Map<Code, number>();
  private readonly unspelled = new Map<Code, number>();

  constructor(language: Language = USUAL_LANGUAGE) {
    this.words = readingWords(language);
  }

  /** Says one thing once, however often it happens. */
  once(code: Code, text: string): void {
    this.counted(code, () => text);
  }

  /** Says one thing in one line that tells how often it happened. */
  counted(code: Code, wording: (count: number) => string): void {
    const key = `${code} ${wording(0)}`;
    const count = (this.said.get(key)?.count ?? 0) + 1;
    this.said.set(key, { code, text: wording(count), count });
  }

  /** Says a thing about one element: the first few in full, the others counted. */
  each(code: Code, text: string): void {
    const sofar = this.spelledOut.get(code) ?? 0;
    if (sofar < READING_LIMITS.warningsPerKind) {
      this.spelledOut.set(code, sofar + 1);
      this.counted(code, () => text);
    } else {
      this.unspelled.set(code, (this.unspelled.get(code) ?? 0) + 1);
    }
  }

  list(): ReadingWarning[] {
    const list: ReadingWarning[] = [];
    const lastOf = new Map<Code, number>();
    for (const { code, text } of this.said.values()) {
      lastOf.set(code, list.length);
      list.push({ code, text });
    }
    // From the back, so that the places noted stay true.
    for (const [code, at] of [...lastOf].sort((p, q) => q[1] - p[1])) {
      const more = this.unspelled.get(code);
      if (more) list.splice(at + 1, 0, { code, text: `… and ${more} more of this kind.` });
    }
    return list;
  }
}
