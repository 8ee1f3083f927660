import type { Svg } from '@svgdotjs/svg.js';
import type { Drawing, DrawingFrame } from '../../pattern/plan/drawing.ts';
import { paintDrawing } from './layView.ts';
import { PanZoom, type View } from './panZoom.ts';

/** A placed piece of the drawing: its stretch, and its place in that stretch's list. */
export interface PlacedKey {
  readonly segment: number;
  readonly index: number;
}

/** How far a dragged piece has come, in mm on the cloth, and how it stands there. */
export interface DragStep {
  readonly dx: number;
  readonly dy: number;
  readonly isFree: boolean;
  readonly text: string;
}

export interface HandEvents {
  onChoose(key: PlacedKey | null): void;
  /**
   * The chosen piece is wanted so far from where it lay, in mm. `near` is how many mm on the cloth a few pixels are:
   * within that a piece is caught. Returns where it may go.
   */
  onDrag(key: PlacedKey, dx: number, dy: number, near: number, isFreely: boolean): DragStep;
  onDrop(key: PlacedKey, step: DragStep): void;
  onKey(key: PlacedKey | null, event: KeyboardEvent): boolean;
}

/** What is to be seen of the pieces beside the drawing itself. */
export interface HandMarks {
  readonly chosen: PlacedKey | null;
  readonly faulty: readonly PlacedKey[];
  readonly locked: readonly PlacedKey[];
}

/** A press that moves farther than this, in pixels, is a drag. */
const DRAG_PX = 4;
/** A piece catches on what is within so many pixels; under a finger on more. */
const CATCH_PX = 9;
const CATCH_TOUCH_PX = 16;

/** A drawing so many times as long as the screen is not shown whole at first. */
const LONG = 1.4;

interface Drag {
  readonly key: PlacedKey;
  readonly pointerId: number;
  readonly node: SVGGElement;
  readonly startX: number;
  readonly startY: number;
  isMoving: boolean;
  step: DragStep | null;
  /** The last event not yet drawn: pointers report more often than the screen is painted. */
  pending: PointerEvent | null;
}

/** A lay whose pieces can be chosen, dragged and pushed by keys. The drawing is that of the plan. */
export class HandView {
  readonly #host: HTMLElement;
  readonly #events: HandEvents;
  readonly #onZoom: (zoom: number) => void;
  readonly #note: HTMLElement;
  readonly #abort = new AbortController();
  #svg: Svg | null = null;
  #panZoom: PanZoom | null = null;
  #drawing: Drawing | null = null;
  #marks: HandMarks = { chosen: null, faulty: [], locked: [] };
  #drag: Drag | null = null;

