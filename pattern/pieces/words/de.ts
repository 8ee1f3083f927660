import type { PieceWords } from './en.ts';

const nominative = (hole: number | null): string => (hole === null ? 'der Umriss' : `Loch ${hole}`);

/** German words about what is wrong or odd about a piece, and what was mended. */
export const pieceDe: PieceWords = {
  outline: 'Der Umriss',
  hole: (number) => `Loch ${number}`,
  allowanceNegative: 'Die Nahtzugabe ist negativ: Eine Zugabe kommt außen an die Nahtlinie.',
  tooFewPoints: (ring, count) =>
    `${ring} hat ${count === 1 ? 'einen Punkt' : `${count} Punkte`}: Ein Umriss braucht drei.`,
  notFinite: (ring) => `${ring} hat einen Punkt, der keine Zahl ist.`,
  crosses: (ring, places) =>
    `${ring} kreuzt oder berührt sich an ${places === 1 ? 'einer Stelle' : `${places} Stellen`}.`,
  clockwise: (ring) => `${ring} war andersherum gezeichnet.`,
  noSize: (ring) => `${ring} umschließt nichts: ohne Breite.`,
  tiny: (length) => `Es ist nur ${length} groß: Stimmt der Maßstab?`,
  huge: (length) => `Es ist ${length} lang: Stimmt der Maßstab?`,
  holeOutside: (number) => `Loch ${number} ragt über den Umriss hinaus.`,
  holesOverlap: (a, b) => `Die Löcher ${a} und ${b} überlappen.`,
  foldNoLength: 'Die Bruchkante hat keine Länge.',
  noSuchFoldEdge: (number, edges) =>
    `Die Bruchkante hat die Nummer ${number}, der Umriss aber nur ${edges} Kanten.`,
  acrossFold: (length) => `Es liegt auf beiden Seiten der Bruchlinie: ${length} ragen darüber hinaus.`,
  foldOffGrain:
    'Die Bruchkante läuft nicht im Fadenlauf, deshalb kann es nicht an einem Längsbruch liegen; es wird ganz geschnitten.',
  holeCloses: (width, holes) =>
    `Mit einer Zugabe von ${width} nach innen ${holes === 1 ? 'schließt sich ein Loch' : `schließen sich ${holes} Löcher`}.`,
  allowanceMeetsItself: (width) => `Die Zugabe von ${width} stößt in einer engen Öffnung an sich selbst.`,
  nothingLeft: (width) => `Mit einer Zugabe von ${width} bleibt nichts zu schneiden.`,
  mended: {
    holeTurned: (number) => `Loch ${number} war andersherum gezeichnet und wurde gewendet.`,
    turned: 'Der Umriss war andersherum gezeichnet und wurde gewendet.',
    foldLost: 'Die Bruchkante ging verloren: neu markieren.',
    empty: (hole) => `${hole === null ? 'Der Umriss' : `Loch ${hole}`} umschloss nichts.`,
    spikes: (hole) => `Spitzen, die nichts umschlossen, sind entfernt: ${nominative(hole)}.`,
    becameHole: (hole) =>
      `Wo ${nominative(hole)} zu einem Ausschnitt hinein und zurück lief, wurde der Ausschnitt ein Loch.`,
    loop: (hole) => `Wo ${nominative(hole)} sich kreuzte, wurde eine kleine Schleife abgeschnitten.`,
  },
};
