import type { Svg } from '@svgdotjs/svg.js';
import type { Box } from '../../nesting/geometry/points.ts';
import type { PrintUnder } from '../../pattern/output/index.ts';
import type { Drawing, DrawingFrame } from '../../pattern/plan/drawing.ts';
import { type DragWish, HandDrag, type Point } from './handDrag.ts';
import { paintDrawing } from './layView.ts';
import { LockSigns } from './lockSigns.ts';
import { PanZoom, type View } from './panZoom.ts';
import { paintPrints } from './printGround.ts';
import { type DrawnRegion, RegionDraw } from './regionDraw.ts';
import { middleOnScreen, TurnHandle } from './turnHandle.ts';

/** A placed piece of the drawing: its stretch, and its place in that stretch's list. */
export interface PlacedKey {
  readonly segment: number;
  readonly index: number;
}

/** How far a dragged piece has come and turned, and how it stands there. */
export interface DragStep {
  readonly dx: number;
  readonly dy: number;
  readonly turn: number;
  /** Where the origin of its outline lay before, in mm on the cloth: it turns about that, then it is shifted. */
  readonly from: readonly [number, number];
  readonly isFree: boolean;
  readonly text: string;
}

export interface HandEvents {
  onChoose(key: PlacedKey | null): void;
  /** The chosen piece is wanted elsewhere. Returns where it may go. */
  onDrag(key: PlacedKey, wish: DragWish): DragStep;
  onDrop(key: PlacedKey, step: DragStep): void;
  onKey(key: PlacedKey | null, event: KeyboardEvent): boolean;
  /** A region was drawn: for each segment in view its part of it, in the segment's own axes, mm. */
  onRegion(regionOf: (segment: number) => Box | null): void;
}

/** What is told of a piece beside its name, to whoever does not see its lines. */
export interface StateWords {
  readonly locked: string;
  readonly faulty: string;
}

/** What is to be seen of the pieces beside the drawing itself. */
export interface HandMarks {
  readonly chosen: PlacedKey | null;
  readonly faulty: readonly PlacedKey[];
  readonly locked: readonly PlacedKey[];
  /** Whether the chosen piece may be turned: then it has a handle for it. */
  readonly canTurn: boolean;
}

/** A drawing so many times as long as the screen is not shown whole at first. */
const LONG = 1.4;

/** A piece in hand, as it is drawn. */
interface Held {
  readonly key: PlacedKey;
  readonly node: SVGGElement;
  readonly drag: HandDrag;
  step: DragStep | null;
  /** Moved, and not yet drawn: pointers report more often than the screen is painted. */
  isDue: boolean;
}

/** A lay whose pieces can be chosen, dragged and pushed by keys. The drawing is that of the plan. */
export class HandView {
  readonly #host: HTMLElement;
  readonly #events: HandEvents;
  readonly #onZoom: (zoom: number) => void;
  readonly #words: StateWords;
  readonly #note: HTMLElement;
  readonly #abort = new AbortController();
  #svg: Svg | null = null;
  #panZoom: PanZoom | null = null;
  #drawing: Drawing | null = null;
  #prints: readonly PrintUnder[] = [];
  #marks: HandMarks = { chosen: null, faulty: [], locked: [], canTurn: false };
  #handle: TurnHandle | null = null;
  readonly #locks = new LockSigns();
  #held: Held | null = null;
  readonly #region = new RegionDraw((region) => this.#events.onRegion(this.#onCloth(region)));
  #drawsRegion = false;

