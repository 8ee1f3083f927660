import type { Strings } from '../en.ts';
import { many, und } from './words.ts';

/** Parts of one piece, and how they are joined: in the import and on the piece. */

export const parts: Strings['parts'] = {
  title: 'Stücke',
  importTitle: 'Stücke eines Teils',
  importLead: (count) =>
    `${many(count, 'Buchstabe', 'Buchstaben')} an Kanten ${count === 1 ? 'sagt' : 'sagen'}, welche Umrisse zusammengehören.`,
  pair: (letter, first, second, length) => `${letter}: ${first} mit ${second}, ${length}`,
  lone: (letter, name, edge) => `${letter} an ${name}, ${edge}: hier ohne Gegenstück`,
  unlike: (off) => `Die Kanten unterscheiden sich um ${off} und werden nicht verbunden.`,
  choiceOf: (letter) => `Was aus ${letter} wird`,
  choices: {
    butt: 'Kante an Kante verbinden',
    lap: 'Übereinanderlegen',
    later: 'Später am Teil verbinden',
    never: 'Ist keine Ansatzstelle',
  },
  lapMm: 'Um wie viel',
  notTaken: 'Wird verbunden, sobald beide Umrisse genommen sind.',
  takeBoth: 'Beide nehmen',
  takenBoth: (first, second) => `Beide nehmen: ${first} und ${second}`,
  ownTitle: 'An gewählten Kanten verbinden',
  firstPiece: 'Erstes',
  firstEdge: 'Seine Kante',
  secondPiece: 'Zweites',
  secondEdge: 'Seine Kante',
  way: 'Wie',
  ways: { butt: 'Kante an Kante', lap: 'übereinander' },
  plan: 'So vormerken',
  forgetPlanned: (letter) => `Ansatzstelle ${letter} vergessen`,
  edge: (length, side) => `${length}, ${side}`,
  ownName: (number) => `#${number}`,
  madeOf: (names) => `Zusammengesetzt aus ${und(names)}.`,
  joint: (letter) => (letter === '' ? 'Ansatzstelle' : `Ansatzstelle ${letter}`),
  takeApart: 'Auseinandernehmen',
  takeApartHelp: 'Löst die letzte Ansatzstelle: Beide Stücke werden wieder eigene Teile.',
  openTitle: 'Gehört zusammen mit',
  openAt: (letter, edge) => `${letter}, an ${edge}:`,
  missing: 'Das Gegenstück ist nicht unter den Teilen.',
  missingHelp:
    'Die Zeichnung mit dem Gegenstück hereinholen, unten an einer Kante verbinden oder den Buchstaben vergessen.',
  severalHelp: 'Mehrere Teile haben diesen Buchstaben. Unten an einer Kante verbinden.',
  joinWith: (name) => `Mit ${name} verbinden`,
  forget: (letter) => `${letter} vergessen`,
  joinOther: 'Mit einem anderen Teil verbinden',
  join: 'Verbinden',
  preview: (first, second) => `${first} und ${second} verbunden`,
  joined: (first, second) => `${second} ist jetzt ein Stück von ${first}.`,
  apart: (first, second) => `${first} und ${second} sind wieder eigene Teile.`,
  grainDiffers: (degrees) =>
    `Verbunden weichen die Fadenläufe der Stücke um ${degrees}° voneinander ab; der des ersten gilt.`,
  grainSeen: (degrees, by) =>
    by === 'arrow'
      ? `Der eingezeichnete Pfeil ist der Fadenlauf (${degrees})`
      : `Die so beschriftete Linie ist der Fadenlauf (${degrees})`,
  foldSeen: (edge, by) =>
    by === 'bracket'
      ? `Die Kante, auf die die Klammer zeigt, liegt am Bruch (${edge})`
      : `Die mit „Bruch“ bezeichnete Kante liegt am Bruch (${edge})`,
};
