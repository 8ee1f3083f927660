import type { Spread } from '../../../exchange/project.ts';
import type { CuttingStretch, MeasuredFrom } from '../cuttingOrder.ts';

/** English words about the order of cutting. */

/** How a ruler lies right across the cloth. */
const FROM_EDGE_TO_EDGE: Readonly<Record<Spread, string>> = {
  single: 'selvedge to selvedge',
  folded: 'selvedge to fold',
  sequence: 'selvedge to fold',
  partial: 'selvedge to fold',
  middle: 'fold to fold',
  crosswise: 'selvedge to selvedge',
  turned: 'selvedge to selvedge',
};

export const cuttingEn = {
  order: (name: string) => `${name}: order of cutting`,
  lead: 'Numbers on the drawing are the steps. A block is what a straight cut leaves in one; lengths of a block are measured on it once it lies apart, all others as by the plan’s rulers. Where two lengths lie close together, the strip between them is waste.',
  doubled: {
    partly:
      'Doubled in part: there every cut goes through both layers, and every placement gives two pieces.',
    yes: 'Doubled: every cut goes through both layers, every placement gives two pieces.',
  },
  left: 'What is left',
  leftLength: (size: string) => `${size} beyond the length cut`,
  leftPiece: (size: string, along: string, across: string) => `${size} at ${along} along, ${across} across`,
  leftTwo: (size: string) => `two of ${size}`,
  leftOpened: (size: string) => `${size} opened out`,
  leftNone: 'No rectangle worth keeping.',
  table: (length: string) => `On a table of ${length}`,
  place: (i: number, from: string, to: string) => `Place ${i}: ${from} to ${to} of the cloth on the table`,
  placeMark: (i: number) => `table, place ${i}`,
  placeCuts: (tags: string) => `cut ${tags}`,
  placeHangs: (tags: string) =>
    `longer than the table: ${tags}. Let the cloth hang over, cut what lies on it, then draw it on`,

  /** The parts of a step. */
  layers: { no: '', partly: ', both layers where it is doubled', yes: ', both layers' } as Readonly<
    Record<CuttingStretch['doubled'], string>
  >,
  squaredAt: (length: string) => `squared at ${length}`,
  cutOffAt: (length: string) => `cut off at ${length}`,
  off: (spread: Spread, layers: string) => `The cloth: crosswise, ${FROM_EDGE_TO_EDGE[spread]}${layers}`,
  cloth: 'The cloth',
  block: (number: number, tags: string) => `Block ${number} (${tags})`,
  crosswise: 'crosswise',
  lengthwise: 'lengthwise',
  between: (length: string) => `${length} (between)`,
  from: {
    cutEnd: 'from the cut end',
    selvedge: 'from the selvedge',
    fold: 'from the fold',
    boxLeft: 'from the left edge',
    boxLow: 'from the lower edge',
    blockLeft: 'from its left edge',
    blockLow: 'from its lower edge',
  } as Readonly<Record<MeasuredFrom, string>>,
  foldOpen: 'the fold cut open',
  straightSides: 'straight sides',
  blockLeft: (number: number) => `block ${number}`,
  leaveWhole: (tag: string) => `${tag} (leave whole)`,
  outline: (layers: string) => `By outline: chalk by the positions, cut one after the other${layers}`,
  shared: (units: string, lines: string) => `Ruler lines they share, ${units} as the plan’s rulers: ${lines}`,
  held: 'Held back: keep the cloth at these places, cut them to measure later',
};

export type CuttingWords = typeof cuttingEn;
