import type * as en from '../en/enough.ts';
import { many } from './words.ts';

/** Is it enough? What would make a cloth do. */

export const enough: typeof en.enough = {
  ask: 'Womit würde es passen?',
  askHelp: 'Versucht einzelne Zugeständnisse nacheinander und zeigt die, mit denen alles Platz hat.',
  title: 'Womit es passen würde',
  judging: 'Der Plan selbst wird noch einmal geprüft …',
  trying: (tried, of) => `Was nachgeben könnte: ${tried} von ${of} versucht …`,
  stop: 'Anhalten',
  again: 'Noch einmal fragen',
  fitsAfterAll: 'Es passt doch: Mit mehr Zeit fand alles Platz. Noch einmal auslegen.',
  found: (count) => `${many(count, 'Weg', 'Wege')} gefunden, der am wenigsten kostet, steht vorn:`,
  none: (of) =>
    `${of === 1 ? 'Das eine Zugeständnis genügt' : `Von ${of} einzelnen Zugeständnissen genügt keines`}${of === 1 ? ' nicht, soweit gefunden' : ', soweit gefunden'}. Vielleicht zwei zusammen oder ein größerer Stoff.`,
  noneYet: 'Noch keines gefunden.',
  missing: (names) => `Bisher ohne Platz: ${names}.`,
  short: (by) => `Der kürzeste gefundene Plan ist ${by} länger als das, was da ist.`,
  doIt: 'So machen',
  done: (what) => `Gemacht: ${what}. Den Stoff neu auslegen, um es im Plan zu sehen.`,
  failed: (reason) => `Die Frage ließ sich nicht beantworten: ${reason}`,
  picture: (what) => `Plan damit: ${what}`,
  times: (name, copies) => (copies > 1 ? `${copies} × ${name}` : name),
  say: {
    unfold: (cloth) => `${cloth} einlagig statt doppelt legen`,
    alsoCloth: (cloth) => `Auch ${cloth} nehmen`,
    gap: (cloth, to) => `Auf ${cloth} nur ${to} zwischen den Teilen lassen`,
    noGap: (cloth) => `Auf ${cloth} keinen Abstand zwischen den Teilen lassen`,
    margin: (cloth, to) => `Nur ${to} Rand an ${cloth} lassen`,
    noMargin: (cloth) => `${cloth} bis an die Ränder nutzen`,
    tilt: (cloth, degrees) => `Auf ${cloth} bis zu ${degrees}° vom Fadenlauf abweichen`,
    join: (piece, allowance) => `${piece} aus zwei Längen machen, mit je ${allowance} Nahtzugabe`,
    joinWidth: (piece, allowance) => `${piece} aus zwei Breiten machen, mit je ${allowance} Nahtzugabe`,
    butt: (piece) => `${piece} aus zwei Längen machen, Kante an Kante gestoßen`,
    buttWidth: (piece) => `${piece} aus zwei Breiten machen, Kante an Kante gestoßen`,
    crosswise: (piece) => `${piece} auch quer zum Fadenlauf legen`,
    otherMaterial: (piece, material) => `${piece} aus ${material} schneiden`,
    eitherWay: (cloth) => `Auf ${cloth} Teile in beide Richtungen legen, obwohl man es sieht`,
    shorter: (piece, by) => `${piece} um ${by} kürzen`,
  },
};
