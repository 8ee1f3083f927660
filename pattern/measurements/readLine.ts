import { LIMITS } from '../exchange/project.ts';
import type { Language } from '../language.ts';
import { formatLength, formatNumber, toMm } from '../units/index.ts';
import { unitWords } from '../units/words/index.ts';
import type { Reading, Said } from './entry.ts';
import { leftOver, type WordsAround } from './leftOver.ts';
import { copiesOf, type FoundCount, findCounts } from './readCount.ts';
import { type Measure, type SideDefaults, sidesOf } from './readSides.ts';
import type { Missing } from './says/index.ts';
import { isUncounted, takeShares, withShares } from './shares.ts';
import { type Token, tokensOf } from './tokens.ts';
import {
  LETTERED,
  MIRRORED,
  ON_FOLD,
  ROUND_WORDS,
  SIDE_FILLERS,
  SIDE_ORDER,
  type SideWord,
  SQUARE_WORDS,
  sideWord,
  unitName,
} from './words.ts';

export interface LineDefaults extends SideDefaults {
  /** Names of materials that are known, for telling them from names of pieces. */
  readonly materials: readonly string[];
  /** Material named in a heading above. */
  readonly material?: string;
}

/** Numbering or a bullet at the beginning of a line. */
const BULLET = /^\s*(?:[-–—•*·▪○☐□✓]\s+|\(?\d{1,3}[.)]\s+(?=\S))/u;
/** Longer lines are prose, not a cut list. */
const LONGEST_LINE = 400;
/** Of several numbers that could be the count, one up to this is taken for it; marked as assumed where it is a guess. */
export const LIKELY_COUNT = 24;

/** Reads one line in free wording: `2 @ 26 x 3 in strap`, `Base 30,5 × 20 cm, 2 Stück`. */
export function readLine(line: string, defaults: LineDefaults): Reading {
  if (line.length > LONGEST_LINE) {
    return refuse(({ lineTooLong }) => lineTooLong(line.length, LONGEST_LINE));
  }
  const unmarked = takeMarks(line);
  const shared = takeShares(unmarked.text.trim());
  if (shared) {
    const sized = readLine(shared.text, defaults);
    // A count or a material of the line's own leaves no room for others.
    if (sized.ok && isUncounted(sized.entry, defaults.material)) {
      return { ok: true, entry: withShares(sized.entry, shared.shares, unmarked, defaults.materials) };
    }
  }
  const marks = takeMarks(line.replace(BULLET, (found) => ' '.repeat(found.length)));
  const order = takeOrder(marks.text);
  const { text } = order;
  const tokens = tokensOf(text, LETTERED.test(text));
  const found = findSides(tokens);
  if (typeof found === 'function') return refuse(found);
  const withOrder = order.sides ? { ...defaults, order: order.sides } : defaults;
  const unit = unitInBrackets(tokens, found.to);
  const sides = sidesOf(
    found.first,
    found.second,
    unit ? { ...withOrder, unit: unit.unit, unitSaid: true } : withOrder,
  );
  if (!sides.ok) return refuse(sides.missing);

  const counts = findCounts(tokens, (index) => found.from <= index && index < found.to);
  const count = countOf(counts, found.count, marks.mirrored);
  if (typeof count === 'function') return refuse(count);

  const used = [...counts, { from: found.from, to: found.to }, ...(unit ? [unit] : [])];
  const words = leftOver(text, tokens, used, found, defaults.materials);
  const material = words.material ?? defaults.material;
  return {
    ok: true,
    entry: {
      name: nameOf(words, text, tokens, found),
      acrossMm: sides.acrossMm,
      alongMm: sides.alongMm,
      count: count.copies,
      pair: count.pair,
      onFold: marks.onFold,
      ...(material === undefined ? {} : { material }),
      grainSaid: found.square ? 'said' : sides.grainSaid,
      unitSaid: sides.unitSaid,
      countSaid: count.said,
    },
  };
}

const refuse = (missing: Missing): Reading => ({ ok: false, missing });

interface Marks {
  readonly text: string;
  readonly onFold: boolean;
  readonly mirrored: boolean;
}

/** Words on folds and hands taken out (blanks put in, so that positions stay). */
function takeMarks(line: string): Marks {
  let text = line;
  const take = (pattern: RegExp): boolean => {
    const before = text;
    text = text.replace(pattern, (found) => ' '.repeat(found.length));
    return text !== before;
  };
  const onFold = take(ON_FOLD);
  const mirrored = MIRRORED.map(take).some(Boolean);
  return { text, onFold, mirrored };
}

