import type { Material } from '../exchange/project.ts';
import {
  AND_WORDS,
  CUT_WORDS,
  DOUBLE_WORDS,
  FOLD_WORDS,
  MATERIAL_WORDS,
  MIRROR_LINE_WORDS,
  MIRROR_WORDS,
  NUMBER_WORDS,
  PAIR_WORDS,
} from './vocabulary.ts';

/** So many copies of a piece, of one material, as the pattern says it. */
export interface Instruction {
  /** What the material is for, and the pattern's own word for it; null where it names none. */
  readonly role: Material['role'] | null;
  readonly word: string | null;
  /** Copies as drawn, mirrored, and whole pieces from the half on the fold. */
  readonly plain: number;
  readonly mirrored: number;
  readonly onFold: number;
  /**
   * What the words leave open. `hands`: two or more are to be cut, and not whether alike or in mirrored pairs.
   * `double`: "double" may mean two layers at once or twice as many.
   */
  readonly question: 'hands' | 'double' | null;
  /** The words it was read from. */
  readonly text: string;
}

/** What the texts in and near an outline say. */
export interface ReadInstructions {
  readonly instructions: readonly Instruction[];
  /** Lines that are no instruction: the first that looks like one is the name. */
  readonly rest: readonly string[];
  /** Single letters that stand alone: edges or parts to be joined at the same letter. */
  readonly letters: readonly string[];
}

/** Longer lines are sentences, in which a material may be named for any reason. */
const LABEL_LENGTH = 40;
/** Words that say where a piece sits as often as what it is cut from. */
const PLACE_WORDS = new Set([
  'interior',
  'innen',
  'inner fabric',
  'exterior',
  'outer',
  'außen',
  'aussen',
  'self',
]);

/**
 * The material that a label names ("Foam padding"), where it is none of the main one's. Sentences and words for places
 * ("interior pocket") name none.
 */
export function materialSaid(
  texts: readonly string[],
): { readonly role: Material['role']; readonly word: string; readonly text: string } | null {
  for (const text of texts) {
    if (text.length > LABEL_LENGTH) continue;
    const { materials } = clauseOf(
      ` ${text
        .toLowerCase()
        .replace(/[\s.:()-]+/g, ' ')
        .trim()} `,
    );
    const named = materials.find(({ role, word }) => role !== 'main' && !PLACE_WORDS.has(word));
    if (named) return { ...named, text };
  }
  return null;
}

/** The words on a piece that say it is, or may be, half of one; null where none does. */
export function mirrorLineSaid(texts: readonly string[]): string | null {
  return texts.find((text) => MIRROR_LINE_WORDS.some((words) => text.toLowerCase().includes(words))) ?? null;
}

/** More copies than this were meant as something else: a size, a number of the pattern. */
const MOST_COPIES = 60;

/**
 * Reads what is to be cut from what is written on a piece: "Cut 2 lining", "1x Oberstoff im Bruch", "cut 2 main, 1
 * mirrored". Proposals only: what the words leave open comes back as a question, and nothing is guessed from silence.
 */
export function readInstructions(texts: readonly string[]): ReadInstructions {
  const instructions: Instruction[] = [];
  const rest: string[] = [];
  const letters: string[] = [];
  const lines = texts.flatMap((text) => text.split(/[\n;]|(?<!\d)[,](?!\d)|,\s+/)).map((line) => line.trim());
  /** Copies named before the material, or the other way round: "Cut 2" on one line, "lining" on the next. */
  let open: Clause | null = null;
  for (const line of lines) {
    if (line === '') continue;
    if (/^[A-Z]$/.test(line)) {
      letters.push(line);
      continue;
    }
    const clauses = clausesOf(line);
    if (clauses.length === 0) {
      rest.push(line);
      continue;
    }
    for (const clause of clauses) {
      const merged: Clause = open && completes(open, clause) ? merge(open, clause) : clause;
      if (open && merged === clause) instructions.push(...spell(open));
      open = merged;
    }
  }
  if (open) instructions.push(...spell(open));
  return { instructions, rest, letters };
}

