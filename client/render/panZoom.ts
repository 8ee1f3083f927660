/** The part of a drawing that is in view, in the drawing's own units. */
export interface View {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const CLOSEST = 40;
/** A press that moves farther than this, in pixels, is a drag. */
const DRAG_PX = 5;
const KEY_STEP = 0.12;
const ZOOM_STEP = 1.35;
/** How far a press of a button looks on, as a part of what is in view. */
const LOOK_STEP = 0.4;

/**
 * Looks around in a drawing by moving the view box of its SVG: drag, wheel with Ctrl, two fingers, keys. The whole
 * drawing is the farthest view; a plain wheel scrolls the page as everywhere.
 */
export class PanZoom {
  readonly #svg: SVGSVGElement;
  readonly #whole: View;
  #view: View;
  #pressedAt = { x: 0, y: 0 };
  readonly #pointers = new Map<number, { x: number; y: number }>();
  readonly #abort = new AbortController();
  readonly #onView: (view: View, zoom: number) => void;

  constructor(svg: SVGSVGElement, whole: View, onView: (view: View, zoom: number) => void, view = whole) {
    this.#svg = svg;
    this.#whole = whole;
    this.#view = view;
    this.#onView = onView;
    const { signal } = this.#abort;
    svg.addEventListener('pointerdown', (event) => this.#down(event), { signal });
    svg.addEventListener('pointermove', (event) => this.#move(event), { signal });
    for (const name of ['pointerup', 'pointercancel'] as const) {
      // On the window: the pointer may be let go outside, before it was taken.
      addEventListener(name, (event) => this.#pointers.delete(event.pointerId), { signal });
    }
    svg.addEventListener('wheel', (event) => this.#wheel(event), { signal, passive: false });
    svg.addEventListener('keydown', (event) => this.#key(event), { signal });
    this.#apply();
  }

  get view(): View {
    return this.#view;
  }

  get isWhole(): boolean {
    return this.#view.width >= this.#whole.width * 0.999;
  }

  destroy(): void {
    this.#abort.abort();
  }

  zoomIn(): void {
    this.#zoom(1 / ZOOM_STEP);
  }

  zoomOut(): void {
    this.#zoom(ZOOM_STEP);
  }

  showWhole(): void {
    this.#set(this.#whole);
  }

  /** Looks on to a side: −1, 0 or 1 to the right and downwards. */
  look(right: number, down: number): void {
    const { x, y, width, height } = this.#view;
    this.#set({ ...this.#view, x: x + right * LOOK_STEP * width, y: y + down * LOOK_STEP * height });
  }

  /** Zooms about a point of the drawing, its middle by default. */
  #zoom(factor: number, about?: readonly [number, number]): void {
    const { x, y, width, height } = this.#view;
    const limited = Math.max(this.#whole.width / CLOSEST, Math.min(this.#whole.width, width * factor));
    const scale = limited / width;
    const [ax, ay] = about ?? [x + width / 2, y + height / 2];
    this.#set({
      x: ax - (ax - x) * scale,
      y: ay - (ay - y) * scale,
      width: limited,
      height: height * scale,
    });
  }

  #set(view: View): void {
    const clamp = (at: number, size: number, from: number, all: number): number =>
      Math.max(from, Math.min(from + all - size, at));
    this.#view = {
      ...view,
      x: clamp(view.x, view.width, this.#whole.x, this.#whole.width),
      y: clamp(view.y, view.height, this.#whole.y, this.#whole.height),
    };
    this.#apply();
  }

  #apply(): void {
    const { x, y, width, height } = this.#view;
    this.#svg.setAttribute('viewBox', `${x} ${y} ${width} ${height}`);
    // The style sheet gives the page its scrolling back where there is nothing to be moved to.
    this.#svg.toggleAttribute('data-zoomed', !this.isWhole);
    this.#onView(this.#view, this.#whole.width / width);
  }

  /** Units of the drawing a pixel on screen. */
  #unitsPerPixel(): number {
    const box = this.#svg.getBoundingClientRect();
    return Math.max(this.#view.width / Math.max(box.width, 1), this.#view.height / Math.max(box.height, 1));
  }

  #pointAt(clientX: number, clientY: number): readonly [number, number] {
    const box = this.#svg.getBoundingClientRect();
    const unit = this.#unitsPerPixel();
    const { x, y, width, height } = this.#view;
    // The drawing is centred where the element has another shape than the view.
    const left = box.left + (box.width - width / unit) / 2;
    const top = box.top + (box.height - height / unit) / 2;
    return [x + (clientX - left) * unit, y + (clientY - top) * unit];
  }

  #down(event: PointerEvent): void {
    if (event.button !== 0) return;
    // A drawing seen whole has nowhere to be moved to: one finger then scrolls the page.
    this.#pointers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    this.#pressedAt = { x: event.clientX, y: event.clientY };
  }

  /**
   * Takes the pointer to itself once a press has become a drag. Not before: the press may be a click on something
   * in the drawing, which would then never hear of it.
   */
  #capture(event: PointerEvent): void {
    const { x, y } = this.#pressedAt;
    if (Math.hypot(event.clientX - x, event.clientY - y) < DRAG_PX) return;
    if (!this.#svg.hasPointerCapture(event.pointerId)) this.#svg.setPointerCapture(event.pointerId);
  }

  #move(event: PointerEvent): void {
    const last = this.#pointers.get(event.pointerId);
    if (!last) return;
    const now = { x: event.clientX, y: event.clientY };
    const other = [...this.#pointers].find(([id]) => id !== event.pointerId)?.[1];
    this.#pointers.set(event.pointerId, now);
    if (other) {
      const before = Math.hypot(last.x - other.x, last.y - other.y);
      const after = Math.hypot(now.x - other.x, now.y - other.y);
      if (before > 0 && after > 0) {
        this.#zoom(before / after, this.#pointAt((now.x + other.x) / 2, (now.y + other.y) / 2));
      }
      return;
    }
    if (this.isWhole) return;
    this.#capture(event);
    const unit = this.#unitsPerPixel();
    this.#set({
      ...this.#view,
      x: this.#view.x - (now.x - last.x) * unit,
      y: this.#view.y - (now.y - last.y) * unit,
    });
  }

  #wheel(event: WheelEvent): void {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    this.#zoom(Math.exp(event.deltaY * 0.003), this.#pointAt(event.clientX, event.clientY));
  }

  #key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { width, height } = this.#view;
    const moves: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [-KEY_STEP * width, 0],
      ArrowRight: [KEY_STEP * width, 0],
      ArrowUp: [0, -KEY_STEP * height],
      ArrowDown: [0, KEY_STEP * height],
    };
    const move = moves[event.key];
    if (move) {
      if (this.isWhole) return;
      this.#set({ ...this.#view, x: this.#view.x + move[0], y: this.#view.y + move[1] });
    } else if (event.key === '+' || event.key === '=') this.zoomIn();
    else if (event.key === '-') this.zoomOut();
    else if (event.key === '0') this.showWhole();
    else return;
    event.preventDefault();
  }
}
