import type { SizeWords } from './en.ts';

/** German words about drawings that are not true to size. */
export const sizeDe: SizeWords = {
  tooSmall: (percent) => `${percent} % zu klein`,
  tooLarge: (percent) => `${percent} % zu groß`,
  both: (across, up) => `in der Breite ${across} und in der Höhe ${up}`,
  notice: (file, off, count, piece) =>
    `Nicht maßstäblich: Nach seinem Kontrollquadrat ist ${file} ${off} (${count} ${count === 1 ? 'Teil' : 'Teile'}). ${piece} öffnen, um es zu berichtigen oder so zu lassen.`,
  warning: (file, off) => `Nicht maßstäblich – ${file} ist nach seinem Kontrollquadrat ${off}.`,
};
