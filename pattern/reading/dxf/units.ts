import type { DrawingScale, UnitGuess } from '../drawing.ts';
import type { ReadingWords } from '../words/index.ts';
import type { DxfDocument } from './document.ts';
import { unitsText } from './lettering.ts';

/** mm for each code of $INSUNITS (DXF reference, header variables) that a pattern may be drawn in. */
const INSERT_UNITS: Readonly<Record<string, number>> = {
  '1': 25.4,
  '2': 304.8,
  '4': 1,
  '5': 10,
  '6': 1000,
  '8': 25.4e-6,
  '9': 0.0254,
  '10': 914.4,
  '13': 1e-3,
  '14': 100,
};

const UNITS: Readonly<Record<UnitGuess['unit'], number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

/** How large the numbers of the file are, and what else they may mean. `factor` is the user's correction. */
export function scaleOf(document: DxfDocument, factor: number, words: ReadingWords): DrawingScale {
  const known = INSERT_UNITS[document.header.get('$INSUNITS') ?? ''];
  if (known !== undefined)
    return {
      known: true,
      basis: 'physical',
      factor,
      mmPerUnitX: known * factor,
      mmPerUnitY: known * factor,
      doubt: null,
      guesses: [],
      unitGuesses: [],
    };
  const likely = likelyUnit(document);
  const read = likely ?? 'mm';
  const mmPerUnit = UNITS[read] * factor;
  const corrected = factor !== 1;
  return {
    known: false,
    basis: 'units',
    factor,
    mmPerUnitX: mmPerUnit,
    mmPerUnitY: mmPerUnit,
    doubt: corrected ? null : words.unitUnknown(words.unitNames[read], likely !== null),
    guesses: [],
    unitGuesses: corrected
      ? []
      : (Object.keys(UNITS) as UnitGuess['unit'][]).map((unit) => ({
          unit,
          factor: UNITS[unit] / UNITS[read],
          likely: unit === likely,
        })),
  };
}

/**
 * By the "Units:" text of D6673 (metric: mm, English: inch), else by the header's $MEASUREMENT, whose 0 says nothing:
 * programs leave it so.
 */
function likelyUnit(document: DxfDocument): UnitGuess['unit'] | null {
  const said = unitsText(document).toLowerCase();
  if (said === 'metric' || said === 'mm') return 'mm';
  if (said === 'cm') return 'cm';
  if (/^(english|imperial|inch|inches|in)$/.test(said)) return 'in';
  return document.header.get('$MEASUREMENT') === '1' ? 'mm' : null;
}
