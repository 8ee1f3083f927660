import type { PartsWords } from './en.ts';

/** What is said in German about parts that are joined; the lengths come as the maker reads them. */
export const partsDe: PartsWords = {
  noEdge: (name) => `${name} hat keine solche Kante mehr.`,
  unlikeLength: (first, firstLength, second, secondLength, off) =>
    `Die Kanten unterscheiden sich um ${off}: die von ${first} ist ${firstLength} lang, die von ${second} ${secondLength}.`,
  unlikeCurve: (off) =>
    `Die Kanten sind gleich lang, laufen aber verschieden: Sie lägen bis zu ${off} auseinander.`,
  unlikeWhereLapped: (off) =>
    `So weit übereinandergelegt unterscheiden sich die Stücke dort, wo sie zusammentreffen, um ${off} in der Breite. Ist die Überlappung so breit wie der Klebestreifen?`,
  notStraight: 'Übereinanderlegen lassen sich nur gerade Kanten; diese Kante an Kante verbinden.',
  lapTooDeep: 'Die Überlappung ist breiter als das Stück, auf dem sie liegt.',
  noLap: 'Angeben, wie weit ein Stück über dem anderen liegt.',
  overEachOther: 'So verbunden lägen die Stücke an anderer Stelle übereinander.',
  notOnePiece: 'So verbunden ergäben die Stücke kein einzelnes Teil.',
  linesDiffer: (first, second) =>
    `Die Umrisse von ${first} und ${second} müssen beide die Schnittlinie oder beide die Nahtlinie sein.`,
  foldsDiffer: 'Die Bruchkanten der Stücke liegen nicht in einer Linie.',
  faulty: (name, fault) => `${name}: ${fault}`,
  partnerMissing: (name, letter) => `${name} ist ein Stück: Sein Gegenstück an ${letter} fehlt.`,
  notJoined: (name, letter, partner) =>
    `${name} und ${partner} gehören an ${letter} zusammen und sind noch nicht verbunden.`,
  several: (name, letter, others) =>
    `${name} wird an ${letter} verbunden, und mehrere haben diesen Buchstaben: ${others}.`,
  unlike: (name, letter, partner, off) =>
    `${name} und ${partner} haben ${letter} an Kanten, die sich um ${off} unterscheiden.`,
};
