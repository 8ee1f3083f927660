/** Units of length that people write, and how many millimetres each is. Inside, everything is millimetres. */

export type LengthUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft' | 'yd';

/** The units a project may be shown in. */
export type ShownUnits = 'cm' | 'mm' | 'in';

/** Exact: the international yard of 1959 is 0.9144 m, an inch a thirty-sixth of it. */
export const MM_PER_INCH = 25.4;
export const MM_PER_YARD = 914.4;

/** Millimetres in one of each unit; all exact. */
export const MM_PER: Readonly<Record<LengthUnit, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: MM_PER_INCH,
  ft: 304.8,
  yd: MM_PER_YARD,
};

/** A length in millimetres. Rounded to a millionth of one, which only takes off the dust of binary fractions. */
export function toMm(value: number, unit: LengthUnit): number {
  return Math.round(value * MM_PER[unit] * 1e6) / 1e6;
}
