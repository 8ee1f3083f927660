import type { CutListWords } from './en.ts';

/** German words about a cut list and what belongs to it. */

const named = (names: readonly string[], more: number): string => {
  if (more > 0) return `${names.join(', ')} und ${more} weitere`;
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} und ${names.at(-1)}`;
};

const orNone = (count: number): string => (count === 0 ? 'keines' : String(count));

export const cutListDe: CutListWords = {
  named,
  about: (name, text) => `${name}: ${text}`,
  noPieces: 'Noch keine Schnittteile.',
  empty: 'Die Zuschnittliste ist leer: eintragen, wie oft jedes Teil aus welchem Material geschnitten wird.',
  tooMany: (copies, most) =>
    `Die Zuschnittliste verlangt ${copies} Stück; in einem Projekt lassen sich höchstens ${most} auslegen.`,
  rowTwice: (piece) => `Die Zuschnittliste hat zwei Zeilen für ${piece} aus demselben Material.`,
  notCut: (piece) => `${piece} steht nicht in der Zuschnittliste: Es wird nicht geschnitten.`,
  noCloth: (material) => `Für ${material} gibt es noch keinen Stoff.`,
  noClothChosen: (material) => `Für ${material} ist kein Stoff gewählt: Es wird nicht ausgelegt.`,
  nothingLeft: (piece, material) =>
    `${piece} aus ${material}: In der Größe, in der dieses Material geschnitten wird, bleibt nichts davon.`,
  allowanceUnknown: (material, names) =>
    `${material} wird ohne Nahtzugabe geschnitten, aber wie viel davon in der Schnittlinie steckt, steht nicht bei ${names}: geschnitten wie gezeichnet.`,
  variantStuck: (piece, fault) =>
    `${piece} folgt dem Teil, aus dem es entsteht, nicht mehr: ${fault}. Es behält seine bisherige Form.`,
  noWidth: (cloth, lost, width) =>
    `${cloth} hat keine Breite übrig: Webkanten und Ränder nehmen ${lost} von ${width}.`,
  clothFaulty: (cloth, flaw, crosses) =>
    `${cloth}: ${flaw === null ? 'Der Umriss' : `Fehlstelle ${flaw}`} ${crosses ? 'kreuzt sich' : 'umschließt nichts'}.`,
  foldWithoutEdge: (piece, material) =>
    `${piece} soll aus ${material} im Stoffbruch geschnitten werden, hat aber keine Bruchkante.`,
  halfWithoutFold: (piece, material, halves) =>
    `${piece} ist ein halbes Teil, aber ${halves === 1 ? 'eines soll' : `${halves} sollen`} aus ${material} als Hälfte geschnitten werden, nicht im Bruch.`,
  handsNotNeeded: (piece, plain, mirrored, material, copies) =>
    `${piece} ist sein eigenes Spiegelbild: ${orNone(plain)} wie gezeichnet und ${orNone(mirrored)} gespiegelt aus ${material} sind einfach ${copies} Stück.`,
  handsUnpaired: (piece, plain, mirrored, material) =>
    `${piece} ist links und rechts verschieden, und die Anzahlen ergeben keine Paare: ${orNone(plain)} wie gezeichnet und ${orNone(mirrored)} gespiegelt aus ${material}.`,
  inWidth: (length) => `${length} in der Breite`,
  inHeight: (length) => `${length} in der Höhe`,
  nearlyAlike: (one, other, parts) =>
    `${one} und ${other} sind fast gleich groß, unterscheiden sich aber um ${parts.join(' und ')}. Ist das so gemeint?`,
  allowanceUntold: (names, count, told) =>
    `Bei ${names} ${count === 1 ? 'steht' : 'steht jeweils'} nicht, wie viel Nahtzugabe in der Schnittlinie steckt; bei ${told} der Teile schon.`,
  allowancesDiffer: (names, count, width, usual) =>
    `${names} ${count === 1 ? 'hat' : 'haben'} eine Nahtzugabe von ${width}, die meisten anderen ${usual}.`,
};
