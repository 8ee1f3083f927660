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
const NEUTRAL = /[\s\p{P}\p{M}]/u;
/** Marks for direction have no glyph; a page shows each stretch of letters in its own direction anyway. */
const INVISIBLE = /[\p{Cf}\p{Cc}]/gu;

/**
 * Splits a text into stretches of one font and one direction, in the order in which they stand from left to right.
 * `has` tells whether a font has a glyph for a code point; what neither has is left to the first, as a box.
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
  let waiting = '';
  for (const character of text.replace(INVISIBLE, '')) {
    const last = runs.at(-1);
    if (NEUTRAL.test(character) && last) {
      // Blanks and points between two stretches of one kind belong to both, else to the left-to-right text.
      waiting += character;
      continue;
    }
    const codePoint = character.codePointAt(0) as number;
    const font = has(first, codePoint) || !has(spare, codePoint) ? first : spare;
    const backwards = RIGHT_TO_LEFT.test(character);
    if (last && last.font === font && last.backwards === backwards) {
      last.text += waiting + character;
    } else if (last && !last.backwards) {
      last.text += waiting;
      runs.push({ font, text: character, backwards });
    } else if (waiting !== '' && backwards) {
      runs.push({ font: first, text: waiting, backwards: false }, { font, text: character, backwards });
    } else runs.push({ font, text: waiting + character, backwards });
    waiting = '';
  }
  const last = runs.at(-1);
  if (last && waiting !== '') {
    if (last.backwards) runs.push({ font: first, text: waiting, backwards: false });
    else last.text += waiting;
  }
  return runs.map(({ font, text: part }) => ({ font, text: part }));
}
