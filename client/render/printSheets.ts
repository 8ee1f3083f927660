import type { Svg } from '@svgdotjs/svg.js';
import type { Sheet, SheetPrint, SheetWindow } from '../../pattern/output/sheet.ts';
import { pathThrough } from './frame.ts';
import { paintDrawing } from './layView.ts';

/**
 * Fills a host with sheets of paper in true size, as the file has them. The print stylesheet shows nothing but these;
 * on screen they are hidden.
 */
export function fillPrintSheets(host: HTMLElement, sheets: readonly Sheet[], paper: 'a4' | 'letter'): void {
  host.replaceChildren();
  for (const [n, { drawing, prints = [], windows = [] }] of sheets.entries()) {
    const { widthMm, heightMm } = drawing;
    const sheet = document.createElement('div');
    sheet.className = `print-sheet ${paper}${widthMm > heightMm ? ' landscape' : ''}`;
    const svg = paintDrawing(drawing).attr({ width: `${widthMm}mm`, height: `${heightMm}mm` });
    for (const [i, print] of prints.entries()) paintPrint(print, svg, `print-${n}-${i}`);
    for (const window of windows) paintWindow(window, svg);
    svg.addTo(sheet);
    host.append(sheet);
  }
}

function paintPrint({ rings, tile, matrix }: SheetPrint, into: Svg, id: string): void {
  const pattern = into
    .pattern(tile.width, tile.height)
    .attr({ id, x: tile.x, y: tile.y, patternTransform: `matrix(${matrix.join(' ')})` });
  for (const [x, y] of tile.pictures) {
    pattern
      .image(tile.picture)
      .attr({ x, y, width: tile.pictureWidth, height: tile.pictureHeight, preserveAspectRatio: 'none' });
  }
  const d = rings.map((ring) => pathThrough(ring)).join('');
  into.path().attr({ d, fill: `url(#${id})`, 'fill-rule': 'evenodd' });
}

function paintWindow({ drawing, x, y, clip }: SheetWindow, into: Svg): void {
  // What is seen of the drawing, in its own axes.
  const seen = `${clip.x - x} ${clip.y - y} ${clip.width} ${clip.height}`;
  paintDrawing(drawing)
    .attr({ ...clip, viewBox: seen, overflow: 'hidden' })
    .addTo(into);
}
