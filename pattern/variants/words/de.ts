import type { StepWords } from './en.ts';

/** German words for why a step of a variant can't be taken: the rest of a sentence after the piece's name and a colon. */
export const stepDe: StepWords = {
  noFold: 'es hat keine Bruchkante zum Aufklappen',
  isHalf: 'es ist schon ein halbes Teil: zuerst aufklappen',
  noEdge: (number) => `es hat keine Kante ${number} mehr zum Umschlagen`,
  edgeNoLength: (number) => `seine Kante ${number} hat keine Länge`,
  nothingInside: 'nichts davon liegt innerhalb der Linie, an der umgeschlagen wird',
  lineOff: 'die Linie, an der umgeschlagen wird, liegt nicht auf dem Teil',
  lineGone: 'die gezeichnete Linie, an der umgeschlagen wird, ist nicht mehr da oder nicht mehr gerade',
  noEdgeForAllowance: (number) => `es hat keine Kante ${number} mehr für eine eigene Zugabe`,
  nothingLeft: 'innerhalb seiner Zugabe bleibt nichts übrig',
  lineDoesNotCross: 'die Linie, an der es länger oder kürzer wird, kreuzt es nicht',
  shortenedTooMuch: 'es wird um mehr gekürzt, als jenseits der Linie da ist',
  sourceGone: 'das Teil, aus dem es entsteht, ist nicht mehr da',
  fromItself: 'es entsteht aus sich selbst',
};
