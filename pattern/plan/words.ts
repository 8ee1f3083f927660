import type { Cloth, ClothLay, Material, Placed, Project } from '../exchange/project.ts';

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
  single: 'single layer',
} as const;

/** How the cloth lies, in a heading and in a sentence. */
export function spreadWords(lay: ClothLay, cloth: Cloth | undefined): string {
  const kinds = new Set(lay.segments.map((s) => s.spread));
  if (kinds.size === 0) kinds.add(lay.spread);
  if (cloth?.kind === 'remnant') return 'remnant, single layer, right side up';
  if (kinds.has('folded') && kinds.has('single')) return 'folded lengthwise first, then opened out';
  return kinds.has('folded')
    ? 'folded lengthwise, right sides together, wrong side up'
    : 'single layer, right side up';
}

export function stretchSentence(spread: 'single' | 'folded', from: string, to: string, part: number): string {
  return spread === 'folded'
    ? `Part ${part}, ${from} to ${to}: fold the cloth lengthwise, right sides together. Doubled: every placement cuts two, a plain and a mirrored one.`
    : `Part ${part}, ${from} to ${to}: single layer, cloth opened out, right side up.`;
}

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
