import type { z } from 'zod';

/** Something wrong in a document: where, for a program, and what, for a person. */
export interface Fault {
  /** Keys from the top, joined by dots: `pieces.3.outline.0.1`. */
  readonly path: string;
  /** A sentence that names the piece, cloth or material by its name: `Piece “Side”, allowance: must be at least 0.` */
  readonly message: string;
}

/** What one entry of a list is called. */
const ENTRY_NAMES: Readonly<Record<string, string>> = {
  pieces: 'Piece',
  materials: 'Material',
  cloths: 'Cloth',
  cutList: 'Row of the cut list',
  layChoices: 'Lay choice',
  plans: 'Plan',
  results: 'Result',
  segments: 'Segment',
  placed: 'Placed piece',
  unplaced: 'Unplaced piece',
  choices: 'Lay choice',
  holes: 'hole',
  marks: 'mark',
  outline: 'point',
  points: 'point',
  flaws: 'flaw',
  clothIds: 'cloth',
};

/** What single fields are called. */
const FIELD_NAMES: Readonly<Record<string, string>> = {
  allowanceMm: 'allowance',
  alongMm: 'size along the grain',
  acrossMm: 'size across the grain',
  availableMm: 'length there is',
  clothIds: 'cloths',
  cutList: 'cut list',
  edgeMarginMm: 'margin at the edge',
  foldEdge: 'fold edge',
  gapMm: 'gap between pieces',
  grainDeg: 'grain direction',
  layChoices: 'lay choices',
  materialId: 'material',
  nap: 'nap',
  onFold: 'number on the fold',
  pieceId: 'piece',
  plain: 'number of plain pieces',
  mirrored: 'number of mirrored pieces',
  priceCentsPerMetre: 'price',
  printUp: 'direction of the print',
  selvedgeMm: 'selvedge',
  shopStepMm: 'step the shop cuts in',
  squaringMm: 'loss at the cut end',
  topDeg: 'direction of the top',
  turn: 'freedom to turn',
  widthMm: 'width',
};

/**
 * The faults that a schema found in `value`, in words. Every schema of the project and of the HTTP bodies around it
 * will do: names are looked up along the path.
 */
export function readableFaults(error: z.ZodError, value: unknown): Fault[] {
  return error.issues.flatMap((issue) => faultsOf(issue, value, []));
}

type Issue = z.core.$ZodIssue;

function faultsOf(issue: Issue, value: unknown, before: readonly PropertyKey[]): Fault[] {
  const path = [...before, ...issue.path];
  // A union without a discriminator hides its faults one level down: the closest attempt is the useful one.
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    const closest = issue.errors.reduce((best, tried) => (tried.length < best.length ? tried : best));
    return closest.flatMap((inner) => faultsOf(inner, value, path));
  }
  const where = placeOf(path, value);
  return [
    { path: path.map(String).join('.'), message: `${where}${where ? ': ' : ''}${whatIsWrong(issue)}.` },
  ];
}

/** `Piece “Side”, hole 2, point 3` */
function placeOf(path: readonly PropertyKey[], value: unknown): string {
  const words: string[] = [];
  let at: unknown = value;
  for (let i = 0; i < path.length; i++) {
    const key = path[i]!;
    at = at !== null && typeof at === 'object' ? (at as Record<PropertyKey, unknown>)[key] : undefined;
    if (typeof key === 'number') {
      const list = String(path[i - 1] ?? '');
      // The two numbers of a point need no name of their own.
      if (typeof path[i - 1] === 'number' && i + 1 === path.length) continue;
      words.push(entryName(list, key, at, typeof path[i - 1] === 'number'));
      continue;
    }
    const next = path[i + 1];
    if (typeof next === 'number') continue;
    if (key === 'project' && i === 0 && path.length > 1) continue;
    words.push(FIELD_NAMES[String(key)] ?? String(key));
  }
  const text = words.join(', ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function entryName(list: string, index: number, entry: unknown, nested: boolean): string {
  if (nested) return `point ${index + 1}`;
  const kind = ENTRY_NAMES[list] ?? list;
  const name =
    entry !== null && typeof entry === 'object' && 'name' in entry && typeof entry.name === 'string'
      ? entry.name.trim()
      : '';
  return name === '' ? `${kind} ${index + 1}` : `${kind} “${name.slice(0, 60)}”`;
}

function whatIsWrong(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type': {
      if (issue.expected === 'int') return 'must be a whole number';
      const wanted = TYPE_NAMES[issue.expected] ?? issue.expected;
      return issue.input === undefined && / received undefined$/.test(issue.message)
        ? `is missing (${wanted} is expected)`
        : `must be ${wanted}`;
    }
    case 'too_small':
      return (
        custom(issue) ??
        `must be ${issue.inclusive ? 'at least' : 'more than'} ${bound(issue.minimum, issue.origin)}`
      );
    case 'too_big':
      return (
        custom(issue) ??
        `must be ${issue.inclusive ? 'at most' : 'less than'} ${bound(issue.maximum, issue.origin)}`
      );
    case 'invalid_value':
      return issue.values.length === 1
        ? `must be ${quote(issue.values[0])}`
        : `must be one of ${issue.values.map(quote).join(', ')}`;
    case 'invalid_union':
      return 'is of no known kind';
    default:
      return issue.message.replace(/\.$/, '');
  }
}

const TYPE_NAMES: Readonly<Record<string, string>> = {
  number: 'a number',
  string: 'a text',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a point of two numbers',
  object: 'an object',
};

/** The schema's own wording, where it has one. */
function custom(issue: Issue): string | undefined {
  return /^(?:Too (?:small|big)|Invalid)\b/.test(issue.message) ? undefined : issue.message;
}

function bound(limit: number | bigint, origin: string): string {
  if (origin === 'string') return `${limit} characters long`;
  if (origin === 'array') return `${limit} entries long`;
  return String(limit);
}

function quote(value: unknown): string {
  return typeof value === 'string' ? `“${value}”` : String(value);
}
