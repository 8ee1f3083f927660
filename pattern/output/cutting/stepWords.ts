import { type Language, USUAL_LANGUAGE } from '../../language.ts';
import { type ShownUnits, unitName } from '../../units/index.ts';
import { chalkLength } from '../positions.ts';
import type { CutStep, CuttingStretch } from './cuttingOrder.ts';
import { cuttingWords } from './words/index.ts';

/** A block is known by so many of its pieces. */
const MOST_TAGS = 8;
/** Of lines that pieces cut by outline share, so many are told. */
const MOST_SHARED = 12;

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
  language: Language = USUAL_LANGUAGE,
): StepWords {
  const words = cuttingWords(language);
  const unit = unitName(units, language);
  const chalk = (mm: number) => chalkLength(mm, units, language);
  const layers = words.layers[doubled];
  switch (work.kind) {
    case 'off': {
      const square = work.squareMm.map((at) => words.squaredAt(`${chalk(at)} ${unit}`));
      const off = work.offMm === null ? [] : [words.cutOffAt(`${chalk(work.offMm)} ${unit}`)];
      return { what: words.off(work.spread, layers), at: [...square, ...off].join(' · '), gives: '' };
    }
    case 'straight': {
      const some = work.inside.slice(0, MOST_TAGS).join(' ');
      const more = work.inside.length > MOST_TAGS ? ' …' : '';
      const what = work.block === 0 ? words.cloth : words.block(work.block, `${some}${more}`);
      const runs = work.lines
        .filter(({ fold }) => !fold)
        .map(({ at, edges }) => {
          const length = chalk(at - work.startMm);
          return edges.length === 0 ? words.between(length) : length;
        });
      const numbers = runs.length > 0 ? [`${runs.join(' · ')} ${unit} ${words.from[work.from]}`] : [];
      const folds = work.lines.some(({ fold }) => fold) ? [words.foldOpen] : [];
      return {
        what: `${what}: ${work.across ? words.crosswise : words.lengthwise}${layers}`,
        at: [...folds, ...numbers].join(' · '),
        gives:
          work.parts.length === 0
            ? words.straightSides
            : work.parts
                .map((part) => {
                  if (part.kind === 'block') return words.blockLeft(part.number);
                  return part.held ? words.leaveWhole(part.tag) : part.tag;
                })
                .join(' · '),
      };
    }
    case 'outline': {
      const shared = work.shared
        .slice(0, MOST_SHARED)
        .map(
          ({ across, at, tags }) =>
            `${across ? words.crosswise : words.lengthwise} ${chalk(at)} (${tags.join(' ')})`,
        );
      return {
        what: words.outline(layers),
        at: shared.length === 0 ? '' : words.shared(unit, shared.join(' · ')),
        gives: work.tags.join(' · '),
      };
    }
    case 'held':
      return { what: words.held, at: '', gives: work.tags.join(' · ') };
  }
}
