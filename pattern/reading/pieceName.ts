import type { Point } from '../../nesting/packing/types.ts';

/** A text that may name a piece, and how it stands to it. */
export interface NameCandidate {
  readonly text: string;
  readonly sizeMm: number;
  /** On the piece itself; on an outline that fills most of it, such as its sew line; near it. */
  readonly stands: 'in' | 'within' | 'beside';
  /** How far from the middle of the piece, as a part of the way to its border: 0 there, 1 and more at the border. */
  readonly offMiddle: number;
}

/**
 * Words that tell of a place on a piece, of a measure or of what to do there, in English and German: a text with one of
 * them is seldom the name. To read another language, add its words.
 */
const NOTE_WORDS = new Set([
  ...[
    'edge',
    'fold',
    'seam',
    'stitch',
    'sew',
    'allowance',
    'grain',
    'notch',
    'align',
    'cut',
    'clip',
    'crease',
  ],
  ...['length', 'width', 'height', 'radius', 'diameter', 'scale', 'test', 'axis', 'make', 'corner', 'line'],
  ...['kante', 'bruch', 'stoffbruch', 'naht', 'nähen', 'nahtzugabe', 'zugabe', 'fadenlauf', 'zuschneiden'],
  ...['länge', 'breite', 'höhe', 'radius', 'durchmesser', 'maßstab', 'knips', 'ecke', 'linie', 'achse'],
]);
/** Words that hold sentences together; names have one at the most ("Back of the flap" has two, and is rare). */
const SENTENCE_WORDS = new Set([
  ...[
    'the',
    'this',
    'these',
    'to',
    'of',
    'for',
    'with',
    'from',
    'is',
    'are',
    'as',
    'because',
    'then',
    'each',
    'will',
  ],
  ...[
    'der',
    'die',
    'das',
    'den',
    'dem',
    'diese',
    'zu',
    'von',
    'für',
    'mit',
    'aus',
    'ist',
    'sind',
    'als',
    'dann',
    'wird',
  ],
]);

/** Longer ones are sentences. */
const LONGEST_NAME = 48;
const MOST_WORDS = 6;
/** Where a text stands tells most; below nought it is no name. */
const STANDING = { in: 3, within: 2.5, beside: 1.2 } as const;

/** Whether a text can name a piece: it has a word in it and doesn't start as a measurement does. */
export const isTelling = (text: string): boolean =>
  /^[^\d]*\p{L}{2}/u.test(text) && !/^[\d.,½¼¾⅛⅜⅝⅞]/.test(text);

/**
 * The likeliest name of a piece among the texts on it and near it: large, in its middle, short, and not a note about an
 * edge or what to sew. Null where none is likely.
 */
export function likeliestName(candidates: readonly NameCandidate[]): string | null {
  const sizes = candidates.map(({ sizeMm }) => sizeMm).sort((a, b) => a - b);
  const usual = sizes[Math.floor(sizes.length / 2)] ?? 0;
  let best: string | null = null;
  let most = 0;
  for (const candidate of candidates) {
    const name = nameIn(candidate.text);
    if (name === null) continue;
    const larger = usual > 0 && candidate.sizeMm > 0 ? Math.log2(candidate.sizeMm / usual) : 0;
    const score =
      STANDING[candidate.stands] +
      Math.max(-1, Math.min(1.5, larger)) +
      0.5 * (1 - Math.min(1, candidate.offMiddle)) -
      noteLikeness(name, candidate.text);
    if (score > most) {
      most = score;
      best = name;
    }
  }
  return best;
}

/** The lines of a text that may be a name, as one; null where its first line is none. */
function nameIn(text: string): string | null {
  const [first = '', second] = text.split('\n').map((line) => line.trim());
  if (!isTelling(first)) return null;
  const goesOn =
    second !== undefined &&
    isTelling(second) &&
    !/[\d:=.]/.test(second) &&
    noteLikeness(second, second) === 0;
  const whole = goesOn && first.length + second.length < LONGEST_NAME ? `${first} ${second}` : first;
  // "Webbing. The stiffer the better": what comes before the full stop.
  return whole.split(/(?<=\p{L}{2})[.;=](?=\s|$)/u)[0]!.trim();
}

/** How much a text is like a note; 0 for a plain name. */
function noteLikeness(name: string, text: string): number {
  const words = name.toLowerCase().match(/\p{L}+/gu) ?? [];
  const notes = words.filter((word) => NOTE_WORDS.has(word)).length;
  const glue = words.filter((word) => SENTENCE_WORDS.has(word)).length;
  return (
    (/^\s*[-•*–]/.test(text) ? 3 : 0) +
    2.5 * Math.min(2, notes) +
    // "Edge binding" may be one, "medial edge" is none.
    (NOTE_WORDS.has(words.at(-1) ?? '') ? 2 : 0) +
    (glue > 1 ? 2 : 0.4 * glue) +
    (name.length > LONGEST_NAME || words.length > MOST_WORDS ? 3 : 0)
  );
}

/** How far a point lies from the middle of a box, as a part of the way to its border. */
export function offMiddleOf(
  [x, y]: Point,
  box: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number },
): number {
  const dx = Math.abs(x - (box.minX + box.maxX) / 2) / ((box.maxX - box.minX) / 2 || 1);
  const dy = Math.abs(y - (box.minY + box.maxY) / 2) / ((box.maxY - box.minY) / 2 || 1);
  return Math.max(dx, dy);
}
