import type { Svg } from '@svgdotjs/svg.js';

/** A rectangle of a drawing, in its own units; y down. */
export interface DrawnRegion {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Smaller than so many pixels either way it was a slip of the hand, not a region. */
const LEAST_PX = 6;

/** A rectangle drawn over a picture by one pointer, wherever it begins: on a piece as well as beside all. */
export class RegionDraw {
  readonly #onDrawn: (region: DrawnRegion) => void;
  #svg: Svg | null = null;
  #stop = new AbortController();
  #press: { readonly pointerId: number; readonly from: DOMPoint; readonly node: SVGRectElement } | null =
    null;

  /** @param onDrawn told once the pointer is let go; not for a slip, nor when it is given up */
  constructor(onDrawn: (region: DrawnRegion) => void) {
    this.#onDrawn = onDrawn;
  }

  /** Listens on a picture from now on; null: on none. */
  listen(svg: Svg | null): void {
    this.cancel();
    this.#stop.abort();
    this.#svg?.node.removeAttribute('data-region');
    this.#svg = svg;
    if (!svg) return;
    svg.node.setAttribute('data-region', '');
    this.#stop = new AbortController();
    const { signal } = this.#stop;
    // Before pieces and the moving of the view hear of it.
    svg.node.addEventListener('pointerdown', (event) => this.#down(event), { signal, capture: true });
    svg.node.addEventListener('pointermove', (event) => this.#move(event), { signal, capture: true });
    addEventListener('pointerup', (event) => this.#up(event), { signal, capture: true });
    addEventListener('pointercancel', () => this.cancel(), { signal });
  }

  /** Gives up what is being drawn. */
  cancel(): void {
    this.#press?.node.remove();
    this.#press = null;
  }

  #down(event: PointerEvent): void {
    event.stopPropagation();
    event.preventDefault();
    const svg = this.#svg;
    if (event.button !== 0 || this.#press || !svg) return;
    svg.node.setPointerCapture(event.pointerId);
    const node = svg.rect(0, 0).addClass('region').node;
    this.#press = { pointerId: event.pointerId, from: this.#pointOf(event), node };
  }

  #move(event: PointerEvent): void {
    if (event.pointerId !== this.#press?.pointerId) return;
    event.stopPropagation();
    const { left, right, top, bottom } = regionOf(this.#press.from, this.#pointOf(event));
    const { node } = this.#press;
    node.setAttribute('x', String(left));
    node.setAttribute('y', String(top));
    node.setAttribute('width', String(right - left));
    node.setAttribute('height', String(bottom - top));
  }

  #up(event: PointerEvent): void {
    const press = this.#press;
    if (event.pointerId !== press?.pointerId) return;
    const region = regionOf(press.from, this.#pointOf(event));
    this.cancel();
    const least = LEAST_PX / (this.#svg?.node.getScreenCTM()?.a ?? 1);
    if (region.right - region.left >= least && region.bottom - region.top >= least) this.#onDrawn(region);
  }

  #pointOf({ clientX, clientY }: PointerEvent): DOMPoint {
    return new DOMPoint(clientX, clientY).matrixTransform(this.#svg?.node.getScreenCTM()?.inverse());
  }
}

function regionOf(a: DOMPoint, b: DOMPoint): DrawnRegion {
  return {
    left: Math.min(a.x, b.x),
    right: Math.max(a.x, b.x),
    top: Math.min(a.y, b.y),
    bottom: Math.max(a.y, b.y),
  };
}
