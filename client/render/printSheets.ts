import type { Drawing } from '../../pattern/plan/drawing.ts';
import { paintDrawing } from './layView.ts';

/**
 * Fills a host with one sheet of paper a drawing, in true size. The print stylesheet shows nothing but these; on
 * screen they are hidden.
 */
export function fillPrintSheets(host: HTMLElement, drawings: readonly Drawing[]): void {
  host.replaceChildren();
  for (const drawing of drawings) {
    const sheet = document.createElement('div');
    sheet.className = drawing.widthMm > drawing.heightMm ? 'print-sheet landscape' : 'print-sheet';
    paintDrawing(drawing)
      .attr({ width: `${drawing.widthMm}mm`, height: `${drawing.heightMm}mm` })
      .addTo(sheet);
    host.append(sheet);
  }
}
