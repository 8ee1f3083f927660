import { SVG, type Svg } from '@svgdotjs/svg.js';

/** A drawing that fills its host and is drawn anew when what it shows or the host's size changes. */
export abstract class FittedDrawing<State> {
  protected readonly svg: Svg;
  /** What is shown; null before the first `show`. */
  protected state: State | null = null;
  readonly #host: HTMLElement;
  readonly #resize: ResizeObserver;

  constructor(host: HTMLElement, className: string) {
    this.#host = host;
    this.svg = SVG().addTo(host).addClass(className);
    this.#resize = new ResizeObserver(() => this.redraw());
    this.#resize.observe(host);
  }

  show(state: State): void {
    this.state = state;
    this.redraw();
  }

  destroy(): void {
    this.#resize.disconnect();
    this.svg.remove();
  }

  /** Draws what is shown, once the host has a size. */
  protected redraw(): void {
    const { clientWidth, clientHeight } = this.#host;
    if (this.state !== null && clientWidth > 0 && clientHeight > 0)
      this.draw(this.state, clientWidth, clientHeight);
  }

  /** Fills the emptied or still empty drawing; `width` and `height` in pixels. */
  protected abstract draw(state: State, width: number, height: number): void;
}
