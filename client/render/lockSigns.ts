import { SVG } from '@svgdotjs/svg.js';

/** As large in every view, in pixels. */
const SIZE_PX = 18;

/** A small padlock on every piece that is locked: seen without a look at its line. */
export class LockSigns {
  #signs: SVGGElement[] = [];

  /**
   * Puts them on these pieces and takes them off all others.
   * @param unit of the drawing under a pixel of the screen
   */
  place(pieces: readonly SVGGElement[], unit: number): void {
    for (const sign of this.#signs) sign.remove();
    this.#signs = pieces.map((piece) => {
      const sign = SVG(document.createElementNS('http://www.w3.org/2000/svg', 'g')).addClass('lock-sign');
      sign.attr({ 'aria-hidden': 'true' });
      const { node } = sign;
      const edge = piece.querySelector<SVGGraphicsElement>('.piece-edge');
      const box = edge?.getBBox();
      if (box) {
        node.dataset.x = String(box.x + box.width);
        node.dataset.y = String(box.y);
      }
      sign.add(SVG('<rect x="-17" y="-1" width="18" height="18" rx="4"/>'));
      sign.add(SVG('<path d="M-11 7.500V5a3 3 0 0 1 6 0V7.500M-13 7.500h10v7h-10Z"/>'));
      piece.append(node);
      return node as SVGGElement;
    });
    this.resize(unit);
  }

  /** The view was zoomed: the signs keep their size on the screen. */
  resize(unit: number): void {
    for (const sign of this.#signs) {
      const { x = '0', y = '0' } = sign.dataset;
      sign.setAttribute('transform', `translate(${x} ${y}) scale(${(unit * SIZE_PX) / 18}) translate(-2 2)`);
    }
  }
}
