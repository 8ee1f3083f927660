import type { Cloth, ClothLay, Placed, Spread } from '../../exchange/project.ts';

/** Every English word that a drawing says. A language is one such file; `index.ts` tells them apart. */

export type Hand = Placed['hand'];

export interface HandWords {
  /** Within a sentence or label. */
  readonly long: string;
  /** Where room is short. */
  readonly short: string;
  /** What its hatch means, for the key of signs. */
  readonly meaning: string;
}

type Doubled = Exclude<Spread, 'single' | 'sequence'>;

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
    short: 'symmetric',
    meaning: 'no left or right: its own mirror image',
  },
};

/** On cloth with two right sides a piece is turned over when it is sewn, so that any piece serves as both hands. */
const EITHER_OF_REVERSIBLE: HandWords = {
  long: 'either hand',
  short: 'either',
  meaning: 'either hand: the cloth has two right sides',
};

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

const SINGLE = 'single layer';
const DOUBLED = 'doubled: every placement cuts two';
const TWO = 'Every placement cuts two: one plain, one mirrored.';

const HOW_TO_SPREAD: Readonly<Record<Doubled, string>> = {
  folded: `Fold the cloth lengthwise, right sides together. ${TWO}`,
  crosswise: `Fold the cloth crosswise, cut end to cut end, right sides together. ${TWO}`,
  turned: `Fold the cloth crosswise, right sides together, cut it apart at the fold and turn the upper layer end for end, so that nap and print run the same way in both. ${TWO}`,
  middle: `Fold both selvedges to the middle, right sides together. No piece lies across the middle, where the upper layer is open. ${TWO}`,
  partial: `Fold one selvedge over only as far as drawn, right sides together; the rest lies single. On the doubled part every placement cuts two: one plain, one mirrored.`,
};

const faceWords = (cloth: Cloth | undefined): string =>
  cloth?.cutFromBack ? 'WRONG side up' : 'right side up';

const lowerFirst = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1);

