import type { MeasureWords } from './en.ts';

/** German words for why a line of a cut list can't be read. */
export const measureDe: MeasureWords = {
  lineTooLong: (letters, most) =>
    `Die Zeile hat ${letters} Zeichen; eine Zeile der Zuschnittliste hat höchstens ${most}.`,
  listTooLong: (lines, most) =>
    `Die Liste hat ${lines} Zeilen; auf einmal lassen sich höchstens ${most} lesen.`,
  noMeasures: 'Es fehlen Maße: beide Seiten angeben, etwa 30 x 20 cm.',
  oneSide: (length) => `Nur eine Seite ist angegeben (${length}): Die andere fehlt.`,
  round: 'Ein rundes Teil hat keine zwei Seiten: Es kommt unter „Maße eintippen“, „Andere Formen“ dazu.',
  whichSides: 'Welche Zahlen sind die zwei Seiten? Ein x dazwischen schreiben, etwa 30 x 20 cm.',
  manyNumbers: (count) => `${count} Zahlen sind malgenommen: Ein flaches Teil hat zwei Seiten.`,
  threeNumbers:
    'Drei Zahlen sind malgenommen: Ein flaches Teil hat zwei Seiten. Die Anzahl getrennt schreiben, etwa „2 Stück“ oder „(2)“.',
  twoCounts: (counts) => `Zwei Anzahlen sind angegeben, ${counts}: Welche gilt?`,
  and: (parts) => parts.join(' und '),
  oddPairs: (copies) => `${copies} Stück lassen sich nicht in gegengleichen Paaren schneiden.`,
  notWhole: (count) => `Die Anzahl ${count} ist keine ganze Zahl.`,
  negativeCount: 'Die Anzahl ist negativ.',
  zeroCount: 'Die Anzahl ist null.',
  tooMany: (copies, most) => `${copies} Stück sind zu viele: höchstens ${most} in einem Projekt.`,
  sides: { width: 'Breite', height: 'Höhe', length: 'Länge' },
  sameSides: (side) => `Beide Seiten heißen ${side}: Welche liegt quer?`,
  whichUnit: (value, unit) =>
    `Ist auch die ${value} in ${unit} gemeint? Hinter beide Zahlen eine Einheit schreiben.`,
  negativeSide: (length) => `Eine Seite ist negativ: −${length}.`,
  zeroSide: 'Eine Seite ist null.',
  longSide: (length, metres) => `Eine Seite von ${length} ist zu lang: höchstens ${metres} m.`,
  threeSides: 'Breite, Höhe und Länge sind angegeben: Ein flaches Teil hat zwei Seiten.',
  secondMissing: 'Die zweite Seite fehlt.',
  sidesMissing: (names, count) => `${names} ${count > 1 ? 'fehlen' : 'fehlt'}.`,
  sideUnread: (side, text) => `${side} „${text}“ lässt sich nicht lesen.`,
  countUnread: (text) => `Die Anzahl „${text}“ lässt sich nicht lesen.`,
  whichCount: 'Welche der drei Zahlen ist die Anzahl? Als „2 Stück“ schreiben.',
  numbersInRow: (count) =>
    `In der Zeile ${count === 1 ? 'steht eine Zahl' : `stehen ${count || 'keine'} Zahlen`}: Nötig sind Breite, Höhe und, wenn gewünscht, die Anzahl.`,
};