/** One part of a line with what was recognised in it. */
interface Clause {
  readonly text: string;
  readonly count: number | null;
  readonly materials: readonly { readonly role: Material['role']; readonly word: string }[];
  readonly isCut: boolean;
  readonly onFold: boolean;
  readonly isPair: boolean;
  readonly isMirrored: boolean;
  readonly isDouble: boolean;
}

/** Whether a clause only says more of the one before it. */
function completes(before: Clause, clause: Clause): boolean {
  if (clause.count !== null && before.count !== null) {
    // "cut 2, 1 mirrored": the second count is a part of the first.
    return (
      clause.isMirrored && clause.materials.length === 0 && clause.count < before.count && !before.isMirrored
    );
  }
  if (clause.materials.length > 0 && before.materials.length > 0) return false;
  return clause.count === null || before.count === null;
}

function merge(before: Clause, clause: Clause): Clause {
  const isPart = clause.count !== null && before.count !== null;
  return {
    text: `${before.text}, ${clause.text}`,
    count: before.count ?? clause.count,
    materials: before.materials.length > 0 ? before.materials : clause.materials,
    isCut: before.isCut || clause.isCut,
    onFold: before.onFold || clause.onFold,
    // One of two mirrored is a pair.
    isPair: before.isPair || clause.isPair || (isPart && before.count === 2),
    isMirrored: before.isMirrored || (clause.isMirrored && !isPart),
    isDouble: before.isDouble || clause.isDouble,
  };
}

/** The instructions that a clause spells out: one a material. */
function spell(clause: Clause): Instruction[] {
  const { count, materials, isCut, onFold, isPair, isMirrored, isDouble } = clause;
  // A material or a mark alone, without "cut" or a count, says nothing about what to cut.
  if (count === null && !isCut && !onFold && !isPair) return [];
  const copies = count ?? (isPair ? 2 : 1);
  // "2 pairs" are four pieces, "cut 2 as a pair" are two.
  const isPairs = isPair && count !== null && /\bpairs\b|\bpaare\b/i.test(clause.text);
  const total = isPairs ? 2 * copies : isPair && copies === 1 ? 2 : copies;
  const of = materials.length > 0 ? materials : [{ role: null, word: null }];
  return of.map(({ role, word }) => {
    const common = { role, word, text: clause.text };
    if (onFold) return { ...common, plain: 0, mirrored: 0, onFold: copies, question: null };
    if (isPair)
      return {
        ...common,
        plain: Math.ceil(total / 2),
        mirrored: Math.floor(total / 2),
        onFold: 0,
        question: null,
      };
    if (isMirrored) return { ...common, plain: 0, mirrored: total, onFold: 0, question: null };
    const question = isDouble ? 'double' : total > 1 ? 'hands' : null;
    return { ...common, plain: total, mirrored: 0, onFold: 0, question };
  });
}

/** The parts of a line that say something about cutting; none if the line is about something else. */
function clausesOf(line: string): Clause[] {
  const words = ` ${line
    .toLowerCase()
    .replace(/[.:()]/g, ' ')
    .replace(/\s+/g, ' ')} `;
  const parts = splitAtAnd(words);
  const clauses = parts.map(clauseOf);
  // "lining and interfacing" after one count: both belong to it.
  const joined: Clause[] = [];
  for (const clause of clauses) {
    const before = joined.at(-1);
    if (before && clause.count === null && clause.materials.length > 0 && before.materials.length > 0)
      joined[joined.length - 1] = {
        ...merge(before, { ...clause, materials: [] }),
        materials: [...before.materials, ...clause.materials],
      };
    else if (before && completes(before, clause)) joined[joined.length - 1] = merge(before, clause);
    else joined.push(clause);
  }
  const saysSomething = joined.some(
    ({ count, isCut, onFold, isPair, isMirrored, isDouble, materials }) =>
      isCut ||
      onFold ||
      isPair ||
      isDouble ||
      isMirrored ||
      (materials.length > 0 && (count !== null || isOnlyMaterials(words))),
  );
  return saysSomething || isCountAlone(words) ? joined : [];
}

