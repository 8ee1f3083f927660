import type { z } from 'zod';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { type ExchangeWords, exchangeWords } from './words/index.ts';

/** Something wrong in a document: where, for a program, and what, for a person. */
export interface Fault {
  /** Keys from the top, joined by dots: `pieces.3.outline.0.1`. */
  readonly path: string;
  /** A sentence that names the piece, cloth or material by its name: `Piece “Side”, allowance: must be at least 0.` */
  readonly message: string;
}

/**
 * The faults that a schema found in `value`, in words. Every schema of the project and of the HTTP bodies around it
 * will do: names are looked up along the path.
 */
export function readableFaults(
  error: z.ZodError,
  value: unknown,
  language: Language = USUAL_LANGUAGE,
): Fault[] {
  const words = exchangeWords(language);
  return error.issues.flatMap((issue) => faultsOf(issue, value, [], words));
}

type Issue = z.core.$ZodIssue;

function faultsOf(
  issue: Issue,
  value: unknown,
  before: readonly PropertyKey[],
  words: ExchangeWords,
): Fault[] {
  const path = [...before, ...issue.path];
  // A union without a discriminator hides its faults one level down: the closest attempt is the useful one.
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    const closest = issue.errors.reduce((best, tried) => (tried.length < best.length ? tried : best));
    return closest.flatMap((inner) => faultsOf(inner, value, path, words));
  }
  const where = placeOf(path, value, words);
  return [
    {
      path: path.map(String).join('.'),
      message: `${where}${where ? ': ' : ''}${whatIsWrong(issue, words)}.`,
    },
  ];
}

/** `Piece “Side”, hole 2, point 3` */
function placeOf(path: readonly PropertyKey[], value: unknown, words: ExchangeWords): string {
  const parts: string[] = [];
  let at: unknown = value;
  for (let i = 0; i < path.length; i++) {
    const key = path[i]!;
    at = at !== null && typeof at === 'object' ? (at as Record<PropertyKey, unknown>)[key] : undefined;
    if (typeof key === 'number') {
      const list = String(path[i - 1] ?? '');
      // The two numbers of a point need no name of their own.
      if (typeof path[i - 1] === 'number' && i + 1 === path.length) continue;
      parts.push(entryName(list, key, at, typeof path[i - 1] === 'number', words));
      continue;
    }
    const next = path[i + 1];
    if (typeof next === 'number') continue;
    if (key === 'project' && i === 0 && path.length > 1) continue;
    parts.push(words.fields[String(key)] ?? String(key));
  }
  const text = parts.join(', ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function entryName(
  list: string,
  index: number,
  entry: unknown,
  nested: boolean,
  words: ExchangeWords,
): string {
  if (nested) return words.point(index + 1);
  const kind = words.entries[list] ?? list;
  const name =
    entry !== null && typeof entry === 'object' && 'name' in entry && typeof entry.name === 'string'
      ? entry.name.trim()
      : '';
  return name === '' ? words.numbered(kind, index + 1) : words.named(kind, name.slice(0, 60));
}

function whatIsWrong(issue: Issue, words: ExchangeWords): string {
  switch (issue.code) {
    case 'invalid_type': {
      if (issue.expected === 'int') return words.wholeNumber;
      const wanted = words.types[issue.expected] ?? issue.expected;
      const isMissing = issue.input === undefined && / received undefined$/.test(issue.message);
      return isMissing ? words.missing(wanted) : words.mustBe(wanted);
    }
    case 'too_small': {
      const bound = boundOf(issue.minimum, issue.origin, words);
      return custom(issue, words) ?? (issue.inclusive ? words.atLeast(bound) : words.moreThan(bound));
    }
    case 'too_big': {
      const bound = boundOf(issue.maximum, issue.origin, words);
      return custom(issue, words) ?? (issue.inclusive ? words.atMost(bound) : words.lessThan(bound));
    }
    case 'invalid_value':
      return issue.values.length === 1
        ? words.mustBe(quote(issue.values[0], words))
        : words.oneOf(issue.values.map((value) => quote(value, words)).join(', '));
    case 'invalid_union':
      return words.unknownKind;
    default:
      return own(issue.message, words);
  }
}

/** The schema's own wording, where it has one. */
function custom(issue: Issue, words: ExchangeWords): string | undefined {
  return /^(?:Too (?:small|big)|Invalid)\b/.test(issue.message) ? undefined : own(issue.message, words);
}

function own(message: string, words: ExchangeWords): string {
  const plain = message.replace(/\.$/, '');
  return words.own[plain] ?? plain;
}

function boundOf(limit: number | bigint, origin: string, words: ExchangeWords): string {
  if (origin === 'string') return words.letters(String(limit));
  if (origin === 'array') return words.entriesLong(String(limit));
  return String(limit);
}

function quote(value: unknown, words: ExchangeWords): string {
  return typeof value === 'string' ? words.quoted(value) : String(value);
}