/** `W x H` without numbers, taken out. */
export function takeOrder(line: string): { text: string; sides?: readonly [SideWord, SideWord] } {
  const found = SIDE_ORDER.exec(line);
  const first = sideWord(found?.groups?.first?.toLowerCase() ?? '');
  const second = sideWord(found?.groups?.second?.toLowerCase() ?? '');
  if (!found || first === undefined || second === undefined || first === second) return { text: line };
  // "30 W x H 20" letters its own numbers; it names no order.
  const numberBefore = /[\d½-¾⅐-⅞"″”]\s*$/u.test(line.slice(0, found.index));
  const numberAfter = /^\s*[\d½-¾⅐-⅞]/u.test(line.slice(found.index + found[0].length));
  if (numberBefore && numberAfter) return { text: line };
  const blank = ' '.repeat(found[0].length);
  return {
    text: line.slice(0, found.index) + blank + line.slice(found.index + found[0].length),
    sides: [first, second],
  };
}

export interface FoundSides {
  readonly first: Measure;
  readonly second: Measure;
  /** Tokens from … to (exclusive). */
  readonly from: number;
  readonly to: number;
  readonly square: boolean;
  /** A third number in the row of products that is the count. */
  readonly count?: { readonly value: number; readonly said: Said };
}

interface MeasureAt extends Measure {
  readonly from: number;
  readonly to: number;
}

/** The two sides among the tokens, or a sentence on what is missing. */
function findSides(tokens: readonly Token[]): FoundSides | Missing {
  const measures: MeasureAt[] = [];
  for (let at = 0; at < tokens.length; ) {
    const measure = measureAt(tokens, at);
    if (measure) measures.push(measure);
    at = measure ? measure.to : at + 1;
  }
  if (measures.length === 0) return ({ noMeasures }) => noMeasures;
  const chain = longestChain(tokens, measures);
  if (chain.length >= 2) return sidesOfChain(chain);
  const sides = measures.filter((m) => m.quantity.unit !== null || m.side !== undefined);
  const [first, second] = sides;
  if (sides.length === 2 && first && second && isListed(tokens, first.to, second.from)) {
    return { first, second, from: first.from, to: second.to, square: false };
  }
  const square = squareOf(tokens, measures);
  if (square) return square;
  if (tokens.some((token) => token.kind === 'word' && ROUND_WORDS.has(token.word)))
    return ({ round }) => round;
  return onlyOne(measures);
}

function onlyOne(measures: readonly MeasureAt[]): Missing {
  const only = measures.find((m) => m.quantity.unit !== null) ?? measures[0]!;
  const { quantity } = only;
  const { fault } = quantity;
  if (fault !== undefined) return (_words, language) => fault(unitWords(language));
  if (measures.length > 1) return ({ whichSides }) => whichSides;
  return ({ oneSide }, language) =>
    oneSide(quantity.unit === null ? formatNumber(quantity.value, language) : shownLength(only, language));
}

function shownLength({ quantity }: Measure, language: Language): string {
  const unit = quantity.unit ?? 'mm';
  return formatLength(toMm(quantity.value, unit), unit === 'mm' || unit === 'in' ? unit : 'cm', language);
}

/** A number with the word for its side before or after it, if there is one. */
function measureAt(tokens: readonly Token[], at: number): MeasureAt | null {
  const before = sideBefore(tokens, at);
  const number = tokens[before ? before.to : at];
  if (number?.kind !== 'number') return null;
  const next = (before ? before.to : at) + 1;
  const after = before ? null : sideAfter(tokens, next);
  const side = before?.side ?? after?.side;
  return {
    quantity: number.quantity,
    negative: number.negative,
    ...(side === undefined ? {} : { side }),
    from: at,
    to: after?.to ?? next,
  };
}

/** `width: 30`, `W 30`. A single letter counts only where the line letters both sides (see `tokensOf`). */
function sideBefore(tokens: readonly Token[], at: number): { side: SideWord; to: number } | null {
  const token = tokens[at];
  if (token?.kind !== 'word') return null;
  const side = sideWord(token.word);
  if (side === undefined) return null;
  let to = at + 1;
  while (isSign(tokens[to], ':', '=') || isFiller(tokens[to])) to++;
  const number = tokens[to];
  if (number?.kind !== 'number') return null;
  // "Panel B 30 x 20 cm": a lone letter is part of a name, unless another follows the first number.
  if (token.word.length > 1) return { side, to };
  const later = tokens
    .slice(to + 1)
    .some((t) => t.kind === 'word' && t.word.length === 1 && sideWord(t.word));
  const earlier = tokens
    .slice(0, at)
    .some((t) => t.kind === 'word' && t.word.length === 1 && sideWord(t.word));
  return later || earlier ? { side, to } : null;
}

/** `30 wide`, `30 (w)`, `30w`, `30 along the grain`. */
function sideAfter(tokens: readonly Token[], at: number): { side: SideWord; to: number } | null {
  const bracketed = isSign(tokens[at], '(', '[');
  const token = tokens[bracketed ? at + 1 : at];
  if (token?.kind !== 'word') return null;
  const side = sideWord(token.word);
  if (side === undefined) return null;
  let to = (bracketed ? at + 1 : at) + 1;
  if (['along', 'across', 'im'].includes(token.word)) while (isFiller(tokens[to])) to++;
  if (!bracketed) return { side, to };
  return isSign(tokens[to], ')', ']') ? { side, to: to + 1 } : null;
}

function isFiller(token: Token | undefined): boolean {
  return token?.kind === 'word' && SIDE_FILLERS.has(token.word);
}

function isSign(token: Token | undefined, ...signs: string[]): boolean {
  return token?.kind === 'sign' && signs.includes(token.sign);
}

/** Measures joined by ×; the first of the longest such rows. */
function longestChain(tokens: readonly Token[], measures: readonly MeasureAt[]): MeasureAt[] {
  let best: MeasureAt[] = [];
  let current: MeasureAt[] = [];
  for (const measure of measures) {
    const last = current.at(-1);
    const joined = last !== undefined && last.to + 1 === measure.from && tokens[last.to]?.kind === 'times';
    current = joined ? [...current, measure] : [measure];
    if (current.length > best.length) best = current;
  }
  return best;
}

/** `60 cm, 8 cm`; `W 30 H 20`; `30 cm wide and 20 cm high`. */
function isListed(tokens: readonly Token[], from: number, to: number): boolean {
  return tokens
    .slice(from, to)
    .every(
      (t) => isSign(t, ',', ';', '/', '&') || (t.kind === 'word' && (t.word === 'and' || t.word === 'und')),
    );
}

function sidesOfChain(chain: readonly MeasureAt[]): FoundSides | Missing {
  const from = chain[0]!.from;
  const to = chain.at(-1)!.to;
  if (chain.length > 3) return ({ manyNumbers }) => manyNumbers(chain.length);
  if (chain.length === 2) return { first: chain[0]!, second: chain[1]!, from, to, square: false };
  const couldCount = (m: MeasureAt): boolean =>
    m.quantity.whole && m.quantity.unit === null && m.side === undefined;
  const [a, b, c] = chain as [MeasureAt, MeasureAt, MeasureAt];
  const unitBefore = a.quantity.unit !== null || b.quantity.unit !== null;
  // 60cm x 8cm x 2: what follows a unit and has none is the count.
  if (couldCount(c) && unitBefore) {
    return { first: a, second: b, from, to, square: false, count: { value: c.quantity.value, said: 'said' } };
  }
  if (couldCount(a)) {
    const { value } = a.quantity;
    const smallest = value < Math.min(b.quantity.value, c.quantity.value);
    const ownUnits = b.quantity.unit !== null && c.quantity.unit !== null;
    if (value <= LIKELY_COUNT || ownUnits) {
      const said = ownUnits || smallest ? 'said' : 'assumed';
      return { first: b, second: c, from, to, square: false, count: { value, said } };
    }
  }
  return ({ threeNumbers }) => threeNumbers;
}

/** `20 squares 5 in`, `10 cm Quadrat`. */
function squareOf(tokens: readonly Token[], measures: readonly MeasureAt[]): FoundSides | null {
  if (!tokens.some((t) => t.kind === 'word' && SQUARE_WORDS.has(t.word))) return null;
  const withUnit = measures.filter((m) => m.quantity.unit !== null);
  const side = withUnit.length === 1 ? withUnit[0] : measures.length === 1 ? measures[0] : undefined;
  if (!side) return null;
  const plain = { quantity: side.quantity, negative: side.negative };
  return { first: plain, second: plain, from: side.from, to: side.to, square: true };
}

/** `30 x 20 (cm)` */
function unitInBrackets(tokens: readonly Token[], at: number) {
  const token = tokens[at + 1];
  if (!isSign(tokens[at], '(', '[') || token?.kind !== 'word' || !isSign(tokens[at + 2], ')', ']'))
    return null;
  const unit = unitName(token.word);
  return unit === undefined ? null : { unit, from: at, to: at + 3 };
}

function countOf(
  counts: readonly FoundCount[],
  inChain: FoundSides['count'],
  mirrored: boolean,
): { copies: number; pair: boolean; said: Said } | Missing {
  const pairs = mirrored || counts.some((count) => count.pairs);
  const numbered = counts.filter((count) => !count.bare);
  const deciding = numbered.length > 0 || inChain ? numbered : counts;
  const values = deciding.map((count) => copiesOf(count.value, count.pairs));
  if (inChain) values.push(copiesOf(inChain.value, false));
  for (const value of values) if (typeof value === 'function') return value;
  const different = [...new Set(values)];
  if (different.length > 1) return ({ twoCounts, and }) => twoCounts(and(different.map(String)));
  const [copies] = different;
  if (typeof copies !== 'number') return { copies: pairs ? 2 : 1, pair: pairs, said: 'assumed' };
  if (pairs && copies > 1 && copies % 2 === 1) return ({ oddPairs }) => oddPairs(copies);
  return { copies, pair: pairs && copies > 1, said: counts.length > 0 ? 'said' : (inChain?.said ?? 'said') };
}

/** The words, or the sides as they were written. */
function nameOf(words: WordsAround, text: string, tokens: readonly Token[], found: FoundSides): string {
  if (words.name !== '') return words.name.slice(0, LIMITS.nameLength);
  const written = text.slice(tokens[found.from]!.start, tokens[found.to - 1]!.end).replace(/\s+/gu, ' ');
  return found.square ? `${written} square` : written;
}
