import type { Svg } from '@svgdotjs/svg.js';
import type { Point } from './handDrag.ts';

/** Seen this large and taken hold of from farther, in pixels. */
const DOT_PX = 9;
const REACH_PX = 18;

/** The round handle by which a piece is turned, at its upper right corner, as large in every view. */
export class TurnHandle {
  readonly #node: SVGGElement;

  /** @param onPress told with the press on it */
  constructor(svg: Svg, onPress: (event: PointerEvent) => void, signal: AbortSignal) {
    // For pointers alone: by keys a piece is turned where it has the focus.
    const handle = svg.group().addClass('turn-handle').attr({ 'aria-hidden': 'true' });
    handle
      .circle(2 * REACH_PX)
      .center(0, 0)
      .addClass('turn-reach');
    handle
      .circle(2 * DOT_PX)
      .center(0, 0)
      .addClass('turn-dot');
    handle.path('M-4 -2A4.500 4.500 0 1 1 -3.500 3M-4.500 -5.500V-2H-1').addClass('turn-arrow');
    handle.node.addEventListener('pointerdown', onPress, { signal });
    this.#node = handle.node;
  }

  /**
   * Puts it at a piece, above all else.
   * @param edge the drawn outline; null takes it away
   * @param width of the drawing, in its own units
   */
  place(edge: SVGGraphicsElement | null, width: number): void {
    const svg = this.#node.ownerSVGElement;
    this.#node.toggleAttribute('hidden', edge === null);
    if (!edge || !svg) return;
    svg.append(this.#node);
    const unit = 1 / (svg.getScreenCTM()?.a || 1);
    const box = edge.getBBox();
    const away = DOT_PX * unit;
    const x = Math.min(width - away, box.x + box.width + away);
    this.#node.setAttribute('transform', `translate(${x} ${Math.max(away, box.y - away)}) scale(${unit})`);
  }

  /** While a piece is in hand its handle is out of the way. */
  hideWhile(isDragged: boolean): void {
    this.#node.classList.toggle('away', isDragged);
  }
}

/** Middle of a drawn thing on the screen. */
export function middleOnScreen(node: Element): Point {
  const { left, top, width, height } = node.getBoundingClientRect();
  return { x: left + width / 2, y: top + height / 2 };
}
