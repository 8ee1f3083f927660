import { LIMITS } from '../exchange/project.ts';
import { formatNumber } from '../units/index.ts';
import type { Missing } from './says/index.ts';
import type { Token } from './tokens.ts';
import { COUNT_AFTER, COUNT_BEFORE, NUMBER_WORDS, PAIR_WORDS } from './words.ts';

/** A number of copies found among the tokens from `from` to `to` (exclusive). */
export interface FoundCount {
  readonly from: number;
  readonly to: number;
  /** As written: pairs counted once. */
  readonly value: number;
  readonly pairs: boolean;
  /** Only the word "pair", without a number: with another count it says no more than that the copies are paired. */
  readonly bare?: true;
}

/**
 * Every place where a count is said: `2 @`, `2 x strap`, `(3)`, `(×3)`, `4 pcs`, `2 Stück`, `cut 2`, `1 pair`, `x 2`, a
 * number at the very beginning before a word, a number at the very end after a comma, `pair` at the end. Numbers that are sides
 * (`isSide`) are left alone. In reading order, without overlaps.
 */
export function findCounts(tokens: readonly Token[], isSide: (index: number) => boolean): FoundCount[] {
  const found: FoundCount[] = [];
  let at = 0;
  while (at < tokens.length) {
    const count = countAt(tokens, at, isSide);
    if (count) found.push(count);
    at = count ? count.to : at + 1;
  }
  return found;
}

function countAt(
  tokens: readonly Token[],
  at: number,
  isSide: (index: number) => boolean,
): FoundCount | null {
  const bare = (index: number): number | null => {
    const token = tokens[index];
    if (token?.kind !== 'number' || isSide(index) || token.quantity.unit !== null) return null;
    return token.negative ? -token.quantity.value : token.quantity.value;
  };
  const word = (index: number): string | null => {
    const token = tokens[index];
    return token?.kind === 'word' ? token.word : null;
  };
  const sign = (index: number): string | null => {
    const token = tokens[index];
    return token?.kind === 'sign' ? token.sign : token?.kind === 'times' ? 'x' : null;
  };
  /** After the number: a word for copies or pairs, swallowed. */
  const closing = (from: number, number: number, value: number): FoundCount => {
    const after = word(number + 1) ?? '';
    if (PAIR_WORDS.has(after)) return { from, to: number + 2, value, pairs: true };
    if (COUNT_AFTER.has(after)) return { from, to: number + 2, value, pairs: false };
    return { from, to: number + 1, value, pairs: false };
  };

  // cut 2, qty: 2, cut two pairs, cut a pair
  if (COUNT_BEFORE.has(word(at) ?? '')) {
    let next = at + 1;
    while ([':', '=', 'x'].includes(sign(next) ?? '') || word(next) === 'out') next++;
    const value = bare(next) ?? numberWord(word(next));
    const article = word(next) === 'a' || word(next) === 'ein';
    if (value !== null && (!article || PAIR_WORDS.has(word(next + 1) ?? ''))) return closing(at, next, value);
  }
  // a pair, two pairs
  const spelled = numberWord(word(at));
  if (spelled !== null && PAIR_WORDS.has(word(at + 1) ?? '')) {
    return { from: at, to: at + 2, value: spelled, pairs: true };
  }
  // two pockets …
  if (at === 0 && spelled !== null && spelled > 1 && tokens[1]?.kind === 'word' && !isSide(1)) {
    return { from: 0, to: 1, value: spelled, pairs: false };
  }
  // x 2 after something that is no number: "Side, x2", "(×2)"
  if (sign(at) === 'x' && bare(at + 1) !== null && tokens[at - 1]?.kind !== 'number') {
    return closing(at, at + 1, bare(at + 1)!);
  }
  // Pocket 20 x 15 cm pair; Pocket 20 x 15 cm (pair), canvas
  if (ONE_PAIR.has(word(at) ?? '') && sidesBefore(at, isSide) && endsHere(sign(at + 1), tokens[at + 1])) {
    return { from: at, to: at + 1, value: 1, pairs: true, bare: true };
  }
  const value = bare(at);
  if (value === null) return null;
  if (sign(at + 1) === '@') return { from: at, to: at + 2, value, pairs: false };
  if (PAIR_WORDS.has(word(at + 1) ?? '') || COUNT_AFTER.has(word(at + 1) ?? ''))
    return closing(at, at, value);
  // (3), [3], (3x)
  if (['(', '['].includes(sign(at - 1) ?? '')) {
    const end = sign(at + 1) === 'x' ? at + 2 : at + 1;
    if ([')', ']'].includes(sign(end) ?? '')) return { from: at, to: end, value, pairs: false };
  }
  // 2 x strap
  if (sign(at + 1) === 'x' && tokens[at + 2]?.kind !== 'number') {
    return { from: at, to: at + 2, value, pairs: false };
  }
  // 2 straps …; strap …, 2
  if (at === 0 && tokens[1]?.kind === 'word' && !isSide(1)) return { from: 0, to: 1, value, pairs: false };
  const dash = [',', ';', ':', '-', '–', '—', '='].includes(sign(at - 1) ?? '');
  if (at === tokens.length - 1 && dash) return { from: at, to: at + 1, value, pairs: false };
  return null;
}

/** The singular: "pairs" without a number says nothing of how many. */
const ONE_PAIR = new Set(['pair', 'paar', 'pr']);

function sidesBefore(at: number, isSide: (index: number) => boolean): boolean {
  for (let index = 0; index < at; index++) if (isSide(index)) return true;
  return false;
}

function endsHere(sign: string | null, token: Token | undefined): boolean {
  return token === undefined || [')', ']', ',', ';'].includes(sign ?? '');
}

function numberWord(word: string | null): number | null {
  return word !== null && Object.hasOwn(NUMBER_WORDS, word) ? NUMBER_WORDS[word]! : null;
}

/** Copies in all, or what is wrong with the count. */
export function copiesOf(value: number, pairs: boolean): number | Missing {
  const copies = pairs ? 2 * value : value;
  if (!Number.isInteger(value)) return ({ notWhole }, language) => notWhole(formatNumber(value, language));
  if (copies < 0) return ({ negativeCount }) => negativeCount;
  if (copies === 0) return ({ zeroCount }) => zeroCount;
  if (copies > LIMITS.copies) return ({ tooMany }) => tooMany(copies, LIMITS.copies);
  return copies;
}
