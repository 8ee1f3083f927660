import type { Spread } from '../../../exchange/project.ts';
import type { CuttingWords } from './en.ts';

/** German words about the order of cutting. */

const FROM_EDGE_TO_EDGE: Readonly<Record<Spread, string>> = {
  single: 'von Webkante zu Webkante',
  folded: 'von der Webkante zum Bruch',
  sequence: 'von der Webkante zum Bruch',
  partial: 'von der Webkante zum Bruch',
  middle: 'von Bruch zu Bruch',
  crosswise: 'von Webkante zu Webkante',
  turned: 'von Webkante zu Webkante',
};

export const cuttingDe: CuttingWords = {
  order: (name) => `${name}: Reihenfolge beim Zuschneiden`,
  lead: 'Die Nummern in der Zeichnung sind die Schritte. Ein Block ist, was ein gerader Schnitt in einem Stück lässt; Maße eines Blocks gelten an ihm selbst, sobald er für sich liegt, alle anderen wie auf den Linealen des Plans. Wo zwei Maße dicht beieinander liegen, ist der Streifen dazwischen Abfall.',
  doubled: {
    partly:
      'Zum Teil doppelt: Dort geht jeder Schnitt durch beide Lagen, und jedes Auflegen gibt zwei Teile.',
    yes: 'Doppelt: Jeder Schnitt geht durch beide Lagen, jedes Auflegen gibt zwei Teile.',
  },
  left: 'Was übrig bleibt',
  leftLength: (size) => `${size} jenseits der abgeschnittenen Länge`,
  leftPiece: (size, along, across) => `${size} bei ${along} längs, ${across} quer`,
  leftTwo: (size) => `zweimal ${size}`,
  leftOpened: (size) => `${size} aufgeklappt`,
  leftNone: 'Kein Rechteck, das sich aufzuheben lohnt.',
  table: (length) => `Auf einem Tisch von ${length}`,
  place: (i, from, to) => `Auflegen ${i}: ${from} bis ${to} des Stoffs auf dem Tisch`,
  placeMark: (i) => `Tisch, Auflegen ${i}`,
  placeCuts: (tags) => `${tags} schneiden`,
  placeHangs: (tags) =>
    `länger als der Tisch: ${tags}. Den Stoff überhängen lassen, schneiden, was aufliegt, dann weiterziehen`,
  layers: { no: '', partly: ', wo doppelt durch beide Lagen', yes: ', durch beide Lagen' },
  squaredAt: (length) => `begradigen bei ${length}`,
  cutOffAt: (length) => `abschneiden bei ${length}`,
  off: (spread, layers) => `Der Stoff: quer, ${FROM_EDGE_TO_EDGE[spread]}${layers}`,
  cloth: 'Der Stoff',
  block: (number, tags) => `Block ${number} (${tags})`,
  crosswise: 'quer',
  lengthwise: 'längs',
  between: (length) => `${length} (dazwischen)`,
  from: {
    cutEnd: 'ab Anschnitt',
    selvedge: 'ab Webkante',
    fold: 'ab Bruch',
    boxLeft: 'ab linkem Rand',
    boxLow: 'ab Unterkante',
    blockLeft: 'ab seinem linken Rand',
    blockLow: 'ab seiner Unterkante',
  },
  foldOpen: 'den Bruch aufschneiden',
  straightSides: 'gerade Seiten',
  blockLeft: (number) => `Block ${number}`,
  leaveWhole: (tag) => `${tag} (ganz lassen)`,
  outline: (layers) => `Nach Umriss: nach den Anzeichenpunkten anzeichnen, nacheinander schneiden${layers}`,
  shared: (units, lines) =>
    `Gemeinsame Linien fürs Lineal, ${units} wie auf den Linealen des Plans: ${lines}`,
  held: 'Zurückgehalten: an diesen Stellen den Stoff lassen, später nach Maß schneiden',
};
