import { type Element, SVG, type Svg } from '@svgdotjs/svg.js';
import type { PrintUnder } from '../../pattern/output/index.ts';
import { pathThrough } from './frame.ts';

/** So far beyond its end the print of a roll is shown, mm. */
const BEYOND_MM = 1000;

/** Paints the cloth's print under the pieces of a drawing. Called once for a fresh drawing. */
export function paintPrints(svg: Svg, prints: readonly PrintUnder[]): void {
  svg.node.classList.toggle('with-print', prints.length > 0);
  const cloth = svg.findOne('.layer-cloth');
  if (!cloth || prints.length === 0) return;
  const ground = SVG('<g class="print-ground" aria-hidden="true"></g>');
  for (const { tile, scale, x, y, width, height, outline, isLast } of prints) {
    const pattern = svg.pattern(tile.width, tile.height, (add) => {
      for (const [px, py] of tile.pictures) {
        add
          .image(tile.picture)
          .size(tile.pictureWidth, tile.pictureHeight)
          .move(px, py)
          .attr('preserveAspectRatio', 'none');
      }
    });
    pattern.attr({ x: tile.x, y: tile.y, patternUnits: 'userSpaceOnUse' });
    const paint = (d: string, name: string): void => {
      const shape = SVG(`<path d="${d}"/>`).fill(pattern).addClass(name);
      shape.attr('transform', `translate(${x} ${y}) scale(${1 / scale})`);
      ground.add(shape);
    };
    const [along, across] = [width * scale, height * scale];
    if (outline) paint(pathThrough(outline), 'print');
    else {
      paint(`M0 0H${along}V${across}H0Z`, 'print');
      // A roll goes on: a piece may be dragged farther than the lay reaches now.
      if (isLast) paint(`M${along} 0H${along + BEYOND_MM}V${across}H${along}Z`, 'beyond');
    }
  }
  // Above the cloth, below the crosses of its motifs.
  const marks = cloth.findOne('.repeat') as Element | null;
  if (marks) marks.before(ground);
  else ground.addTo(cloth as Element);
}
