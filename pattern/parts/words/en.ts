/** What is said in English about parts that are joined; the lengths come as the maker reads them. */
export const partsEn = {
  noEdge: (name: string): string => `${name} has no such edge any more.`,
  unlikeLength: (first: string, firstLength: string, second: string, secondLength: string, off: string) =>
    `The edges differ by ${off}: that of ${first} is ${firstLength} long, that of ${second} ${secondLength}.`,
  unlikeCurve: (off: string) =>
    `The edges are equally long but run differently: they would lie up to ${off} apart.`,
  unlikeWhereLapped: (off: string) =>
    `Lapped so far, the parts differ by ${off} in width where they meet. Is the lap as wide as the strip to glue?`,
  notStraight: 'Only straight edges can be laid over each other; join these edge against edge.',
  lapTooDeep: 'The lap is wider than the part on which it lies.',
  noLap: 'Say how far one part lies over the other.',
  overEachOther: 'Joined there, the parts would lie over each other elsewhere.',
  notOnePiece: 'Joined there, the parts would not make one piece.',
  linesDiffer: (first: string, second: string) =>
    `The outline of ${first} and that of ${second} must both be the cut line, or both the sew line.`,
  foldsDiffer: 'The fold edges of the parts do not lie in one line.',
  faulty: (name: string, fault: string) => `${name}: ${fault}`,
  /** Warnings before a layout. */
  partnerMissing: (name: string, letter: string) => `${name} is a part: its partner at ${letter} is missing.`,
  notJoined: (name: string, letter: string, partner: string) =>
    `${name} and ${partner} belong together at ${letter} and are not joined yet.`,
  several: (name: string, letter: string, others: string) =>
    `${name} is to be joined at ${letter}, and several have that letter: ${others}.`,
  unlike: (name: string, letter: string, partner: string, off: string) =>
    `${name} and ${partner} have ${letter} at edges that differ by ${off}.`,
};

export type PartsWords = typeof partsEn;
