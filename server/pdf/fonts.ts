import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

/**
 * Arimo has the widths that drawings are fitted by (see `pattern/plan/text.ts`) and the Latin, Greek, Cyrillic and
 * Hebrew letters; DejaVu Sans has those it lacks, Armenian, Georgian and Arabic among them. Both are open fonts.
 */
export const FONT_FILES = {
  regular: '@expo-google-fonts/arimo/400Regular/Arimo_400Regular.ttf',
  bold: '@expo-google-fonts/arimo/700Bold/Arimo_700Bold.ttf',
  'spare-regular': 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf',
  'spare-bold': 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf',
} as const;

export type FontName = keyof typeof FONT_FILES;

const require = createRequire(import.meta.url);
const read = new Map<FontName, Buffer>();

/** The font's file, read once. */
export function fontFile(name: FontName): Buffer {
  let file = read.get(name);
  if (file === undefined) {
    file = readFileSync(require.resolve(FONT_FILES[name]));
    read.set(name, file);
  }
  return file;
}

/** A stretch of text in one font and one direction. */
export interface FontRun {
  readonly font: FontName;
  readonly text: string;
}

const RIGHT_TO_LEFT = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;
const LETTER = /\p{L}/u;
const ISOLATED = /\u2068([^\u2069]*)\u2069/u;
/** Marks for direction have no glyph: by here they have done their work. */
const INVISIBLE = /[\p{Cf}\p{Cc}]/gu;
/** Words written from right to left, other words, and what stands between words. */
const TOKEN =
  /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}][\p{L}\p{M}]*|[\p{L}\p{M}\p{N}\p{S}]+|[^\p{L}\p{M}\p{N}\p{S}]+/gu;

/**
 * Splits a text into stretches of one font and one direction, in the order in which they stand from left to right.
 * `has` tells whether a font has a glyph for a code point; what neither has is left to the first, as a box.
 *
 * A name set apart by isolates (U+2068 … U+2069) runs in the direction of its first letter, all else from left to
 * right: the part of the Unicode bidirectional algorithm (UAX #9) that names among words need.
 */
export function fontRuns(
  text: string,
  bold: boolean,
  has: (font: FontName, codePoint: number) => boolean,
): FontRun[] {
  const [first, spare]: readonly [FontName, FontName] = bold
    ? ['bold', 'spare-bold']
    : ['regular', 'spare-regular'];
  const runs: { font: FontName; text: string; backwards: boolean }[] = [];
  for (const token of inVisualOrder(text)) {
    const backwards = isBackwards(token);
    let fresh = backwards;
    for (const character of token) {
      const codePoint = character.codePointAt(0) as number;
      const font = has(first, codePoint) || !has(spare, codePoint) ? first : spare;
      const last = runs.at(-1);
      if (last && !fresh && last.font === font && last.backwards === backwards) last.text += character;
      else runs.push({ font, text: character, backwards });
      fresh = false;
    }
  }
  return runs.map((run) => ({ font: run.font, text: run.text }));
}

const isBackwards = (token: string) => RIGHT_TO_LEFT.test(token);

function inVisualOrder(text: string): string[] {
  // Odd parts are what stood within isolates.
  return text.split(ISOLATED).flatMap((part, i) => {
    const tokens = part.replace(INVISIBLE, '').match(TOKEN) ?? [];
    const leading = tokens.find((token) => LETTER.test(token));
    return i % 2 === 1 && leading !== undefined && isBackwards(leading)
      ? turnRuns([...tokens].reverse(), (token) => !isBackwards(token) && !isBetween(token))
      : turnRuns(tokens, isBackwards);
  });
}

const isBetween = (token: string) => !/[\p{L}\p{N}]/u.test(token);

/** Turns round each stretch of tokens of one kind, with what stands between them. */
function turnRuns(tokens: readonly string[], isKind: (token: string) => boolean): string[] {
  const out: string[] = [];
  for (let i = 0; i < tokens.length; i++) {
    if (!isKind(tokens[i] as string)) {
      out.push(tokens[i] as string);
      continue;
    }
    let end = i;
    for (let j = i + 1; j < tokens.length; j++) {
      if (isKind(tokens[j] as string)) end = j;
      else if (!isBetween(tokens[j] as string)) break;
    }
    out.push(...tokens.slice(i, end + 1).reverse());
    i = end;
  }
  return out;
}
