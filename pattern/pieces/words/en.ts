/** English words about what is wrong or odd about a piece, and what was mended. Sentences without its name. */
export const pieceEn = {
  outline: 'Its outline',
  hole: (number: number) => `Hole ${number}`,
  allowanceNegative: 'Its allowance is negative: an allowance is added outside the sew line.',
  tooFewPoints: (ring: string, count: number) => `${ring} has ${count} points: an outline needs three.`,
  notFinite: (ring: string) => `${ring} has a point that is no number.`,
  crosses: (ring: string, places: number) =>
    `${ring} crosses or touches itself in ${places === 1 ? 'one place' : `${places} places`}.`,
  clockwise: (ring: string) => `${ring} was drawn the other way round.`,
  noSize: (ring: string) => `${ring} encloses nothing: it has no width.`,
  tiny: (length: string) => `It is only ${length} large: is the scale right?`,
  huge: (length: string) => `It is ${length} long: is the scale right?`,
  holeOutside: (number: number) => `Hole ${number} reaches outside the outline.`,
  holesOverlap: (a: number, b: number) => `Holes ${a} and ${b} overlap.`,
  foldNoLength: 'Its fold edge has no length.',
  noSuchFoldEdge: (number: number, edges: number) =>
    `Its fold edge is number ${number}, but the outline has only ${edges} edges.`,
  acrossFold: (length: string) => `It lies on both sides of its fold line: ${length} reach beyond it.`,
  foldOffGrain:
    'Its fold edge does not run along the grain, so it can’t lie on a lengthwise fold; it is cut whole.',
  holeCloses: (width: string, holes: number) =>
    `With an allowance of ${width} inside, ${holes === 1 ? 'a hole closes' : `${holes} holes close`}.`,
  allowanceMeetsItself: (width: string) =>
    `Its allowance of ${width} runs into itself across a narrow opening.`,
  nothingLeft: (width: string) => `Nothing can be cut with an allowance of ${width}.`,

  /** What was mended; of the outline, or of a hole by its number. */
  mended: {
    holeTurned: (number: number) => `Hole ${number} was drawn the other way round and was turned.`,
    turned: 'The outline was drawn the other way round and was turned.',
    foldLost: 'Its fold edge was lost: mark it again.',
    empty: (hole: number | null) => `${hole === null ? 'The outline' : `Hole ${hole}`} enclosed nothing.`,
    spikes: (hole: number | null) =>
      `Spikes that enclosed nothing were taken off ${hole === null ? 'the outline' : `hole ${hole}`}.`,
    becameHole: (hole: number | null) =>
      `Where ${hole === null ? 'the outline' : `hole ${hole}`} ran in to a cut-out and back, the cut-out became a hole.`,
    loop: (hole: number | null) =>
      `Where ${hole === null ? 'the outline' : `hole ${hole}`} crossed itself, a small loop was cut off.`,
  },
};

export type PieceWords = typeof pieceEn;
