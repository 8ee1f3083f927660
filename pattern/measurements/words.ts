import type { LengthUnit } from '../units/index.ts';

/** The words of cut lists, English and German, lower case. */

export type Side = 'across' | 'along';

/** `length` runs along the grain beside a width, but across it beside a height: the height stands upright. */
export type SideWord = 'width' | 'height' | 'length';

const SIDE_WORDS: Readonly<Record<string, SideWord>> = {
  w: 'width',
  b: 'width',
  width: 'width',
  wide: 'width',
  breite: 'width',
  breit: 'width',
  weite: 'width',
  across: 'width',
  quer: 'width',
  h: 'height',
  height: 'height',
  high: 'height',
  tall: 'height',
  höhe: 'height',
  hoehe: 'height',
  hoch: 'height',
  l: 'length',
  length: 'length',
  long: 'length',
  länge: 'length',
  laenge: 'length',
  lang: 'length',
  along: 'length',
  lengthwise: 'length',
  fadenlauf: 'length',
  längs: 'length',
};

/** The side that a word names, or undefined. */
export function sideWord(word: string): SideWord | undefined {
  return Object.hasOwn(SIDE_WORDS, word) ? SIDE_WORDS[word] : undefined;
}

/** Words that may follow "along" and "across" and mean nothing more. */
export const SIDE_FILLERS = new Set(['the', 'grain', 'grainline', 'of', 'im']);

/** Words between a number of copies and the rest: `4 pcs`, `2 Stück`. */
export const COUNT_AFTER = new Set(
  'pcs pc pce pces piece pieces off ea each times copies copy stück stuck stueck stk st teile teil mal'.split(
    ' ',
  ),
);
/** Words before a number of copies: `cut 2`, `Anzahl: 2`. */
export const COUNT_BEFORE = new Set(
  'cut make need qty quantity count anzahl menge number zuschneiden schneiden'.split(' '),
);
export const PAIR_WORDS = new Set(['pair', 'pairs', 'paar', 'paare', 'pr', 'prs']);

/** Small numbers in words, after "cut" or before "pairs". */
export const NUMBER_WORDS: Readonly<Record<string, number>> = {
  a: 1,
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  eight: 8,
  ten: 10,
  twelve: 12,
  ein: 1,
  eins: 1,
  zwei: 2,
  drei: 3,
  vier: 4,
  sechs: 6,
  acht: 8,
};

/** Of pieces that one measure is enough for. */
export const ROUND_WORDS = new Set([
  'diameter',
  'dia',
  'circle',
  'circles',
  'durchmesser',
  'kreis',
  'kreise',
  'ø',
]);

export const SQUARE_WORDS = new Set(['square', 'squares', 'sq', 'quadrat', 'quadrate', 'quadrates']);

/** Words that begin the name of a material after the sides: `in canvas`, `aus Filz`. */
export const MATERIAL_BEFORE =
  /^(?:in|from|of|out of|made of|aus|material|fabric|cloth|stoff)\b\s*[:=]?\s*/iu;

/** Such a word alone, before a colon: `material: felt`. */
export const MATERIAL_WORD = /^(?:in|from|aus|material|fabric|cloth|stoff)$/iu;

/** Half pieces: cut on the fold. */
export const ON_FOLD =
  /\b(?:cut\s+)?(?:on|to|at)\s+(?:the\s+)?fold\b|\b(?:im|am)\s+(?:stoff)?bruch\b|\bstoffbruch\b/giu;

/** Mirrored copies. "in two mirrored pairs" goes as a whole; of "2 mirrored pairs" the count stays. */
export const MIRRORED = [
  /\bin\s+(?:\p{L}+\s+|\d+\s+)?(?:mirrored|mirror-image|opposite)\s+pairs?\b/giu,
  /\b(?:mirrored|mirror[- ]images?|reversed|as opposites|opposites|gegengleich|spiegelverkehrt|gespiegelt)\b/giu,
  /\b(?:left\s*(?:and|&|\/|\+)\s*right|links\s*(?:und|&|\/|\+)\s*rechts|l\s*[/+&]\s*r)\b/giu,
] as const;

/** `W x H`, `(H × B)`: the order of the sides, without numbers. Longest words first. */
const SIDE_NAMES = 'width|height|length|breite|höhe|hoehe|länge|laenge|[whlb]';
export const SIDE_ORDER = new RegExp(
  `\\(?(?<![\\p{L}\\d])(?<first>${SIDE_NAMES})\\s*(?:[x×*/]|by|mal)\\s*(?<second>${SIDE_NAMES})(?![\\p{L}\\d])\\)?\\s*:?`,
  'iu',
);

/** A letter before each number: `W 30 x H 20`, `b=30, h=20`. */
export const LETTERED =
  /(?<![\p{L}\d])[whlb]\s*[:=]?\s*[\d½-¾⅐-⅞.,][^\p{L}]*(?:mm|cm|m|in|inch|inches|zoll)?\s*(?:[x×*,;/]|by)?\s*(?<![\p{L}\d])[whlb]\s*[:=]?\s*[\d½-¾⅐-⅞.,]/iu;

export type Column =
  | 'name'
  | 'width'
  | 'height'
  | 'length'
  | 'size'
  | 'count'
  | 'material'
  | 'fold'
  | 'hand'
  | 'unit'
  | 'other';

const COLUMN_WORDS: Readonly<Record<Exclude<Column, 'other'>, string>> = {
  name: 'name piece part title description label teil bezeichnung schnittteil zuschnitt position',
  width: 'width w wide breite b across breit',
  height: 'height h high tall höhe hoehe hoch',
  length: 'length l long länge laenge lang along grain fadenlauf',
  size: 'size sizes dimensions dimension measurements measurement maße masse maß format abmessung abmessungen',
  count: 'count qty quantity pcs pieces copies number no cut amount anzahl menge stück stueck stk st x',
  material: 'material fabric cloth from stoff',
  fold: 'fold bruch stoffbruch',
  hand: 'mirrored pair pairs hand gegengleich paar',
  unit: 'unit units einheit',
};

/** What a column's head means, by its first known word; `other` for a head that is not known. */
export function columnOf(head: string): Column {
  const words = head.toLowerCase().match(/[\p{L}]+/gu) ?? [];
  for (const word of words) {
    for (const [column, known] of Object.entries(COLUMN_WORDS)) {
      if (known.split(' ').includes(word)) return column as Exclude<Column, 'other'>;
    }
  }
  return 'other';
}

/** Units as they stand in heads and headings: `(cm)`, `in inches`. */
const UNIT_NAMES: readonly (readonly [LengthUnit, RegExp])[] = [
  ['mm', /^(?:mm|millimet(?:er|re)s?)$/iu],
  ['cm', /^(?:cm|[cz]entimet(?:er|re)s?)$/iu],
  ['in', /^(?:in|inch|inches|zoll|["″”])$/iu],
  ['m', /^(?:m|met(?:er|re)s?)$/iu],
];

/** The unit that a single word names. */
export function unitName(word: string): LengthUnit | undefined {
  return UNIT_NAMES.find(([, pattern]) => pattern.test(word))?.[0];
}
