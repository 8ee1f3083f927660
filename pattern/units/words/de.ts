import type { UnitWords } from './en.ts';

/** German words for why something typed is no length. */
export const unitDe: UnitWords = {
  missing: 'Eine Länge fehlt.',
  noLength: (text) =>
    `„${text}“ ist keine Länge: eine Zahl mit Einheit eingeben, etwa 12,5 cm oder 4 7/8 Zoll.`,
  rest: (text, rest) => `„${text}“: „${rest}“ nach der Länge ist nicht zu verstehen.`,
  negative: 'Eine Länge kann nicht negativ sein.',
  zero: 'Eine Länge muss größer als null sein.',
  tooLong: (length, mostMetres) => `${length} ist zu lang: höchstens ${mostMetres} m.`,
  thousands: (written, meant) =>
    `${written} könnte ${meant} heißen: ohne Tausenderzeichen oder ohne Nullen am Ende eingeben.`,
  byZero: (written) => `${written} teilt durch null.`,
  largeFraction: (written) =>
    `${written} hat neben einer ganzen Zahl einen Bruch von eins oder mehr: als eine gemischte Zahl eingeben.`,
  noNumber: (written) => `${written} lässt sich nicht als Zahl lesen.`,
  mixed: (written) => `${written} mischt Dezimalstellen und einen Bruch.`,
};
