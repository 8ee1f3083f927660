/** English words about a cut list and what belongs to it: what stands in the way of a lay, what may be a mistake. */

/** "A", "A and B", "A, B and C", "A, B, C and 2 more". */
const named = (names: readonly string[], more: number): string => {
  if (more > 0) return `${names.join(', ')} and ${more} more`;
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
};

const orNone = (count: number): string => (count === 0 ? 'none' : String(count));

export const cutListEn = {
  named,
  about: (name: string, text: string) => `${name}: ${text}`,
  noPieces: 'There are no pieces yet.',
  empty: 'The cut list is empty: say how many of each piece to cut from which material.',
  tooMany: (copies: number, most: number) =>
    `The cut list calls for ${copies} copies; at most ${most} can be laid in one project.`,
  rowTwice: (piece: string) => `The cut list has two rows for ${piece} in the same material.`,
  notCut: (piece: string) => `${piece} is not in the cut list: none will be cut.`,
  noCloth: (material: string) => `There is no cloth for ${material} yet.`,
  noClothChosen: (material: string) => `No cloth is chosen for ${material}: it will not be laid.`,
  nothingLeft: (piece: string, material: string) =>
    `${piece} in ${material}: nothing of it is left at the size this material is cut.`,
  allowanceUnknown: (material: string, names: string) =>
    `${material} is cut without allowance, but how much of it is in the cut line is not said for ${names}: cut as drawn.`,
  variantStuck: (piece: string, fault: string) =>
    `${piece} no longer follows the piece it comes from: ${fault}. It keeps the shape it had.`,
  noWidth: (cloth: string, lost: string, width: string) =>
    `${cloth} has no width left: selvedges and margins take ${lost} of ${width}.`,
  clothFaulty: (cloth: string, flaw: number | null, crosses: boolean) =>
    `${cloth}: its ${flaw === null ? 'outline' : `flaw ${flaw}`} ${crosses ? 'crosses itself' : 'encloses nothing'}.`,

  /** Hands. */
  foldWithoutEdge: (piece: string, material: string) =>
    `${piece} is to be cut on the fold in ${material}, but it has no fold edge.`,
  halfWithoutFold: (piece: string, material: string, halves: number) =>
    `${piece} is a half piece, but ${halves === 1 ? 'one is' : `${halves} are`} to be cut in ${material} as a half, not on the fold.`,
  handsNotNeeded: (piece: string, plain: number, mirrored: number, material: string, copies: number) =>
    `${piece} is its own mirror image: ${orNone(plain)} plain and ${orNone(mirrored)} mirrored in ${material} are simply ${copies} copies.`,
  handsUnpaired: (piece: string, plain: number, mirrored: number, material: string) =>
    `${piece} has a left and a right hand that don’t pair: ${orNone(plain)} plain and ${orNone(mirrored)} mirrored in ${material}.`,

  /** Sizes. */
  inWidth: (length: string) => `${length} in width`,
  inHeight: (length: string) => `${length} in height`,
  nearlyAlike: (one: string, other: string, parts: readonly string[]) =>
    `${one} and ${other} are nearly the same size but differ by ${parts.join(' and ')}. Is that meant?`,
  allowanceUntold: (names: string, count: number, told: number) =>
    `${names} ${count === 1 ? 'does' : 'do'} not say how much allowance is in the cut line; ${told} of the pieces do.`,
  allowancesDiffer: (names: string, count: number, width: string, usual: string) =>
    `${names} ${count === 1 ? 'has' : 'have'} an allowance of ${width}, most others ${usual}.`,
};

export type CutListWords = typeof cutListEn;
