import { LIMITS } from '../exchange/project.ts';
import {
  formatLength,
  formatNumber,
  type LengthUnit,
  type Quantity,
  quantityFault,
  toMm,
} from '../units/index.ts';
import type { Said } from './entry.ts';
import type { Missing } from './says/index.ts';
import type { SideWord } from './words.ts';

/** One side as written: its number and, if it was said, which side it is. */
export interface Measure {
  readonly quantity: Quantity;
  readonly negative: boolean;
  readonly side?: SideWord;
}

export type Sides =
  | {
      readonly ok: true;
      readonly acrossMm: number;
      readonly alongMm: number;
      readonly grainSaid: Said;
      readonly unitSaid: Said;
    }
  | { readonly ok: false; readonly missing: Missing };

/** What a list says about all its lines. */
export interface SideDefaults {
  readonly unit: LengthUnit;
  /** The unit was said for the list (in a head), so that it is not assumed for a line. */
  readonly unitSaid: boolean;
  /** Each number has its own unit or the default one (columns of a table); else one unit serves both. */
  readonly ownUnits?: boolean;
  /** Order of the sides where a line names none, if the list says one. */
  readonly order?: readonly [SideWord, SideWord];
}

/**
 * Two sides in millimetres and which is which. A number without a unit takes that of the other, else the default; not
 * metres or yards, though: "binding 6 x 1.5 m" is hardly six metres wide. Without a word for the sides the first is the width, across the grain, and the second the
 * height, along it.
 */
export function sidesOf(first: Measure, second: Measure, defaults: SideDefaults): Sides {
  const [a, b] = named(first, second, defaults);
  if (a.side !== undefined && a.side === b.side) {
    const { side } = a;
    return { ok: false, missing: ({ sameSides, sides }) => sameSides(sides[side]) };
  }
  const shared = defaults.ownUnits ? null : (b.quantity.unit ?? a.quantity.unit);
  const bare = [a, b].find((measure) => measure.quantity.unit === null);
  if (bare && (shared === 'm' || shared === 'yd') && defaults.unit !== shared) {
    return {
      ok: false,
      missing: ({ whichUnit }, language) => whichUnit(formatNumber(bare.quantity.value, language), shared),
    };
  }
  const firstMm = lengthOf(a, shared, defaults);
  const secondMm = lengthOf(b, shared, defaults);
  if (typeof firstMm === 'function') return { ok: false, missing: firstMm };
  if (typeof secondMm === 'function') return { ok: false, missing: secondMm };
  const said = a.side !== undefined || b.side !== undefined;
  const firstAlong = runsAlong(a.side, b.side);
  const unitKnown = !bare || shared !== null || defaults.unitSaid;
  // A length beside a height: which of them lies along the grain is not said by the words.
  const clear =
    said && !(a.side !== 'width' && b.side !== 'width' && a.side !== undefined && b.side !== undefined);
  return {
    ok: true,
    alongMm: firstAlong ? firstMm : secondMm,
    acrossMm: firstAlong ? secondMm : firstMm,
    grainSaid: clear ? 'said' : 'assumed',
    unitSaid: unitKnown ? 'said' : 'assumed',
  };
}

function named(first: Measure, second: Measure, { order }: SideDefaults): [Measure, Measure] {
  if (order === undefined || first.side !== undefined || second.side !== undefined) return [first, second];
  return [
    { ...first, side: order[0] },
    { ...second, side: order[1] },
  ];
}

/** Whether the first side is the one along the grain. */
function runsAlong(first: SideWord | undefined, second: SideWord | undefined): boolean {
  if (first === 'height' || second === 'width') return true;
  if (second === 'height' || first === 'width') return false;
  return first === 'length';
}

/** Millimetres, or what to say on why not. */
function lengthOf(
  { quantity, negative }: Measure,
  other: LengthUnit | null,
  defaults: SideDefaults,
): number | Missing {
  const unit = quantity.unit ?? other ?? defaults.unit;
  if (quantityFault(quantity, unit) !== null)
    return (_words, language) => quantityFault(quantity, unit, language) ?? '';
  const mm = toMm(quantity.value, unit);
  if (negative) return ({ negativeSide }, language) => negativeSide(formatLength(mm, 'cm', language));
  if (mm === 0) return ({ zeroSide }) => zeroSide;
  if (mm > LIMITS.lengthMm) {
    return ({ longSide }, language) => longSide(formatLength(mm, 'cm', language), LIMITS.lengthMm / 1000);
  }
  return mm;
}
