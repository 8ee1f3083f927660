import { z } from 'zod';
import { settleProject } from '../cutList/follow.ts';
import { mergeRows } from '../cutList/rows.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { MIGRATIONS } from './migrations.ts';
import { PROJECT_FORMAT, PROJECT_VERSION, type Project, projectSchema } from './project.ts';
import { readableFaults } from './readableFaults.ts';
import { duplicateIds } from './references.ts';
import { type ExchangeWords, exchangeWords } from './words/index.ts';

export type OpenedProject =
  | {
      readonly ok: true;
      readonly project: Project;
      /** The version the file had, where it was an older one. */
      readonly migratedFrom?: number;
    }
  | {
      readonly ok: false;
      /** What is wrong and, where something helps, what to do; one or a few sentences. */
      readonly message: string;
    };

/** Longest file that is looked at, in characters. The largest allowed project is well below it. */
const MOST_CHARACTERS = 64 * 1024 * 1024;
/** Faults named in one message; the rest is counted. */
const NAMED_FAULTS = 3;

/**
 * Opens the text of a project file. Older versions are brought up to date, newer ones refused; a file that is cut
 * off, damaged, not ours or faulty is refused with a message that says which and where. Never throws.
 */
export function openProject(text: string, language: Language = USUAL_LANGUAGE): OpenedProject {
  const words = exchangeWords(language);
  if (text.length > MOST_CHARACTERS) {
    return refused(words.tooLarge(Math.round(text.length / 2 ** 20), MOST_CHARACTERS / 2 ** 20));
  }
  const body = text.replace(/^\uFEFF/, '').trim();
  if (body === '') return refused(words.empty);
  if (body.startsWith('<')) {
    return refused(words.isDrawing);
  }
  let document: unknown;
  try {
    document = JSON.parse(body);
  } catch {
    return refused(whyUnreadable(body, words));
  }
  return openDocument(document, language);
}

/** As `openProject`, for a document that is parsed already: what a database or a request holds. */
export function openDocument(document: unknown, language: Language = USUAL_LANGUAGE): OpenedProject {
  const words = exchangeWords(language);
  if (!isRecord(document) || document.format !== PROJECT_FORMAT) {
    return refused(words.notOurs);
  }
  const { version } = document;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 0) {
    return refused(words.noVersion);
  }
  if (version > PROJECT_VERSION) {
    return refused(words.newer(version, PROJECT_VERSION));
  }
  let current: unknown = document;
  for (let step = version; step < PROJECT_VERSION; step++) {
    const migrate = MIGRATIONS[step];
    if (!migrate) return refused(words.tooOld(step));
    try {
      current = migrate(current);
    } catch (error) {
      if (!(error instanceof z.ZodError)) throw error;
      return refusedFor(error, current, language);
    }
  }
  const parsed = projectSchema.safeParse(current);
  if (!parsed.success) return refusedFor(parsed.error, current, language);
  const [twice] = duplicateIds(parsed.data, language);
  if (twice) return refused(words.faulty(twice.text));
  return {
    ok: true,
    project: settleProject({ ...parsed.data, cutList: mergeRows(parsed.data.cutList) }),
    ...(version < PROJECT_VERSION ? { migratedFrom: version } : {}),
  };
}

function refused(message: string): OpenedProject {
  return { ok: false, message };
}

function refusedFor(error: z.ZodError, value: unknown, language: Language): OpenedProject {
  const words = exchangeWords(language);
  const faults = readableFaults(error, value, language);
  const named = faults.slice(0, NAMED_FAULTS).map((fault) => fault.message);
  const more = faults.length - named.length;
  const told = more > 0 ? [...named, words.andMore(more)] : named;
  return refused(words.faulty(told.join(' ')));
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return value !== null && typeof value === 'object' && !Array.isArray(value);
}

/** Tells a file that ends too early from one that is damaged in the middle, and says after what. */
function whyUnreadable(text: string, words: ExchangeWords): string {
  if (!text.startsWith('{')) return words.notOurs;
  if (endsOpen(text)) {
    const last = [...text.matchAll(/"name"\s*:\s*"((?:[^"\\]|\\.)*)"/g)].at(-1)?.[1];
    return last === undefined || last === ''
      ? words.cutOffAfterLetters(text.length)
      : words.cutOffAfter(last.slice(0, 60));
  }
  return words.damaged;
}

/** Whether the text ends inside a string, a list or an object that was begun. */
function endsOpen(text: string): boolean {
  let depth = 0;
  let inString = false;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (inString) {
      // Backslash skips what it escapes; 34 is the quotation mark.
      if (c === 92) i++;
      else if (c === 34) inString = false;
    } else if (c === 34) inString = true;
    else if (c === 123 || c === 91) depth++;
    else if (c === 125 || c === 93) depth--;
    if (depth < 0) return false;
  }
  return inString || depth > 0;
}
