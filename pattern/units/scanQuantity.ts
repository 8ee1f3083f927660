import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { formatNumber } from './formatLength.ts';
import { type LengthUnit, toMm } from './length.ts';
import { type UnitWords, unitWords } from './words/index.ts';

/**
 * Reading one number as makers write it, with its unit if there is one: `11 1/4"`, `11¼ in`, `11-1/4`, `3,5 cm`,
 * `2'6"`, `.5 m`. Used for single fields and inside whole lines of a cut list.
 */

/** What is said of something that looks like a number and is none. */
type NumberFault = (words: UnitWords) => string;

/** One number found in a text, perhaps with a unit. */
export interface Quantity {
  /** The number in its own unit; for `2'6"` in inches. */
  readonly value: number;
  /** `null` where none was written. */
  readonly unit: LengthUnit | null;
  /** Where it begins and ends in the text (end exclusive). */
  readonly start: number;
  readonly end: number;
  /** Written with nothing but digits: could be a count. */
  readonly whole: boolean;
  /** Three digits stand after the only separator: `1,200` may be meant as twelve hundred. */
  readonly perhapsThousands: boolean;
  /** Why it can't be used although it looks like a number: gives a sentence. */
  readonly fault?: NumberFault;
}

/**
 * What is wrong with a number once its unit is known, or `null`. `1,200 mm` is refused because both readings are
 * likely; in other units twelve hundred is too long to be meant.
 */
export function quantityFault(
  quantity: Quantity,
  unit: LengthUnit,
  language: Language = USUAL_LANGUAGE,
): string | null {
  const words = unitWords(language);
  if (quantity.fault !== undefined) return quantity.fault(words);
  if (!quantity.perhapsThousands || unit !== 'mm') return null;
  const written = formatNumber(quantity.value, language);
  return words.thousands(`${written} mm`, `${Math.round(quantity.value * 1000)} mm`);
}

const VULGAR: Readonly<Record<string, readonly [number, number]>> = {
  '½': [1, 2],
  '⅓': [1, 3],
  '⅔': [2, 3],
  '¼': [1, 4],
  '¾': [3, 4],
  '⅕': [1, 5],
  '⅖': [2, 5],
  '⅗': [3, 5],
  '⅘': [4, 5],
  '⅙': [1, 6],
  '⅚': [5, 6],
  '⅛': [1, 8],
  '⅜': [3, 8],
  '⅝': [5, 8],
  '⅞': [7, 8],
  '⅒': [1, 10],
};
const VULGAR_CLASS = `[${Object.keys(VULGAR).join('')}]`;

/** Digits with thousands and decimals, or decimals alone: `310`, `30,5`, `1.200,5`, `.5`. */
const DECIMAL = '(?:\\d+(?:[.,]\\d+)*|[.,]\\d+)';
const SLASH = '[/⁄∕]';
/** A whole number joined to a fraction by a blank, a hyphen, "&" or "and". */
const JOIN = '(?:\\s*[-‐‑–]\\s*|\\s*&\\s*|\\s+and\\s+|\\s*)';
const NUMBER = new RegExp(
  [
    // 11 1/4, 11-1/4, 3/8. The fraction's bar may have blanks about it only where a whole number went before.
    `(?<whole>\\d+)(?:\\s*[-‐‑–]\\s*|\\s*&\\s*|\\s+and\\s+|\\s+)(?<top>\\d+)\\s?${SLASH}\\s?(?<bottom>\\d+)(?![\\d.,]*\\d)`,
    `(?<top2>\\d+)${SLASH}(?<bottom2>\\d+)(?![\\d.,]*\\d)`,
    // 11¼, 11 ¼, 11-¼, ¼
    `(?:(?<whole3>\\d+)${JOIN})?(?<vulgar>${VULGAR_CLASS})`,
    `(?<decimal>${DECIMAL})(?:${JOIN}(?<spoilt>\\d+${SLASH}\\d+|${VULGAR_CLASS}))?`,
  ].join('|'),
  'uy',
);

