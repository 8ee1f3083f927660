import { type InEachLanguage, type Language, USUAL_LANGUAGE } from '../language.ts';
import { MM_PER_INCH, MM_PER_YARD, type ShownUnits } from './length.ts';

/** Rounding that hides more than this is shown by "≈": a tenth of a millimetre is below what a blade can follow. */
const HIDDEN_ROUNDING_MM = 0.1;
/** Dust of binary fractions, far below anything that can be cut; taken off before rounding up. */
const ROUNDING_DUST_MM = 1e-6;

const SIXTEENTHS = 16;
const MINUS = '−';

/** What stands before the decimals. */
const POINT: InEachLanguage<string> = { en: '.', de: ',' };
/** Units as they are written behind a number. */
const UNIT_NAMES: InEachLanguage<Readonly<Record<ShownUnits, string>>> = {
  en: { mm: 'mm', cm: 'cm', in: 'in' },
  de: { mm: 'mm', cm: 'cm', in: 'Zoll' },
};
const SQUARE_INCH: InEachLanguage<string> = { en: 'in²', de: 'Zoll²' };

/** A number with so many decimals, no thousands mark. */
export function formatDecimals(value: number, digits: number, language: Language): string {
  return value.toFixed(digits).replace('.', POINT[language]);
}

/** A number as it is, with the decimal sign of the language. */
export function formatNumber(value: number, language: Language): string {
  return String(value).replace('.', POINT[language]);
}

/** A decimal number without trailing zeros. */
function decimals(value: number, digits: number, language: Language): string {
  const text = value.toFixed(digits);
  return (text.includes('.') ? text.replace(/\.?0+$/, '') : text).replace('.', POINT[language]);
}

/** The unit as it is written in this language: `cm`, `in`, `Zoll`. */
export function unitName(units: ShownUnits, language: Language): string {
  return UNIT_NAMES[language][units];
}

/** `11 1/4` for a number of `bottom`ths, in lowest terms. */
function mixedNumber(parts: number, bottom: number): string {
  let top = parts % bottom;
  let under = bottom;
  while (top !== 0 && top % 2 === 0 && under % 2 === 0) {
    top /= 2;
    under /= 2;
  }
  if (top !== 0 && top % 3 === 0 && under % 3 === 0) {
    top /= 3;
    under /= 3;
  }
  const whole = Math.floor(parts / bottom);
  if (top === 0) return String(whole);
  return whole === 0 ? `${top}/${under}` : `${whole} ${top}/${under}`;
}

/** The number alone, without its unit, and whether rounding hides more than a tenth of a millimetre. */
function shownNumber(mm: number, units: ShownUnits, language: Language): { text: string; hidden: boolean } {
  const size = Math.abs(mm);
  const sign = mm < 0 ? MINUS : '';
  if (units === 'mm') {
    const text = decimals(size, 1, language);
    return { text: text === '0' ? text : sign + text, hidden: false };
  }
  if (units === 'cm') {
    const text = decimals(size / 10, 2, language);
    return { text: text === '0' ? text : sign + text, hidden: false };
  }
  const sixteenths = Math.round((size / MM_PER_INCH) * SIXTEENTHS);
  const rounded = (sixteenths * MM_PER_INCH) / SIXTEENTHS;
  const text = mixedNumber(sixteenths, SIXTEENTHS);
  return {
    text: text === '0' ? text : sign + text,
    hidden: Math.abs(rounded - size) > HIDDEN_ROUNDING_MM,
  };
}

/**
 * A length for reading: `30.5 cm`, `305 mm`, `11 1/4 in`. Metric to a tenth of a millimetre, inches to a sixteenth;
 * inches that had to be rounded by more than 0.1 mm carry "≈" (`≈ 12 3/16 in` for 310 mm), so that what looks
 * exact is. Not for rounding what is to be bought: see `formatPurchase`.
 */
export function formatLength(mm: number, units: ShownUnits, language: Language = USUAL_LANGUAGE): string {
  const { text, hidden } = shownNumber(mm, units, language);
  return `${hidden ? '≈ ' : ''}${text} ${unitName(units, language)}`;
}