  constructor(host: HTMLElement, events: HandEvents, onZoom: (zoom: number) => void) {
    this.#host = host;
    this.#events = events;
    this.#onZoom = onZoom;
    this.#note = document.createElement('p');
    this.#note.className = 'hand-note';
    this.#note.hidden = true;
    host.append(this.#note);
    const { signal } = this.#abort;
    addEventListener('pointermove', (event) => this.#move(event), { signal });
    addEventListener('pointerup', (event) => this.#up(event), { signal });
    addEventListener('pointercancel', (event) => this.#cancel(event.pointerId), { signal });
    addEventListener('keydown', (event) => event.key === 'Escape' && this.#cancel(null), { signal });
  }

  /** Shows a drawing made in one row. One of the same sheet keeps the part of it that is in view. */
  show(drawing: Drawing, marks: HandMarks, label: string): void {
    if (drawing !== this.#drawing) this.#paint(drawing, label);
    this.#marks = marks;
    this.#mark();
  }

  focusChosen(): void {
    this.#nodeOf(this.#marks.chosen)?.focus({ preventScroll: true });
  }

  zoomIn(): void {
    this.#panZoom?.zoomIn();
  }

  zoomOut(): void {
    this.#panZoom?.zoomOut();
  }

  showWhole(): void {
    this.#panZoom?.showWhole();
  }

  destroy(): void {
    this.#abort.abort();
    this.#panZoom?.destroy();
    this.#svg?.remove();
    this.#note.remove();
  }

  #paint(drawing: Drawing, label: string): void {
    const before = this.#drawing;
    const keepsView = before?.widthMm === drawing.widthMm && before.heightMm === drawing.heightMm;
    const view: View | undefined = keepsView ? this.#panZoom?.view : undefined;
    const hadFocus = this.#svg?.node.contains(document.activeElement) ?? false;
    this.#panZoom?.destroy();
    this.#svg?.remove();
    this.#drag = null;
    this.#note.hidden = true;
    this.#drawing = drawing;
    const svg = paintDrawing(drawing).addTo(this.#host).addClass('lay-view').addClass('hand-view');
    svg.attr({ role: 'group', 'aria-label': label });
    this.#svg = svg;
    const counts = new Map<number, number>();
    for (const node of svg.node.querySelectorAll<SVGGElement>('g.piece')) {
      const segment = Number(node.dataset.segment);
      const index = counts.get(segment) ?? 0;
      counts.set(segment, index + 1);
      node.dataset.index = String(index);
      node.setAttribute('role', 'button');
      const title = node.querySelector(':scope > title');
      node.setAttribute('aria-label', title?.textContent ?? '');
      // The tooltip of the browser would lie over what the hand is doing.
      title?.remove();
      const { signal } = this.#abort;
      node.addEventListener('pointerdown', (event) => this.#down(event, node), { signal });
      node.addEventListener('keydown', (event) => this.#key(event, keyOf(node)), { signal });
      node.addEventListener('focus', () => this.#choose(keyOf(node)), { signal });
    }
    svg.node.addEventListener('pointerdown', () => this.#events.onChoose(null));
    const whole: View = { x: 0, y: 0, width: drawing.widthMm, height: drawing.heightMm };
    const start = view ?? this.#startView(whole);
    this.#panZoom = new PanZoom(svg.node, whole, (_view, zoom) => this.#onZoom(zoom), start);
    if (hadFocus) queueMicrotask(() => this.focusChosen());
  }

  /** Of a long cloth the first stretch in full height: seen whole, its pieces would be too small to take hold of. */
  #startView(whole: View): View {
    const aspect = this.#host.clientWidth / Math.max(1, this.#svg?.node.clientHeight ?? 1);
    if (whole.width < LONG * aspect * whole.height) return whole;
    return { ...whole, width: aspect * whole.height };
  }

  #mark(): void {
    const { chosen, faulty, locked } = this.#marks;
    const nodes = [...(this.#svg?.node.querySelectorAll<SVGGElement>('g.piece') ?? [])];
    const isIn = (keys: readonly PlacedKey[], key: PlacedKey): boolean =>
      keys.some((other) => isSame(other, key));
    nodes.forEach((node, n) => {
      const key = keyOf(node);
      const isChosen = chosen !== null && isSame(chosen, key);
      node.classList.toggle('chosen', isChosen);
      node.classList.toggle('faulty', isIn(faulty, key));
      node.classList.toggle('locked', isIn(locked, key));
      node.setAttribute('aria-pressed', String(isChosen));
      // One stop of the Tab key for all pieces: the chosen one, or the first.
      node.tabIndex = isChosen || (chosen === null && n === 0) ? 0 : -1;
    });
    const top = this.#nodeOf(chosen);
    if (top && top !== top.parentNode?.lastChild && !top.contains(document.activeElement))
      top.parentNode?.append(top);
  }

  #choose(key: PlacedKey): void {
    const { chosen } = this.#marks;
    if (chosen === null || !isSame(chosen, key)) this.#events.onChoose(key);
  }

  #nodeOf(key: PlacedKey | null): SVGGElement | null {
    if (!key) return null;
    return (
      this.#svg?.node.querySelector<SVGGElement>(
        `g.piece[data-segment="${key.segment}"][data-index="${key.index}"]`,
      ) ?? null
    );
  }

  #down(event: PointerEvent, node: SVGGElement): void {
    if (event.button !== 0 || this.#drag) return;
    // Neither a pan of the view nor a click on the empty cloth.
    event.stopPropagation();
    const key = keyOf(node);
    this.#choose(key);
    const { clientX, clientY, pointerId } = event;
    this.#drag = {
      key,
      pointerId,
      node,
      startX: clientX,
      startY: clientY,
      isMoving: false,
      step: null,
      pending: null,
    };
  }

  #move(event: PointerEvent): void {
    const drag = this.#drag;
    if (!drag || event.pointerId !== drag.pointerId) return;
    if (!drag.isMoving) {
      if (Math.hypot(event.clientX - drag.startX, event.clientY - drag.startY) < DRAG_PX) return;
      drag.isMoving = true;
      drag.node.classList.add('dragged');
    }
    event.preventDefault();
    if (drag.pending === null) requestAnimationFrame(() => this.#drawDrag(drag));
    drag.pending = event;
  }

  #drawDrag(drag: Drag): void {
    const event = drag.pending;
    drag.pending = null;
    if (!event || this.#drag !== drag) return;
    const perPixel = this.#mmPerPixel();
    const frame = this.#frameOf(drag.key);
    if (!frame || !this.#drawing) return;
    const reach = event.pointerType === 'touch' ? CATCH_TOUCH_PX : CATCH_PX;
    const dx = (event.clientX - drag.startX) * perPixel;
    const dy = -(event.clientY - drag.startY) * perPixel;
    const step = this.#events.onDrag(drag.key, dx, dy, reach * perPixel, event.altKey);
    drag.step = step;
    const { scale } = this.#drawing;
    drag.node.setAttribute('transform', `translate(${step.dx / scale} ${-step.dy / scale})`);
    drag.node.classList.toggle('in-the-way', !step.isFree);
    this.#note.hidden = false;
    this.#note.textContent = step.text;
    this.#note.classList.toggle('bad', !step.isFree);
  }

  #up(event: PointerEvent): void {
    const drag = this.#drag;
    if (!drag || event.pointerId !== drag.pointerId) return;
    if (drag.pending) this.#drawDrag(drag);
    this.#drag = null;
    this.#note.hidden = true;
    if (!drag.isMoving || !drag.step) return;
    this.#events.onDrop(drag.key, drag.step);
  }

  /** Puts a dragged piece back where it was. */
  #cancel(pointerId: number | null): void {
    const drag = this.#drag;
    if (!drag || (pointerId !== null && pointerId !== drag.pointerId)) return;
    this.#drag = null;
    this.#note.hidden = true;
    drag.node.removeAttribute('transform');
    drag.node.classList.remove('dragged', 'in-the-way');
  }

  #key(event: KeyboardEvent, key: PlacedKey): void {
    if (!this.#events.onKey(key, event)) return;
    event.preventDefault();
    // Arrow keys would move the view as well.
    event.stopPropagation();
  }

  #frameOf({ segment }: PlacedKey): DrawingFrame | undefined {
    return this.#drawing?.frames.find((frame) => frame.segment === segment);
  }

  /** Millimetres of cloth under a pixel of the screen. */
  #mmPerPixel(): number {
    const matrix = this.#svg?.node.getScreenCTM();
    return matrix && this.#drawing ? this.#drawing.scale / matrix.a : 1;
  }
}

function keyOf(node: SVGGElement): PlacedKey {
  return { segment: Number(node.dataset.segment), index: Number(node.dataset.index) };
}

function isSame(a: PlacedKey, b: PlacedKey): boolean {
  return a.segment === b.segment && a.index === b.index;
}