  constructor(host: HTMLElement, events: HandEvents, words: StateWords, onZoom: (zoom: number) => void) {
    this.#host = host;
    this.#words = words;
    this.#events = events;
    this.#onZoom = onZoom;
    this.#note = document.createElement('p');
    this.#note.className = 'hand-note';
    this.#note.hidden = true;
    host.append(this.#note);
    const { signal } = this.#abort;
    // Before all others: a second finger is no pan of the view.
    addEventListener('pointerdown', (event) => this.#downSecond(event), { signal, capture: true });
    addEventListener('pointermove', (event) => this.#move(event), { signal });
    addEventListener('pointerup', (event) => this.#up(event), { signal });
    addEventListener('pointercancel', (event) => this.#cancel(event.pointerId), { signal });
    addEventListener('keydown', (event) => event.key === 'Escape' && this.#cancel(null), { signal });
  }

  /** Whether the next press draws a region instead of taking up a piece. */
  drawRegion(isOn: boolean): void {
    this.#drawsRegion = isOn;
    this.#region.listen(isOn ? this.#svg : null);
  }

  /** What a region of the drawing is on the cloth. */
  #onCloth({ left, right, top, bottom }: DrawnRegion): (segment: number) => Box | null {
    return (segment) => {
      const frame = this.#frameOf({ segment, index: 0 });
      if (!frame || !this.#drawing) return null;
      const { scale } = this.#drawing;
      return {
        minX: (left - frame.x) * scale + frame.fromMm,
        maxX: (right - frame.x) * scale + frame.fromMm,
        minY: (frame.y - bottom) * scale,
        maxY: (frame.y - top) * scale,
      };
    };
  }

  /** Shows a drawing made in one row. One of the same sheet keeps the part of it that is in view. */
  show(drawing: Drawing, prints: readonly PrintUnder[], marks: HandMarks, label: string): void {
    if (drawing !== this.#drawing || prints !== this.#prints) this.#paint(drawing, prints, label);
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

  look(right: number, down: number): void {
    this.#panZoom?.look(right, down);
  }

  destroy(): void {
    this.#abort.abort();
    this.#region.listen(null);
    this.#panZoom?.destroy();
    this.#svg?.remove();
    this.#note.remove();
  }

  #paint(drawing: Drawing, prints: readonly PrintUnder[], label: string): void {
    const before = this.#drawing;
    const keepsView = before?.widthMm === drawing.widthMm && before.heightMm === drawing.heightMm;
    const view: View | undefined = keepsView ? this.#panZoom?.view : undefined;
    const hadFocus = this.#svg?.node.contains(document.activeElement) ?? false;
    this.#panZoom?.destroy();
    this.#svg?.remove();
    this.#held = null;
    this.#note.hidden = true;
    this.#drawing = drawing;
    this.#prints = prints;
    const svg = paintDrawing(drawing).addTo(this.#host).addClass('lay-view').addClass('hand-view');
    svg.attr({ role: 'group', 'aria-label': label });
    paintPrints(svg, prints);
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
    const onView = (_view: View, zoom: number): void => {
      this.#onZoom(zoom);
      this.#placeHandle();
      this.#locks.resize(this.#unit());
    };
    this.#handle = new TurnHandle(svg, (event) => this.#downHandle(event), this.#abort.signal);
    this.#panZoom = new PanZoom(svg.node, whole, onView, start);
    if (this.#drawsRegion) this.#region.listen(svg);
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
      const states = [
        ...(isIn(locked, key) ? [this.#words.locked] : []),
        ...(isIn(faulty, key) ? [this.#words.faulty] : []),
      ];
      if (states.length > 0) node.setAttribute('aria-description', states.join(' '));
      else node.removeAttribute('aria-description');
      // One stop of the Tab key for all pieces: the chosen one, or the first.
      node.tabIndex = isChosen || (chosen === null && n === 0) ? 0 : -1;
    });
    this.#locks.place(
      nodes.filter((node) => node.classList.contains('locked')),
      this.#unit(),
    );
    const top = this.#nodeOf(chosen);
    if (top && top !== top.parentNode?.lastChild && !top.contains(document.activeElement))
      top.parentNode?.append(top);
    this.#placeHandle();
  }

  #placeHandle(): void {
    const chosen = this.#marks.canTurn ? this.#nodeOf(this.#marks.chosen) : null;
    this.#handle?.place(chosen && edgeOf(chosen), this.#drawing?.widthMm ?? 0);
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
    if (event.button !== 0 || this.#held) return;
    // Neither a pan of the view nor a click on the empty cloth.
    event.stopPropagation();
    const key = keyOf(node);
    this.#choose(key);
    this.#take(event, node, null);
  }

  #downHandle(event: PointerEvent): void {
    const node = this.#nodeOf(this.#marks.chosen);
    if (event.button !== 0 || this.#held || !node) return;
    event.stopPropagation();
    this.#take(event, node, middleOnScreen(edgeOf(node) ?? node));
  }

  #take(event: PointerEvent, node: SVGGElement, pivot: Point | null): void {
    this.#held = { key: keyOf(node), node, drag: new HandDrag(event, pivot), step: null, isDue: false };
  }

  /** Another finger, anywhere, while one holds a piece. */
  #downSecond(event: PointerEvent): void {
    if (!this.#held?.drag.takeSecond(event)) return;
    event.stopPropagation();
    event.preventDefault();
  }

  #move(event: PointerEvent): void {
    const held = this.#held;
    if (!held?.drag.follow(event)) return;
    event.preventDefault();
    held.node.classList.add('dragged');
    if (!held.isDue) requestAnimationFrame(() => this.#draw(held));
    held.isDue = true;
  }

  #draw(held: Held): void {
    if (!held.isDue || this.#held !== held) return;
    held.isDue = false;
    const frame = this.#frameOf(held.key);
    if (!frame || !this.#drawing) return;
    const step = this.#events.onDrag(held.key, held.drag.wish(this.#mmPerPixel()));
    held.step = step;
    const { scale } = this.#drawing;
    const [x, y] = [frame.x + (step.from[0] - frame.fromMm) / scale, frame.y - step.from[1] / scale];
    const turned = step.turn === 0 ? '' : ` rotate(${-step.turn} ${x} ${y})`;
    held.node.setAttribute('transform', `translate(${step.dx / scale} ${-step.dy / scale})${turned}`);
    held.node.classList.toggle('in-the-way', !step.isFree);
    this.#handle?.hideWhile(true);
    this.#note.hidden = false;
    this.#note.textContent = step.text;
    this.#note.classList.toggle('bad', !step.isFree);
  }

  #up({ pointerId }: PointerEvent): void {
    const held = this.#held;
    if (!held || held.drag.letGoSecond(pointerId) || pointerId !== held.drag.pointerId) return;
    if (held.isDue) this.#draw(held);
    this.#letGo();
    if (held.step) this.#events.onDrop(held.key, held.step);
  }

  /** Puts a dragged piece back where it was. */
  #cancel(pointerId: number | null): void {
    const held = this.#held;
    if (!held || (pointerId !== null && held.drag.letGoSecond(pointerId))) return;
    if (pointerId !== null && pointerId !== held.drag.pointerId) return;
    this.#letGo();
    held.node.removeAttribute('transform');
    held.node.classList.remove('dragged', 'in-the-way');
  }

  #letGo(): void {
    this.#held = null;
    this.#note.hidden = true;
    this.#handle?.hideWhile(false);
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

  /** Units of the drawing under a pixel of the screen. */
  #unit(): number {
    return 1 / (this.#svg?.node.getScreenCTM()?.a || 1);
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

/** The drawn outline of a piece. */
function edgeOf(node: SVGGElement): SVGGraphicsElement | null {
  return node.querySelector<SVGGraphicsElement>('.piece-edge');
}
