import type { Cloth, ClothLay, Material, Placed, Project, Spread } from '../exchange/project.ts';

/** Every English word that a drawing says, in one place, so that another language is another file. */

export const LANG = 'en';

export type Hand = Placed['hand'];

export interface HandWords {
  /** Within a sentence or label. */
  readonly long: string;
  /** Where room is short. */
  readonly short: string;
  /** What its hatch means, for the key of signs. */
  readonly meaning: string;
}

const HANDS: Readonly<Record<Hand, HandWords>> = {
  plain: { long: 'plain', short: 'plain', meaning: 'plain: as drawn' },
  mirrored: { long: 'mirrored', short: 'mirrored', meaning: 'mirrored' },
  pair: {
    long: 'pair: cuts 1 plain + 1 mirrored',
    short: 'pair',
    meaning: 'pair: cuts 1 plain + 1 mirrored',
  },
  fold: { long: 'on the fold', short: 'on fold', meaning: 'on the fold: opens to a whole piece' },
  either: {
    long: 'no left or right',
    short: 'no hand',
    meaning: 'no left or right: its own mirror image',
  },
};

/** On cloth with two right sides a piece is turned over when it is sewn, so that any piece serves as both hands. */
const EITHER_OF_REVERSIBLE: HandWords = {
  long: 'either hand',
  short: 'either',
  meaning: 'either hand: the cloth has two right sides',
};

/** A hand in words; on reversible cloth `either` means more than a piece without left and right. */
export function handWords(hand: Hand, cloth?: Cloth): HandWords {
  return hand === 'either' && cloth?.reversible ? EITHER_OF_REVERSIBLE : HANDS[hand];
}

export const WORDS = {
  cutEnd: 'cut end',
  openOut: 'open the cloth out here',
  selvedge: 'selvedge',
  selvedges: 'both selvedges',
  fold: 'FOLD – do not cut this edge',
  foldShort: 'FOLD',
  held: 'held back',
  sets: (numbers: readonly number[]) => `set ${numbers.join(' and ')}`,
  length: (name: string, n: number, of: number) => `${name}, length ${n} of ${of}`,
  guest: (material: string) => `instead of ${material}`,
  heldMeaning: 'held back: keep this place, cut it later to measure',
  crease: 'crease of the fold',
  edgeOfRemnant: 'edge of the remnant',
  continues: 'goes on in the next row',
  continued: 'goes on from the row above',
  squaring: 'squared off',
  top: 'top',
  nap: 'nap: every top points this way',
  print: 'print: this way up',
  leftOver: 'left over',
  flaw: 'flaw',
  cut: 'cut',
  scale: 'Scale',
  sewLine: 'sew line',
  opened: 'size opened out',
  doubled: 'doubled: every placement cuts two',
  sheet: 'Sheet',
  twoLayers: 'unfolded',
  upperEdge: 'edge of the upper layer: doubled below, single above',
  middleOpen: 'upper layer open here',
  cutApart: 'cut the cloth apart here',
  foldedEnd: 'FOLD, across the cloth',
  turnedEnd: 'cut the fold open, turn the upper layer',
  single: 'single layer',
} as const;

/** How the cloth lies, in a heading and in a sentence. */
export function spreadWords(lay: ClothLay, cloth: Cloth | undefined): string {
  const kinds = new Set(lay.segments.map((s) => s.spread));
  if (kinds.size === 0) kinds.add(lay.spread);
  const face = faceWords(cloth);
  if (cloth?.kind === 'remnant') return `remnant, single layer, ${face}`;
  const first = [...kinds].find((kind) => kind !== 'single');
  if (first === undefined) return `single layer, ${face}`;
  const doubled = first === 'sequence' ? 'folded' : first;
  return kinds.has('single')
    ? `${LIES[doubled]} first, then opened out`
    : `${LIES[doubled]}, ${DOUBLED_FACE[doubled]}`;
}

/** Which side is up where the cloth lies in a single layer. */
export const faceWords = (cloth: Cloth | undefined): string =>
  cloth?.cutFromBack ? 'WRONG side up' : 'right side up';

type Doubled = Exclude<Spread, 'single' | 'sequence'>;

const LIES: Readonly<Record<Doubled, string>> = {
  folded: 'folded lengthwise',
  crosswise: 'folded crosswise',
  turned: 'cut at a crosswise fold, upper layer turned',
  middle: 'both selvedges to the middle',
  partial: 'folded in part',
};

const DOUBLED_FACE: Readonly<Record<Doubled, string>> = {
  folded: 'right sides together, wrong side up',
  crosswise: 'right sides together, wrong side up',
  turned: 'right sides together, wrong side up',
  middle: 'right sides together, wrong side up',
  partial: 'right sides together; the single part lies right side up',
};

const TWO = 'Every placement cuts two: one plain, one mirrored.';

/** Heading of a stretch, longest first. */
export function captionWays(spread: Spread, seenFromBack: boolean): readonly string[] {
  if (spread === 'single') {
    const face = seenFromBack ? 'WRONG side up, drawn mirrored' : 'right side up';
    return [
      `${WORDS.single}, ${face}`,
      ...(seenFromBack ? ['single, WRONG side up'] : []),
      WORDS.single,
      'single',
    ];
  }
  if (spread === 'folded' || spread === 'sequence') {
    return [`folded – ${WORDS.doubled}`, 'folded – each cuts two', 'folded'];
  }
  if (spread === 'turned') {
    return [
      'two layers, the upper turned – every placement cuts two',
      'two layers – each cuts two',
      'two layers',
    ];
  }
  if (spread === 'partial') return [`${LIES.partial}: doubled below, single above`, LIES.partial, 'folded'];
  return [`${LIES[spread]} – every placement cuts two`, `${LIES[spread]} – each cuts two`, LIES[spread]];
}