/** Unit words by what they mean. Longest first, so that `mm` is not read as `m`. */
const UNIT_WORDS: readonly (readonly [LengthUnit, string])[] = [
  ['mm', 'millimet(?:er|re)s?|mm'],
  ['cm', '[cz]entimet(?:er|re)s?|cms?'],
  ['m', 'met(?:er|re)s?|mtrs?|m'],
  ['in', 'inch(?:es)?|ins?|zoll'],
  ['ft', 'feet|foot|ft'],
  ['yd', 'yards?|yds?'],
];
/** A unit word ends at a non-letter, or at the "x" before the next number as in `30cmx20cm`. */
const UNIT_WORD = new RegExp(
  `\\s*(?:${UNIT_WORDS.map(([unit, words]) => `(?<${unit}>${words})`).join('|')})(?:(?![\\p{L}\\d])\\.?(?!\\d)|(?=x\\s*[\\d.,½-¾⅐-⅞]))`,
  'iuy',
);
const INCH_SIGN = /\s*(?:["″”“„‟]|''|′′|’’)/uy;
const FOOT_SIGN = /\s*['′’‘]/uy;
const BLANKS = /\s*/uy;

function matchAt(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

/** The unit written at `at`, blanks before it allowed. */
export function scanUnit(text: string, at: number): { unit: LengthUnit; end: number } | null {
  const inch = matchAt(INCH_SIGN, text, at);
  if (inch) return { unit: 'in', end: at + inch[0].length };
  const foot = matchAt(FOOT_SIGN, text, at);
  if (foot) return { unit: 'ft', end: at + foot[0].length };
  const word = matchAt(UNIT_WORD, text, at);
  if (!word?.groups) return null;
  for (const [unit] of UNIT_WORDS) {
    if (word.groups[unit] !== undefined) return { unit, end: at + word[0].length };
  }
  return null;
}

interface PlainNumber {
  readonly value: number;
  readonly end: number;
  readonly whole: boolean;
  readonly perhapsThousands: boolean;
  readonly fault?: NumberFault;
}

function readDecimal(text: string): { value: number; perhapsThousands: boolean } | null {
  const separators = [...text.matchAll(/[.,]/g)].map((match) => match[0]);
  const last = separators.at(-1);
  if (last === undefined) return { value: Number(text), perhapsThousands: false };
  const earlier = separators.slice(0, -1);
  if (earlier.length > 0) {
    const groups = text.split(/[.,]/);
    // 1.200,5 and 1,200.5: the last separator is the decimal one; 1.200.000: all of them group thousands.
    const grouped = groups.slice(1, -1).every((group) => group.length === 3) && groups[0]!.length <= 3;
    if (!grouped) return null;
    if (earlier.every((separator) => separator !== last)) {
      return {
        value: Number(`${groups.slice(0, -1).join('')}.${groups.at(-1)}`),
        perhapsThousands: false,
      };
    }
    if (groups.at(-1)!.length !== 3 || earlier.some((separator) => separator !== last)) return null;
    return { value: Number(groups.join('')), perhapsThousands: false };
  }
  return {
    value: Number(text.replace(',', '.')),
    perhapsThousands: /^[1-9]\d{0,2}[.,]\d{3}$/.test(text),
  };
}

function fraction(
  whole: string | undefined,
  top: number,
  bottom: number,
  written: string,
): { value: number; fault?: NumberFault } {
  const base = whole === undefined ? 0 : Number(whole);
  if (bottom === 0) return { value: Number.NaN, fault: ({ byZero }) => byZero(written) };
  if (whole !== undefined && top >= bottom) {
    return {
      value: base + top / bottom,
      fault: ({ largeFraction }) => largeFraction(written),
    };
  }
  return { value: base + top / bottom };
}

function scanNumber(text: string, at: number): PlainNumber | null {
  const match = matchAt(NUMBER, text, at);
  if (!match?.groups) return null;
  const end = at + match[0].length;
  const { whole, top, bottom, top2, bottom2, whole3, vulgar, decimal, spoilt } = match.groups;
  const rest = { end, whole: false, perhapsThousands: false };
  if (top !== undefined && bottom !== undefined) {
    return { ...rest, ...fraction(whole, Number(top), Number(bottom), match[0]) };
  }
  if (top2 !== undefined && bottom2 !== undefined) {
    return { ...rest, ...fraction(undefined, Number(top2), Number(bottom2), match[0]) };
  }
  if (vulgar !== undefined) {
    const [upper, lower] = VULGAR[vulgar]!;
    return { ...rest, ...fraction(whole3, upper, lower, match[0]) };
  }
  const read = readDecimal(decimal!);
  if (read === null) return { ...rest, value: Number.NaN, fault: ({ noNumber }) => noNumber(decimal!) };
  if (spoilt !== undefined) {
    return { ...rest, value: read.value, fault: ({ mixed }) => mixed(match[0]) };
  }
  return { end, ...read, whole: /^\d+$/.test(decimal!) };
}

/** Which unit may follow which in one length, such as feet and inches. */
const SMALLER: Readonly<Record<LengthUnit, readonly LengthUnit[]>> = {
  yd: ['ft', 'in'],
  ft: ['in'],
  m: ['cm', 'mm'],
  cm: ['mm'],
  in: [],
  mm: [],
};

/**
 * The number that begins exactly at `at`, with its unit and any smaller unit after it (`2'6"`, `1 yd 9 in`,
 * `1 m 20 cm`); `null` if no number begins there. Something that looks like a number but can't be one comes
 * with a `fault`.
 */
export function scanQuantity(text: string, at: number): Quantity | null {
  const first = scanNumber(text, at);
  if (first === null) return null;
  const unit = scanUnit(text, first.end);
  const found: Quantity = {
    value: first.value,
    unit: unit?.unit ?? null,
    start: at,
    end: unit?.end ?? first.end,
    whole: first.whole,
    perhapsThousands: first.perhapsThousands,
    ...(first.fault === undefined ? {} : { fault: first.fault }),
  };
  return unit === null ? found : withSmallerUnits(text, found, unit.unit);
}

function withSmallerUnits(text: string, found: Quantity, first: LengthUnit): Quantity {
  let sum = found;
  let last = first;
  for (;;) {
    const gap = matchAt(BLANKS, text, sum.end)![0].length;
    const next = scanNumber(text, sum.end + gap);
    if (next === null || next.fault !== undefined) return sum;
    const unit = scanUnit(text, next.end);
    // After a foot mark a bare number means inches: 2' 6
    const bareInches = unit === null && last === 'ft' && /['′’‘]\s*$/u.test(text.slice(0, sum.end));
    const smaller = bareInches && !/^\s*[x×*]/iu.test(text.slice(next.end)) ? 'in' : unit?.unit;
    if (smaller === undefined || !SMALLER[last].includes(smaller)) return sum;
    const target: LengthUnit = first === 'm' || first === 'cm' ? 'mm' : 'in';
    const soFar = toMm(sum.value, sum.unit ?? first) + toMm(next.value, smaller);
    sum = {
      ...sum,
      value: soFar / toMm(1, target),
      unit: target,
      end: unit?.end ?? next.end,
      whole: false,
      perhapsThousands: false,
    };
    last = smaller;
  }
}
