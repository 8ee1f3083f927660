/** English words for why something typed is no length. */
export const unitEn = {
  missing: 'A length is missing.',
  noLength: (text: string) =>
    `“${text}” is not a length: write a number and a unit, such as 12.5 cm or 4 7/8 in.`,
  rest: (text: string, rest: string) => `“${text}”: “${rest}” after the length is not understood.`,
  negative: 'A length cannot be negative.',
  zero: 'A length must be greater than zero.',
  tooLong: (length: string, mostMetres: number) => `${length} is too long: at most ${mostMetres} m.`,
  thousands: (written: string, meant: string) =>
    `${written} may mean ${meant}: write it without a thousands mark or without trailing zeros.`,
  byZero: (written: string) => `${written} divides by zero.`,
  largeFraction: (written: string) =>
    `${written} has a fraction of one or more beside a whole number: write it as one mixed number.`,
  noNumber: (written: string) => `${written} is no number I can read.`,
  mixed: (written: string) => `${written} mixes decimals and a fraction.`,
};

export type UnitWords = typeof unitEn;
