import { type Role, STYLES } from './tokens.ts';

/**
 * Texts without a screen to measure them on: widths from the metrics that Arial, Helvetica and their free
 * counterparts share (thousandths of the font size, as in the published Helvetica and Helvetica-Bold metrics).
 */

// biome-ignore format: a table, character 32 to 126
const REGULAR = [278,278,355,556,556,889,667,191,333,333,389,584,278,333,278,278,556,556,556,556,556,556,556,556,556,556,278,278,584,584,584,556,1015,667,667,722,722,667,611,778,722,278,500,667,556,833,722,778,667,778,722,667,611,722,667,944,667,667,611,278,278,278,469,556,333,556,556,500,556,556,278,556,556,222,222,500,222,833,556,556,556,556,333,500,278,556,500,722,500,500,500,334,260,334,584];
// biome-ignore format: a table, character 32 to 126
const BOLD = [278,333,474,556,556,889,722,238,333,333,389,584,278,333,278,278,556,556,556,556,556,556,556,556,556,556,333,333,584,584,584,611,975,722,722,722,722,667,611,778,722,278,556,722,611,833,722,778,667,778,722,667,611,722,667,944,667,667,611,333,278,333,584,556,333,556,611,556,611,556,333,611,611,278,278,556,278,889,611,611,611,611,389,556,333,611,556,778,556,556,500,389,280,389,584];
const OTHER: Readonly<Record<string, number>> = {
  '×': 584,
  '·': 278,
  '–': 556,
  '−': 584,
  '…': 1000,
  '≈': 549,
  '½': 834,
  '¼': 834,
  '¾': 834,
  '“': 500,
  '”': 500,
  '’': 278,
  '²': 333,
};
/** Letters beyond the tables: as wide as the widest common letter of their script. */
const LATIN_GUESS = 680;
const WIDE_GUESS = 1050;
/** Fonts differ a little from the table; a text that is thought to fit must. */
const SAFETY = 1.04;

/** Height of a line of digits and capitals, as a share of the font size. */
export const CAP_HEIGHT = 0.72;
/** Below the baseline. */
export const DESCENT = 0.22;
/** Baseline to baseline. */
export const LEADING = 1.2;

const COMBINING = /^[\p{M}\p{Cf}]$/u;
const WIDE =
  /^[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Extended_Pictographic}\uff00-\uff60]$/u;

/** Width of a text in the given size, mm; a little more than it will be. */
export function textWidth(text: string, size: number, role: Role): number {
  const table = STYLES[role].bold ? BOLD : REGULAR;
  let sum = 0;
  for (const character of text) {
    const code = character.codePointAt(0) as number;
    sum +=
      table[code - 32] ??
      OTHER[character] ??
      (COMBINING.test(character) ? 0 : WIDE.test(character) ? WIDE_GUESS : LATIN_GUESS);
  }
  return (sum / 1000) * size * SAFETY;
}

/** Longer than any name that is drawn; what comes after is not even looked at. */
const LONGEST = 400;
const RIGHT_TO_LEFT = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;

/**
 * A text from a user made fit to draw: on one line, without control characters, half surrogate pairs and
 * direction overrides (which could make a label read as another). Angle brackets and the like stay: escaping
 * is for the renderer.
 */
export function cleanText(text: string): string {
  return text
    .slice(0, LONGEST)
    .replace(/\s+/gu, ' ')
    .replace(/[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]/gu, '')
    .replace(/\p{Cs}/gu, '')
    .trim();
}

/** A name set among other words: names written right to left are kept from turning the words about them. */
export function isolate(name: string): string {
  return RIGHT_TO_LEFT.test(name) ? `\u2068${name}\u2069` : name;
}

const GRAPHEMES = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** The text, or as much of it as is no wider than `width` mm with an ellipsis after it. Never splits a letter. */
export function shorten(text: string, width: number, size: number, role: Role): string {
  if (textWidth(text, size, role) <= width) return text;
  const letters = [...GRAPHEMES.segment(text)].map((s) => s.segment);
  let low = 0;
  let high = letters.length;
  const cut = (count: number) => `${letters.slice(0, count).join('').trimEnd()}…`;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (textWidth(cut(middle), size, role) <= width) low = middle;
    else high = middle - 1;
  }
  return low === 0 ? '' : cut(low);
}

/** Broken at blanks into lines no wider than `width` mm; a single word that is too wide is shortened. */
export function wrap(text: string, width: number, size: number, role: Role): string[] {
  const lines: string[] = [];
  let current = '';
  for (const word of text.split(' ')) {
    const longer = current === '' ? word : `${current} ${word}`;
    if (current !== '' && textWidth(longer, size, role) > width) {
      lines.push(current);
      current = word;
    } else current = longer;
  }
  if (current !== '') lines.push(current);
  return lines.map((l) => shorten(l, width, size, role));
}

/**
 * Broken at blanks, and within a word that is wider than `width` mm; never within a letter. What has no room on
 * `most` lines is left out behind an ellipsis.
 */
export function breakAnywhere(
  text: string,
  width: number,
  size: number,
  role: Role,
  most: number = Number.POSITIVE_INFINITY,
): string[] {
  const fits = (part: string) => textWidth(part, size, role) <= width;
  const lines: string[] = [];
  let rest = text.trim();
  while (rest !== '') {
    if (lines.length + 1 >= most || fits(rest)) return [...lines, shorten(rest, width, size, role)];
    const line = firstLine(rest, fits);
    lines.push(line.trimEnd());
    rest = rest.slice(line.length).trimStart();
  }
  return lines;
}

/** As many words of a text as fit; of a first word that doesn't, as many letters, and one at least. */
function firstLine(text: string, fits: (part: string) => boolean): string {
  let end = 0;
  for (
    let next = text.indexOf(' ');
    next > 0 && fits(text.slice(0, next));
    next = text.indexOf(' ', next + 1)
  ) {
    end = next;
  }
  if (end > 0) return text.slice(0, end);
  for (const { segment, index } of GRAPHEMES.segment(text)) {
    const longer = index + segment.length;
    if (index > 0 && !fits(text.slice(0, longer))) break;
    end = longer;
  }
  return text.slice(0, end);
}

/** In two lines of about the same length, or `null` for a single word. */
export function inTwo(text: string): [string, string] | null {
  const words = text.split(' ');
  if (words.length < 2) return null;
  let best = 1;
  let bestLength = Number.POSITIVE_INFINITY;
  for (let i = 1; i < words.length; i++) {
    const longer = Math.max(words.slice(0, i).join(' ').length, words.slice(i).join(' ').length);
    if (longer < bestLength) {
      best = i;
      bestLength = longer;
    }
  }
  return [words.slice(0, best).join(' '), words.slice(best).join(' ')];
}
