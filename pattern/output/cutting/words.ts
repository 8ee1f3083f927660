import type { Spread } from '../../exchange/project.ts';
import type { ShownUnits } from '../../units/index.ts';
import { chalkLength } from '../positions.ts';
import type { CutStep, CuttingStretch, MeasuredFrom } from './cuttingOrder.ts';

/** Every English word about the order of cutting, so that another language is another file. */

const FROM: Readonly<Record<MeasuredFrom, string>> = {
  cutEnd: 'from the cut end',
  selvedge: 'from the selvedge',
  fold: 'from the fold',
  boxLeft: 'from the left edge',
  boxLow: 'from the lower edge',
  blockLeft: 'from its left edge',
  blockLow: 'from its lower edge',
};

/** A block is known by so many of its pieces. */
const MOST_TAGS = 8;

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

/** Where pairs lie against a fold. */
const CUT_OPEN = 'the fold cut open';

export interface StepWords {
  /** What is cut, and how the ruler lies. */
  readonly what: string;
  /** Where: running lengths. Empty where there is nothing to measure. */
  readonly at: string;
  /** What comes of it, in the order of the lengths. */
  readonly gives: string;
}

/** A step of the cutting in words; lengths to 1 mm or 1/16 in. */
export function stepWords(
  { work }: CutStep,
  units: ShownUnits,
  doubled: CuttingStretch['doubled'],
): StepWords {
  const length = (mm: number) => `${chalkLength(mm, units)} ${units}`;
  const both = { no: '', partly: ', both layers where it is doubled', yes: ', both layers' }[doubled];
  switch (work.kind) {
    case 'off': {
      const square = work.squareMm.map((at) => `squared at ${length(at)}`);
      const off = work.offMm === null ? [] : [`cut off at ${length(work.offMm)}`];
      return {
        what: `The cloth: crosswise, ${FROM_EDGE_TO_EDGE[work.spread]}${both}`,
        at: [...square, ...off].join(' · '),
        gives: '',
      };
    }
    case 'straight': {
      const some = work.inside.slice(0, MOST_TAGS).join(' ');
      const more = work.inside.length > MOST_TAGS ? ' …' : '';
      const what = work.block === 0 ? 'The cloth' : `Block ${work.block} (${some}${more})`;
      const runs = work.lines
        .filter(({ fold }) => !fold)
        .map(
          ({ at, edges }) =>
            `${chalkLength(at - work.startMm, units)}${edges.length === 0 ? ' (between)' : ''}`,
        );
      const numbers = runs.length > 0 ? [`${runs.join(' · ')} ${units} ${FROM[work.from]}`] : [];
      const folds = work.lines.some(({ fold }) => fold) ? [CUT_OPEN] : [];
      return {
        what: `${what}: ${work.across ? 'crosswise' : 'lengthwise'}${both}`,
        at: [...folds, ...numbers].join(' · '),
        gives:
          work.parts.length === 0
            ? 'straight sides'
            : work.parts
                .map((part) =>
                  part.kind === 'block'
                    ? `block ${part.number}`
                    : part.held
                      ? `${part.tag} (leave whole)`
                      : part.tag,
                )
                .join(' · '),
      };
    }
    case 'outline': {
      const shared = work.shared
        .slice(0, 12)
        .map(
          ({ across, at, tags }) =>
            `${across ? 'crosswise' : 'lengthwise'} ${chalkLength(at, units)} (${tags.join(' ')})`,
        );
      return {
        what: `By outline: chalk by the positions, cut one after the other${both}`,
        at:
          shared.length === 0
            ? ''
            : `Ruler lines they share, ${units} as the plan’s rulers: ${shared.join(' · ')}`,
        gives: work.tags.join(' · '),
      };
    }
    case 'held':
      return {
        what: 'Held back: keep the cloth at these places, cut them to measure later',
        at: '',
        gives: work.tags.join(' · '),
      };
  }
}

export const CUTTING = {
  order: 'order of cutting',
  lead: 'Numbers on the drawing are the steps. A block is what a straight cut leaves in one; lengths of a block are measured on it once it lies apart, all others as by the plan’s rulers.',
  doubled: {
    no: '',
    partly:
      'Doubled in part: there every cut goes through both layers, and every placement gives two pieces.',
    yes: 'Doubled: every cut goes through both layers, every placement gives two pieces.',
  },
  left: 'What is left',
  leftLength: (size: string) => `${size} beyond the length cut`,
  leftPiece: (size: string, at: string) => `${size} at ${at}`,
  leftTwo: (size: string) => `two of ${size}`,
  leftOpened: (size: string) => `${size} opened out`,
  leftNone: 'No rectangle worth keeping.',
  table: (length: string) => `On a table of ${length}`,
  place: (i: number, from: string, to: string) => `Place ${i}: ${from} to ${to} of the cloth on the table`,
  placeCuts: (tags: string) => `cut ${tags}`,
  placeHangs: (tags: string) =>
    `longer than the table: ${tags}. Let the cloth hang over, cut what lies on it, then draw it on`,
  done: 'done',
} as const;
