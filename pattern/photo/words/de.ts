import type { PhotoWords } from './en.ts';

/** German words for why a photo can't be measured. */
export const photoDe: PhotoWords = {
  noSize: 'Angeben, wie groß das Ding bekannter Größe ist.',
  fewCorners: 'Mindestens drei Ecken des Umrisses anklicken.',
  crossed: 'Die Ecken des bekannten Dings kreuzen sich: in die richtige Reihenfolge ziehen.',
  horizon: 'Der Umriss läuft zum Horizont des Fotos: mehr von oben aufnehmen.',
  empty: 'Der Umriss umschließt nichts.',
  inLine: 'Drei der vier Ecken liegen in einer Linie: jede auf ihre eigene Ecke ziehen.',
};