export const planEn = {
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
  continues: 'goes on in the next row',
  continued: 'goes on from the row above',
  top: 'top',
  nap: 'nap: every top points this way',
  print: 'print: this way up',
  leftOver: 'left over',
  flaw: 'flaw',
  cut: 'cut',
  scale: 'Scale',
  sewLine: 'sew line',
  opened: 'size opened out',
  openedSize: (size: string) => `${size} opened`,
  doubled: DOUBLED,
  sheet: 'Sheet',
  part: (number: number, words: string) => `Part ${number}: ${words}`,
  twoLayers: 'unfolded',
  upperEdge: 'edge of the upper layer: doubled below, single above',
  middleOpen: 'upper layer open here',
  cutApart: 'cut the cloth apart here',
  foldedEnd: 'FOLD, across the cloth',
  turnedEnd: 'cut the fold open, turn the upper layer',
  copy: (copy: number, of: number) => `${copy} of ${of}`,
  halfPiece: (title: string) => `${title}. Half a piece: the marked edge lies on a fold.`,
  layPlan: (name: string) => `${name}: lay plan`,
  layPlans: 'Lay plans to cut from',
  atScale: (scale: number) => `Scale 1:${scale}.`,
  noMark: (count: number) => `${count} small pieces bear no mark at this scale: draw a larger page.`,

  /** The head of a plan: what is wrong, and the figures. */
  verdicts: { 'cannot fit': 'Does not fit.', 'not found': 'Not everything has found a place yet.' },
  missing: (pieces: string) => `Not on this cloth – ${pieces}`,
  facts: {
    width: 'Width',
    cutOff: 'Cut from the roll',
    buy: 'Buy',
    leftOver: 'Left over',
    sheets: 'Sheets',
    remnant: 'Remnant',
    use: 'Cloth used',
    trace: 'Pieces to trace',
    gap: 'Gap',
  },

  /** The table and the key of signs. */
  table: { piece: 'Piece', hand: 'Hand', size: 'Width × height', cut: 'Cut / list' },
  moreRows: (count: number) => `… and ${count} more rows: no room on this sheet`,
  signs: { grain: 'grain line', top: 'top', tag: 'A2: copy 2 of A', flaw: 'flaw: kept clear' },

  /** A hand in words; on reversible cloth `either` means more than a piece without left and right. */
  hand: (hand: Hand, cloth?: Cloth): HandWords =>
    hand === 'either' && cloth?.reversible ? EITHER_OF_REVERSIBLE : HANDS[hand],

  /** How the cloth lies, in a heading and in a sentence. */
  spread: (lay: ClothLay, cloth: Cloth | undefined): string => {
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
  },

  /** Which side is up where the cloth lies in a single layer. */
  face: faceWords,

  /** Heading of a stretch, longest first. */
  captions: (spread: Spread, seenFromBack: boolean): readonly string[] => {
    if (spread === 'single') {
      const face = seenFromBack ? 'WRONG side up, drawn mirrored' : 'right side up';
      return [`${SINGLE}, ${face}`, ...(seenFromBack ? ['single, WRONG side up'] : []), SINGLE, 'single'];
    }
    if (spread === 'folded' || spread === 'sequence') {
      return [`folded – ${DOUBLED}`, 'folded – each cuts two', 'folded'];
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
  },

  /** How a whole lay is spread, in titles and file names of parts. */
  spreadTitles: {
    single: SINGLE,
    folded: 'folded',
    sequence: 'doubled where it pays',
    crosswise: LIES.crosswise,
    turned: 'two layers, one turned',
    middle: LIES.middle,
    partial: LIES.partial,
  } satisfies Record<Spread, string> as Readonly<Record<Spread, string>>,

  /** How to spread the cloth so, for who stands at the table. */
  howToSpread: HOW_TO_SPREAD,

  stretch: (spread: Spread, from: string, to: string, part: number, face: string): string => {
    const where = `Part ${part}, ${from} to ${to}: `;
    if (spread === 'single') return `${where}single layer, cloth opened out, ${face}.`;
    return `${where}${lowerFirst(HOW_TO_SPREAD[spread === 'sequence' ? 'folded' : spread])}`;
  },

  /** Cloth that lies in two lengths takes twice what is drawn; of all of it, or of one part. */
  twice: (length: string, part: number | null): string =>
    `${part === null ? 'It' : `Part ${part}`} takes ${length} of cloth: two layers of the length drawn. Cut that off first.`,

  /** Of cloth that shrinks; per cent as they are read. */
  washed: (along: string, across: string): string =>
    `Wash the cloth before it is cut: it is drawn as it lies then, ${along} % shorter and ${across} % narrower. What to cut from the roll and to buy is given unwashed.`,

  /** What the fine hatch means beside selvedges. */
  leftOut: 'Hatched strips along the cloth are left out: selvedges, and what is faded.',

  /** What is drawn lightly under the pieces. */
  borderDrawn:
    'Light dashed lines along the cloth: the border, and the line on which lower edges of pieces lie.',
  repeatDrawn: {
    print: 'Crosses on the cloth: motifs of the print, as measured from the cut end and the selvedge.',
    even: 'Light lines on the cloth: the middles of its bars, as measured from the cut end and the selvedge.',
    uneven:
      'Light lines on the cloth: the middles of its bars, as measured from the cut end and the selvedge.',
  },

  /** How a cloth is cut from its back. */
  fromBack:
    'Cut from the back: where the cloth lies single it is drawn with its WRONG side up, mirrored as a whole. Lay the pattern of a plain piece face down, of a mirrored one face up.',

  /** Of several sheets alike. */
  sheets: (count: number): string =>
    `${count} sheets of this cloth are cut, drawn beside each other; they are not joined.`,

  squared: (length: string) => `Hatched at the cut end: ${length} to square it, part of the length cut.`,
  useOfRemnant: 'Cloth used: area of the cut pieces ÷ area of the remnant without its flaws.',
  useOfRoll: 'Cloth used: area of the cut pieces ÷ (whole width × length cut).',

  /** Cautions of one line. */
  caution: {
    blade: 'Close the blade after every cut.',
    heat: "No heat on vinyl or foam: follow the maker's instructions and local rules.",
    cords: 'Cords and straps on children’s things: local rules limit their length and place.',
  },

  /** What the arrow of nap or print beside the drawing means, where words stand apart from it. */
  arrow: (words: string) => `The arrow beside the drawing: ${words}.`,

  /** Counts by hand. */
  counts: (counts: {
    readonly plain: number;
    readonly mirrored: number;
    readonly onFold: number;
  }): string => {
    const parts: string[] = [];
    if (counts.plain > 0) parts.push(`${counts.plain} plain`);
    if (counts.mirrored > 0) parts.push(`${counts.mirrored} mirrored`);
    if (counts.onFold > 0) parts.push(`${counts.onFold} on the fold`);
    return parts.length > 0 ? parts.join(' + ') : 'none';
  },
};

export type PlanWords = typeof planEn;
