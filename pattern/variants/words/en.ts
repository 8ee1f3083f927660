/** English words for why a step of a variant can't be taken: the rest of a sentence after the piece's name and a colon. */
export const stepEn = {
  noFold: 'it has no fold edge to open out about',
  isHalf: 'it is a half piece already: open it out first',
  noEdge: (number: number) => `it has no edge ${number} any more to fold back at`,
  edgeNoLength: (number: number) => `its edge ${number} has no length`,
  nothingInside: 'nothing of it lies inside the line at which it is folded back',
  lineOff: 'the line at which it is folded back does not lie on it',
  lineGone: 'the drawn line at which it is folded back is no longer there, or no longer straight',
  noEdgeForAllowance: (number: number) => `it has no edge ${number} any more to give an allowance of its own`,
  nothingLeft: 'nothing is left within its allowance',
  lineDoesNotCross: 'the line at which it is made longer or shorter does not cross it',
  shortenedTooMuch: 'it is shortened by more than there is beyond the line',
  sourceGone: 'the piece it comes from is no longer there',
  fromItself: 'it comes from itself',
};

export type StepWords = typeof stepEn;
