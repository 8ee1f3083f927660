import { type Quantity, scanQuantity } from '../units/index.ts';

/** The parts of a line of a cut list. */
export type Token =
  | {
      readonly kind: 'number';
      readonly quantity: Quantity;
      /** Written with a minus before it. */
      readonly negative: boolean;
      readonly start: number;
      readonly end: number;
    }
  | { readonly kind: 'word'; readonly word: string; readonly start: number; readonly end: number }
  /** `x`, `×`, `*`, `by` between two things. */
  | { readonly kind: 'times'; readonly start: number; readonly end: number }
  | { readonly kind: 'sign'; readonly sign: string; readonly start: number; readonly end: number };

const NUMBER_START = /^(?:[\d½-¾⅐-⅞⅒]|[.,]\d)/u;
const WORD = /\p{L}[\p{L}\p{M}\p{N}'’_.-]*/uy;
/** An x that stands alone or before a number: `30x20`, `x 2`, `2 x strap`. */
const TIMES = /[x×✕*](?=[\s\d½-¾⅐-⅞.,)\]]|$)|×/iuy;

/**
 * Splits a line. Words keep their digits (`A1`), unless `lettered`: then a side's letter before a number is a word of
 * its own (`W30`).
 */
export function tokensOf(text: string, lettered: boolean): Token[] {
  const tokens: Token[] = [];
  let at = 0;
  while (at < text.length) {
    const c = text[at]!;
    if (/\s/u.test(c)) {
      at++;
      continue;
    }
    const token = tokenAt(text, at, lettered, tokens.at(-1));
    tokens.push(token);
    at = token.end;
  }
  return tokens;
}

function tokenAt(text: string, at: number, lettered: boolean, before: Token | undefined): Token {
  const c = text[at]!;
  const minus = isMinus(text, at);
  const numberAt = minus ? at + 1 : at;
  if (NUMBER_START.test(text.slice(numberAt, numberAt + 2))) {
    const quantity = scanQuantity(text, numberAt);
    if (quantity !== null) return { kind: 'number', quantity, negative: minus, start: at, end: quantity.end };
  }
  TIMES.lastIndex = at;
  const glued = before?.kind === 'number' && before.end === at && /[x×]/iu.test(c);
  if (glued || TIMES.test(text)) return { kind: 'times', start: at, end: at + 1 };
  if (lettered && /[whlb]/iu.test(c) && /^\s*[:=]?\s*[\d½-¾⅐-⅞.,]/u.test(text.slice(at + 1))) {
    return { kind: 'word', word: c.toLowerCase(), start: at, end: at + 1 };
  }
  WORD.lastIndex = at;
  const word = WORD.exec(text)?.[0].replace(/[.'’-]+$/u, '');
  if (word) {
    const lower = word.toLowerCase();
    const end = at + word.length;
    const between = before?.kind === 'number' && NUMBER_START.test(text.slice(end).trimStart());
    if ((lower === 'by' || lower === 'mal') && between) return { kind: 'times', start: at, end };
    return { kind: 'word', word: lower, start: at, end };
  }
  return { kind: 'sign', sign: c, start: at, end: at + 1 };
}

/** A minus that touches its number and nothing before it; a dash between words has blanks about it. */
function isMinus(text: string, at: number): boolean {
  if (text[at] === '−') return true;
  return text[at] === '-' && (at === 0 || /[\sx×*(=:]/iu.test(text[at - 1]!));
}
