import type { Point } from '../../nesting/geometry/points.ts';
import { boundingBox } from '../../nesting/geometry/rings.ts';
import type { Remnant } from '../../pattern/exchange/project.ts';
import { FittedDrawing } from './fittedDrawing.ts';
import { followPointer } from './followPointer.ts';
import { type Frame, frameFor, pathThrough, pointerIn } from './frame.ts';

export interface RemnantWords {
  readonly title: string;
  readonly length: string;
  readonly width: string;
  readonly grain: string;
  corner(number: number, point: Point): string;
  flaw(number: number): string;
}

export interface RemnantViewState {
  readonly remnant: Remnant;
  /** Corners can be dragged. */
  readonly isShaping: boolean;
  readonly words: RemnantWords;
}

export interface RemnantEvents {
  onCorner(index: number, point: Point, phase: 'drag' | 'end' | 'cancel'): void;
  /** A corner was pushed by a key, so many millimetres along and across. */
  onPush(index: number, along: number, across: number): void;
}

const PADDING = { left: 44, right: 30, top: 42, bottom: 34 };
/** The grain arrow in the upper left corner, clear of the shape. */
const GRAIN_Y = 14;
const GRAIN_LENGTH = 70;
/** Numbers stand so far outside their corners. */
const NUMBER_PX = 19;
/** Dragged corners land on whole millimetres. */
const CATCH_MM = 1;
const KEY_STEP_MM = 1;
const KEY_LEAP_MM = 10;

/** The shape of a remnant with its flaws; corners as handles. */
export class RemnantView extends FittedDrawing<RemnantViewState> {
  readonly #events: RemnantEvents;
  /** Kept still while a corner is dragged, or the drawing would run away from the pointer. */
  #frame: Frame | null = null;
  #drag: { readonly index: number; readonly start: Point; readonly at: Point } | null = null;
  #stopListening: () => void = () => undefined;

  constructor(host: HTMLElement, events: RemnantEvents) {
    super(host, 'remnant-view');
    this.#events = events;
  }

  override destroy(): void {
    this.#stopListening();
    super.destroy();
  }

  protected override draw(state: RemnantViewState, width: number, height: number): void {
    const focused = document.activeElement;
    const focusedCorner =
      focused && this.svg.node.contains(focused) ? focused.getAttribute('data-corner') : null;
    const { remnant, words } = state;
    const box = boundingBox(remnant.outline);
    if (!this.#drag || !this.#frame) this.#frame = frameFor(box, width, height, PADDING);
    const frame = this.#frame;
    this.svg.clear().size(width, height).attr({ role: 'group', 'aria-label': words.title });
    this.#path('rv-cloth', frame.pathOf(remnant.outline));
    remnant.flaws.forEach((flaw, index) => {
      this.#path('rv-flaw', frame.pathOf(flaw));
      const flawBox = boundingBox(flaw);
      const [x, y] = frame.toScreen([(flawBox.minX + flawBox.maxX) / 2, (flawBox.minY + flawBox.maxY) / 2]);
      this.#text('rv-flaw-text', words.flaw(index + 1), x, y);
    });
    const [left, bottom] = frame.toScreen([box.minX, box.minY]);
    const [right, top] = frame.toScreen([box.maxX, box.maxY]);
    this.#path(
      'rv-size',
      `M${left} ${bottom + 12}H${right}M${left} ${bottom + 8}v8M${right} ${bottom + 8}v8`,
    );
    this.#path('rv-size', `M${left - 12} ${bottom}V${top}M${left - 16} ${bottom}h8M${left - 16} ${top}h8`);
    this.#text('rv-size-text', words.length, (left + right) / 2, bottom + 28);
    this.#text('rv-size-text', words.width, left - 19, (top + bottom) / 2, -90);
    this.#path(
      'rv-grain',
      pathThrough(
        [
          [12, GRAIN_Y],
          [12 + GRAIN_LENGTH, GRAIN_Y],
        ],
        false,
      ),
    );
    this.#path('rv-grain-head', `M11 ${GRAIN_Y}l8 -4v8ZM${13 + GRAIN_LENGTH} ${GRAIN_Y}l-8 -4v8Z`);
    this.#text('rv-grain-text', words.grain, 20 + GRAIN_LENGTH, GRAIN_Y + 4);
    if (state.isShaping) this.#drawCorners(frame, state, focusedCorner);
  }

  #path(className: string, d: string): void {
    this.svg.path().attr({ class: className, d });
  }

  #text(className: string, text: string, x: number, y: number, turn = 0): void {
    const node = this.svg.plain(text).attr({ class: className, x, y });
    if (turn !== 0) node.attr('transform', `rotate(${turn} ${x} ${y})`);
  }

  #drawCorners(frame: Frame, { remnant, words }: RemnantViewState, focused: string | null): void {
    const box = boundingBox(remnant.outline);
    const middle = frame.toScreen([(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2]);
    remnant.outline.forEach((point, index) => {
      const [x, y] = frame.toScreen(point);
      const away = Math.hypot(x - middle[0], y - middle[1]) || 1;
      const numberX = x + ((x - middle[0]) / away) * NUMBER_PX;
      const numberY = y + ((y - middle[1]) / away) * NUMBER_PX;
      const corner = this.svg.group().addClass('rv-corner');
      corner.attr({
        role: 'button',
        tabindex: 0,
        'data-corner': index,
        'aria-label': words.corner(index + 1, point),
      });
      corner.circle(40).center(x, y).addClass('pv-handle-area');
      corner.circle(14).center(x, y).addClass('pv-handle-dot');
      corner.plain(String(index + 1)).attr({ class: 'rv-corner-text', x: numberX, y: numberY });
      const node = corner.node;
      node.addEventListener('pointerdown', (event: PointerEvent) => {
        if (event.button !== 0) return;
        event.preventDefault();
        node.focus();
        this.#beginDrag(index, point, event);
      });
      node.addEventListener('keydown', (event: KeyboardEvent) => this.#key(index, event));
      if (focused === String(index)) node.focus();
    });
  }

  #key(index: number, event: KeyboardEvent): void {
    const step = event.shiftKey ? KEY_LEAP_MM : KEY_STEP_MM;
    const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] }[
      event.key
    ];
    if (event.key === 'Escape' && this.#drag) {
      event.stopPropagation();
      this.#endDrag('cancel');
    } else if (by) {
      event.preventDefault();
      this.#events.onPush(index, by[0] ?? 0, by[1] ?? 0);
    }
  }

  #beginDrag(index: number, start: Point, event: PointerEvent): void {
    const frame = this.#frame;
    if (!frame) return;
    const [px, py] = pointerIn(this.svg.node, event);
    this.#drag = { index, start, at: frame.toMm(px, py) };
    const move = (moved: PointerEvent): void => {
      const drag = this.#drag;
      if (!drag) return;
      const [x, y] = frame.toMm(...(pointerIn(this.svg.node, moved) as [number, number]));
      const landed = (start: number, now: number, from: number): number =>
        Math.round((start + now - from) / CATCH_MM) * CATCH_MM;
      const to: Point = [landed(drag.start[0], x, drag.at[0]), landed(drag.start[1], y, drag.at[1])];
      this.#events.onCorner(index, to, 'drag');
    };
    this.#stopListening();
    this.#stopListening = followPointer(event, { move, end: (phase) => this.#endDrag(phase) });
  }

  #endDrag(phase: 'end' | 'cancel'): void {
    const drag = this.#drag;
    this.#drag = null;
    this.#stopListening();
    if (drag) this.#events.onCorner(drag.index, drag.start, phase);
    this.redraw();
  }
}
