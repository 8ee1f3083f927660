import { z } from 'zod';
import { settleProject } from '../cutList/follow.ts';
import { mergeRows } from '../cutList/rows.ts';
import { MIGRATIONS } from './migrations.ts';
import { PROJECT_FORMAT, PROJECT_VERSION, type Project, projectSchema } from './project.ts';
import { readableFaults } from './readableFaults.ts';
import { duplicateIds } from './references.ts';

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
export function openProject(text: string): OpenedProject {
  if (text.length > MOST_CHARACTERS) {
    return refused(
      `The file is too large: ${Math.round(text.length / 2 ** 20)} MB, at most ${MOST_CHARACTERS / 2 ** 20}.`,
    );
  }
  const body = text.replace(/^\uFEFF/, '').trim();
  if (body === '') return refused('The file is empty.');
  if (body.startsWith('<')) {
    return refused(
      'This is not a project file but a drawing or a web page. Drawings are opened under Pieces.',
    );
  }
  let document: unknown;
  try {
    document = JSON.parse(body);
  } catch {
    return refused(whyUnreadable(body));
  }
  return openDocument(document);
}

/** As `openProject`, for a document that is parsed already: what a database or a request holds. */
export function openDocument(document: unknown): OpenedProject {
  if (!isRecord(document) || document.format !== PROJECT_FORMAT) {
    return refused('This is not a clothlay project file.');
  }
  const { version } = document;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 0) {
    return refused('The project file does not say which version of the format it is in.');
  }
  if (version > PROJECT_VERSION) {
    return refused(
      `The project was saved by a newer clothlay: its format is version ${version}, and this one reads up to version ${PROJECT_VERSION}. Update clothlay to open it.`,
    );
  }
  let current: unknown = document;
  for (let step = version; step < PROJECT_VERSION; step++) {
    const migrate = MIGRATIONS[step];
    if (!migrate) return refused(`Projects of version ${step} of the format can no longer be read.`);
    try {
      current = migrate(current);
    } catch (error) {
      if (!(error instanceof z.ZodError)) throw error;
      return refusedFor(error, current);
    }
  }
  const parsed = projectSchema.safeParse(current);
  if (!parsed.success) return refusedFor(parsed.error, current);
  const [twice] = duplicateIds(parsed.data);
  if (twice) return refused(`The project is faulty: ${twice.text}`);
  return {
    ok: true,
    project: settleProject({ ...parsed.data, cutList: mergeRows(parsed.data.cutList) }),
    ...(version < PROJECT_VERSION ? { migratedFrom: version } : {}),
  };
}

function refused(message: string): OpenedProject {
  return { ok: false, message };
}

function refusedFor(error: z.ZodError, value: unknown): OpenedProject {
  const faults = readableFaults(error, value);
  const named = faults.slice(0, NAMED_FAULTS).map((fault) => fault.message);
  const more = faults.length - named.length;
  const rest = more > 0 ? ` And ${more} more.` : '';
  return refused(`The project is faulty. ${named.join(' ')}${rest}`);
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return value !== null && typeof value === 'object' && !Array.isArray(value);
}

/** Tells a file that ends too early from one that is damaged in the middle, and says after what. */
function whyUnreadable(text: string): string {
  if (!text.startsWith('{')) return 'This is not a clothlay project file.';
  if (endsOpen(text)) {
    const last = [...text.matchAll(/"name"\s*:\s*"((?:[^"\\]|\\.)*)"/g)].at(-1)?.[1];
    const after =
      last === undefined || last === '' ? `after ${text.length} characters` : `after “${last.slice(0, 60)}”`;
    return `The file is cut off ${after}: its end is missing. Look for a complete copy.`;
  }
  return 'The file is damaged: it can’t be read as a project.';
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