/** A width and a height with the unit once: `30.5 × 20 cm`, `≈ 12 3/16 × 8 in`. */
export function formatSize(
  widthMm: number,
  heightMm: number,
  units: ShownUnits,
  language: Language = USUAL_LANGUAGE,
): string {
  const width = shownNumber(widthMm, units, language);
  const height = shownNumber(heightMm, units, language);
  return `${width.hidden || height.hidden ? '≈ ' : ''}${width.text} × ${height.text} ${unitName(units, language)}`;
}

/**
 * A length as the content of a field that will be read back: nothing is lost beyond 0.01 mm. Inches as a fraction
 * where that is exact to a sixty-fourth, else with four decimals. No unit: the field shows it.
 */
export function formatForField(mm: number, units: ShownUnits, language: Language = USUAL_LANGUAGE): string {
  const sign = mm < 0 ? '-' : '';
  const size = Math.abs(mm);
  if (units === 'mm') return sign + decimals(size, 2, language);
  if (units === 'cm') return sign + decimals(size / 10, 3, language);
  const sixtyFourths = Math.round((size / MM_PER_INCH) * 64);
  if (Math.abs((sixtyFourths * MM_PER_INCH) / 64 - size) < 0.005) {
    return sign + mixedNumber(sixtyFourths, 64);
  }
  return sign + decimals(size / MM_PER_INCH, 4, language);
}

/**
 * A length as it stands in a field that keeps its value until something else is typed: as makers read it, inches to a
 * sixteenth, with "≈" where that hides more than 0.1 mm. What is less than a thirty-second of an inch keeps its decimals.
 */
export function formatInField(mm: number, units: ShownUnits, language: Language = USUAL_LANGUAGE): string {
  const exact = formatForField(mm, units, language);
  if (units !== 'in' || mm < 0) return exact;
  const { text, hidden } = shownNumber(mm, units, language);
  if (!hidden) return text;
  return text === '0' ? exact : `${ABOUT} ${text}`;
}

/** Before a number that was rounded for reading. */
export const ABOUT = '≈';

/**
 * A length rounded up to whole steps, as a shop cuts it. Up with no tolerance: half a millimetre short is short.
 * @param stepMm greater than zero
 */
export function roundUpToStep(mm: number, stepMm: number): number {
  if (!(stepMm > 0)) throw new RangeError(`roundUpToStep: the step must be greater than zero, not ${stepMm}`);
  const steps = Math.ceil((mm - ROUNDING_DUST_MM) / stepMm);
  return Math.max(0, steps) * stepMm;
}

/**
 * A length to buy, rounded up with no tolerance: metres to the centimetre (`1.35 m`) or, where lengths are shown
 * in inches, yards to the eighth (`3/4 yd`, `1 7/8 yd`).
 */
export function formatPurchase(mm: number, units: ShownUnits, language: Language = USUAL_LANGUAGE): string {
  if (units === 'in') {
    const eighths = Math.round(roundUpToStep(mm, MM_PER_YARD / 8) / (MM_PER_YARD / 8));
    return `${mixedNumber(eighths, 8)} yd`;
  }
  return `${formatDecimals(roundUpToStep(mm, 10) / 1000, 2, language)} m`;
}

/** An area for reading: m² from a tenth of one, else cm²; yd² or in² for inches. Three figures. */
export function formatArea(mm2: number, units: ShownUnits, language: Language = USUAL_LANGUAGE): string {
  const [large, largeName, small, smallName] =
    units === 'in'
      ? ([MM_PER_YARD ** 2, 'yd²', MM_PER_INCH ** 2, SQUARE_INCH[language]] as const)
      : ([1e6, 'm²', 100, 'cm²'] as const);
  const inLarge = mm2 / large;
  const [value, unit] = Math.abs(inLarge) >= 0.1 ? [inLarge, largeName] : [mm2 / small, smallName];
  const digits = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2;
  return `${decimals(value, digits, language).replace('-', MINUS)} ${unit}`;
}

/** Square millimetres of a square foot, in which leather is sold. */
export const MM2_PER_SQUARE_FOOT = 304.8 ** 2;

/** An area of leather as it is sold, rounded up: square metres to two decimals, square feet to whole ones. */
export function formatHideArea(mm2: number, units: ShownUnits, language: Language = USUAL_LANGUAGE): string {
  if (units === 'in') return `${Math.ceil(mm2 / MM2_PER_SQUARE_FOOT - 1e-9)} ft²`;
  return `${decimals(Math.ceil(mm2 / 1e4 - 1e-9) / 100, 2, language)} m²`;
}
