import type { PagesWords } from './en.ts';

/** German words for why sheets can't be put together as typed. */
export const pagesDe: PagesWords = {
  nothing: 'Die Nummern der Seiten eingeben, je Zeile eine Reihe von Blättern.',
  noPage: (row, word) => `Reihe ${row}: „${word}“ ist keine Seite; Zahlen eingeben und – für eine Lücke.`,
  tooMany: (most) => `Mehr als ${most} Blätter in einer Reihe oder Spalte lassen sich nicht zusammensetzen.`,
  unread: (page) => `Unter den gelesenen ist keine Seite ${page}.`,
  twice: (page) => `Seite ${page} steht zweimal da; jedes Blatt hat einen Platz.`,
  tooFew: 'Zum Zusammensetzen sind mindestens zwei Blätter nötig.',
};