function splitAtAnd(words: string): string[] {
  let parts = [words];
  for (const and of AND_WORDS) parts = parts.flatMap((part) => part.split(` ${and} `));
  return parts.flatMap((part) => part.split(/(?<=\p{L})[/+](?=\p{L})/u)).map((part) => ` ${part.trim()} `);
}

function clauseOf(part: string): Clause {
  let left = part;
  const take = (phrases: readonly string[]): boolean => {
    const found = [...phrases]
      .sort((a, b) => b.length - a.length)
      .find((phrase) => left.includes(` ${phrase} `));
    if (found === undefined) return false;
    left = left.replace(` ${found} `, ' ');
    return true;
  };
  const onFold = take(FOLD_WORDS);
  const before = left;
  const isPair = take(PAIR_WORDS);
  const isMirrored = take(MIRROR_WORDS);
  const isDouble = take(DOUBLE_WORDS);
  const isCut = take(CUT_WORDS);
  const materials: { role: Material['role']; word: string }[] = [];
  for (;;) {
    const found = Object.entries(MATERIAL_WORDS)
      .flatMap(([role, list]) => list.map((word) => ({ role: role as Material['role'], word })))
      .filter(({ word }) => left.includes(` ${word} `) || left.includes(` ${word}s `))
      .sort((a, b) => b.word.length - a.word.length)[0];
    if (!found) break;
    materials.push(found);
    left = left.replace(` ${found.word} `, ' ').replace(` ${found.word}s `, ' ');
  }
  const count = countIn(left) ?? (isPair ? countIn(before.replace(/ (1|one|a|ein) pair /, ' ')) : null);
  return { text: part.trim(), count, materials, isCut, onFold, isPair, isMirrored, isDouble };
}

/** "2", "2x", "x 2", "2 mal", "two" – not "2 cm", not "size 38", not "piece 4". */
function countIn(words: string): number | null {
  const measure = /^\s*(mm|cm|m|in|inch|inches|"|''|″|%|yd|ft)\b/;
  for (const match of words.matchAll(
    /(?:^|\s)(?:[x×]\s?)?(\d{1,3})\s?(?:[x×]|mal|pcs?|pieces?|stück|stk)?(?=\s|$)/gu,
  )) {
    const after = words.slice((match.index ?? 0) + match[0].length);
    const lead = words.slice(0, match.index).trim();
    if (measure.test(after) || /(size|größe|gr|no|nr|piece|teil|pattern|page|seite|step|#)$/u.test(lead))
      continue;
    // 20 × 30 is a size.
    if (/^\s*[x×]\s*\d/.test(after) || /\d\s*[x×]$/.test(lead)) continue;
    const value = Number(match[1]);
    if (value >= 1 && value <= MOST_COPIES) return value;
  }
  for (const word of words.trim().split(/\s+/)) {
    const value = NUMBER_WORDS[word];
    if (value !== undefined) return value;
  }
  return null;
}

/** "2x", "x2", "2 pcs": a count and nothing else. A bare number is none. */
function isCountAlone(words: string): boolean {
  return /^\s*(?:\d{1,2}\s?(?:[x×]|mal|pcs?|pieces|stück|stk)|[x×]\s?\d{1,2})\s*$/u.test(words);
}

function isOnlyMaterials(words: string): boolean {
  let left = words;
  for (const word of Object.values(MATERIAL_WORDS)
    .flat()
    .sort((a, b) => b.length - a.length))
    left = left.replace(` ${word} `, ' ');
  for (const and of AND_WORDS) left = left.replaceAll(` ${and} `, ' ');
  return left.trim() === '';
}