/** How a whole lay is spread, in titles and file names of parts. */
export const SPREAD_TITLES: Readonly<Record<Spread, string>> = {
  single: 'single layer',
  folded: 'folded',
  sequence: 'doubled where it pays',
  crosswise: LIES.crosswise,
  turned: 'two layers, one turned',
  middle: LIES.middle,
  partial: LIES.partial,
};

/** How to spread the cloth so, for who stands at the table. */
export const HOW_TO_SPREAD: Readonly<Record<Doubled, string>> = {
  folded: `Fold the cloth lengthwise, right sides together. ${TWO}`,
  crosswise: `Fold the cloth crosswise, cut end to cut end, right sides together. ${TWO}`,
  turned: `Fold the cloth crosswise, right sides together, cut it apart at the fold and turn the upper layer end for end, so that nap and print run the same way in both. ${TWO}`,
  middle: `Fold both selvedges to the middle, right sides together. No piece lies across the middle, where the upper layer is open. ${TWO}`,
  partial: `Fold one selvedge over only as far as drawn, right sides together; the rest lies single. On the doubled part every placement cuts two: one plain, one mirrored.`,
};

export function stretchSentence(
  spread: Spread,
  from: string,
  to: string,
  part: number,
  face: string,
): string {
  const where = `Part ${part}, ${from} to ${to}: `;
  if (spread === 'single') return `${where}single layer, cloth opened out, ${face}.`;
  return `${where}${lowerFirst(HOW_TO_SPREAD[spread === 'sequence' ? 'folded' : spread])}`;
}

/** Cloth that lies in two lengths takes twice what is drawn. */
export const twiceSentence = (length: string, part: string): string =>
  `${part}takes ${length} of cloth: two layers of the length drawn. Cut that off first.`;

/** Of cloth that shrinks. */
export const washedSentence = (along: number, across: number): string =>
  `Wash the cloth before it is cut: it is drawn as it lies then, ${along} % shorter and ${across} % narrower. What to cut from the roll and to buy is given unwashed.`;

/** What the fine hatch means beside selvedges. */
export const LEFT_OUT = 'Hatched strips along the cloth are left out: selvedges, and what is faded.';

/** What is drawn lightly under the pieces. */
export const REPEAT_DRAWN = {
  print: 'Crosses on the cloth: motifs of the print, as measured from the cut end and the selvedge.',
  even: 'Light lines on the cloth: the middles of its bars, as measured from the cut end and the selvedge.',
  uneven: 'Light lines on the cloth: the middles of its bars, as measured from the cut end and the selvedge.',
} as const;

/** How a cloth is cut from its back. */
export const FROM_BACK =
  'Cut from the back: where the cloth lies single it is drawn with its WRONG side up, mirrored as a whole. Lay the pattern of a plain piece face down, of a mirrored one face up.';

/** Of several sheets alike. */
export const sheetsSentence = (count: number): string =>
  `${count} sheets of this cloth are cut, drawn beside each other; they are not joined.`;

const lowerFirst = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1);

/** Materials that give off harmful fumes when heated, by the words that makers use for them. */
const NO_HEAT = /vinyl|pvc|foam|leatherette|faux leather|polyurethane|\bpu\b/iu;

/** One line of caution for this job. */
export function caution(
  material: Material | undefined,
  cloth: Cloth | undefined,
  project?: Pick<Project, 'name' | 'notes' | 'pieces'>,
): string {
  const parts = ['Close the blade after every cut.'];
  if (isNotToBeHeated(material, cloth)) {
    parts.push("No heat on vinyl or foam: follow the maker's instructions and local rules.");
  }
  if (project && hasCordsForChildren(project)) {
    parts.push('Cords and straps on children’s things: local rules limit their length and place.');
  }
  return parts.join(' ');
}

/** Whether heating the cloth would give off harmful fumes, as far as its names tell. */
export function isNotToBeHeated(material: Material | undefined, cloth: Cloth | undefined): boolean {
  return material?.role === 'foam' || NO_HEAT.test(`${material?.name ?? ''} ${cloth?.name ?? ''}`);
}

const FOR_CHILDREN = /child|kids?\b|baby|babies|toddler|infant/iu;
const CORDS = /cord\b|cords\b|drawstring|strap|\bstring|\bties?\b/iu;

/** Such as 16 CFR 1120 on drawstrings; which rules hold where, the maker must know. */
function hasCordsForChildren({ name, notes, pieces }: Pick<Project, 'name' | 'notes' | 'pieces'>): boolean {
  const said = [name, notes, ...pieces.flatMap((piece) => [piece.name, piece.notes])].join(' ');
  return FOR_CHILDREN.test(said) && pieces.some((piece) => CORDS.test(piece.name));
}

export function countWords(counts: {
  readonly plain: number;
  readonly mirrored: number;
  readonly onFold: number;
}): string {
  const parts: string[] = [];
  if (counts.plain > 0) parts.push(`${counts.plain} plain`);
  if (counts.mirrored > 0) parts.push(`${counts.mirrored} mirrored`);
  if (counts.onFold > 0) parts.push(`${counts.onFold} on the fold`);
  return parts.length > 0 ? parts.join(' + ') : 'none';
}
