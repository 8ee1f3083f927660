import type { Box, Point } from '../../nesting/geometry/points.ts';
import type { PageLine } from '../../pattern/pages/sheetLines.ts';
import { FittedDrawing } from './fittedDrawing.ts';
import { followPointer } from './followPointer.ts';
import { type Frame, frameFor, pathThrough, pointerIn } from './frame.ts';

/** One sheet on the board. */
export interface BoardSheet {
  readonly page: number;
  /** What its page's coordinates are moved by, mm. */
  readonly at: Point;
  readonly lines: readonly PageLine[];
  readonly label: string;
}

export interface BoardState {
  readonly sheets: readonly BoardSheet[];
  /** The part of every page that counts, mm. */
  readonly window: Box;
  readonly selected: number | null;
  readonly title: string;
}

export interface BoardEvents {
  onSelect(page: number): void;
  /** While a sheet is dragged: where it would lie; `reachMm` is how far it may be caught, 0 with Alt held. */
  onDrag(page: number, at: Point, reachMm: number): void;
  onDrop(page: number): void;
  onCancel(page: number): void;
  /** Moved by a key, mm. */
  onPush(page: number, by: Point): void;
  /** Caught by a key, wherever the nearest hold is. */
  onCatch(page: number): void;
}

const PADDING = { left: 12, right: 12, top: 12, bottom: 12 };
/** Free room to drag into, as a part of what the sheets take up. */
const ROOM_PART = 0.12;
/** A dragged sheet is caught within so many pixels. */
const CATCH_PX = 14;
const STEP_MM = 1;
const LEAP_MM = 10;
const HAIR_MM = 0.1;
/** More points of one sheet are thinned for the picture. */
const MOST_POINTS = 6_000;

/** Sheets on a board, to be laid beside each other by dragging and by keys. */
export class SheetBoard extends FittedDrawing<BoardState> {
  readonly #events: BoardEvents;
  readonly #paths = new WeakMap<readonly PageLine[], string>();
  /** Kept still while a sheet is dragged, or the board would run away from the pointer. */
  #frame: Frame | null = null;
  #drag: { readonly page: number; readonly offset: Point } | null = null;
  #stopListening: () => void = () => undefined;

  constructor(host: HTMLElement, events: BoardEvents) {
    super(host, 'sheet-board');
    this.#events = events;
  }

  override destroy(): void {
    this.#stopListening();
    super.destroy();
  }

  /** How far a sheet is caught, mm, at the scale shown. */
  get reachMm(): number {
    return this.#frame ? CATCH_PX / this.#frame.scale : 0;
  }

  protected override draw(state: BoardState, width: number, height: number): void {
    if (state.sheets.length === 0) return;
    const focused = this.svg.node.contains(document.activeElement)
      ? document.activeElement?.getAttribute('data-page')
      : null;
    const frame =
      this.#drag && this.#frame ? this.#frame : frameFor(roomAround(state), width, height, PADDING);
    this.#frame = frame;
    this.svg.clear().size(width, height);
    this.svg.attr({ role: 'group', 'aria-label': state.title });
    // The chosen one lies on top.
    const ordered = [...state.sheets].sort(
      (a, b) => Number(a.page === state.selected) - Number(b.page === state.selected),
    );
    for (const sheet of ordered) this.#sheet(sheet, state, frame);
    if (focused) this.svg.node.querySelector<SVGElement>(`[data-page="${focused}"]`)?.focus();
  }

  #sheet(sheet: BoardSheet, { window, selected }: BoardState, frame: Frame): void {
    const [x, y] = frame.toScreen(sheet.at);
    const isSelected = sheet.page === selected;
    const group = this.svg.group().addClass(isSelected ? 'sb-sheet sb-selected' : 'sb-sheet');
    group.attr({
      tabindex: 0,
      role: 'button',
      'aria-label': sheet.label,
      'aria-pressed': isSelected,
      'data-page': sheet.page,
    });
    const { scale } = frame;
    const box = {
      x: x + window.minX * scale,
      y: y - window.maxY * scale,
      width: (window.maxX - window.minX) * scale,
      height: (window.maxY - window.minY) * scale,
    };
    group.rect(box.width, box.height).move(box.x, box.y).addClass('sb-paper');
    group.path().attr({
      class: 'sb-lines',
      d: this.#pathOf(sheet.lines),
      transform: `translate(${x} ${y}) scale(${scale} ${-scale})`,
      'vector-effect': 'non-scaling-stroke',
    });
    group.plain(String(sheet.page)).attr({
      class: 'sb-number',
      x: box.x + box.width / 2,
      y: box.y + box.height / 2,
      'font-size': Math.max(12, Math.min(box.height / 4, 34)),
    });
    const { node } = group;
    node.addEventListener('pointerdown', (event: PointerEvent) => {
      if (event.button !== 0) return;
      event.preventDefault();
      this.#events.onSelect(sheet.page);
      this.svg.node.querySelector<SVGElement>(`[data-page="${sheet.page}"]`)?.focus();
      this.#beginDrag(sheet, event);
    });
    node.addEventListener('focus', () => this.#events.onSelect(sheet.page));
    node.addEventListener('keydown', (event: KeyboardEvent) => this.#key(sheet, event));
  }

  #key(sheet: BoardSheet, event: KeyboardEvent): void {
    const step = event.shiftKey ? LEAP_MM : event.altKey ? HAIR_MM : STEP_MM;
    const by = (
      { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] } as const
    )[event.key];
    if (event.key === 'Escape' && this.#drag) {
      event.stopPropagation();
      const { page } = this.#drag;
      this.#endDrag();
      this.#events.onCancel(page);
    } else if (by) {
      event.preventDefault();
      this.#events.onPush(sheet.page, by);
    } else if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault();
      this.#events.onCatch(sheet.page);
    }
  }

  #beginDrag(sheet: BoardSheet, event: PointerEvent): void {
    const frame = this.#frame;
    if (!frame) return;
    const at = (moved: PointerEvent): Point => frame.toMm(...pointerIn(this.svg.node, moved));
    const [px, py] = at(event);
    this.#drag = { page: sheet.page, offset: [sheet.at[0] - px, sheet.at[1] - py] };
    const move = (moved: PointerEvent): void => {
      const drag = this.#drag;
      if (!drag) return;
      const [x, y] = at(moved);
      const place: Point = [x + drag.offset[0], y + drag.offset[1]];
      this.#events.onDrag(drag.page, place, moved.altKey ? 0 : this.reachMm);
    };
    this.#stopListening();
    this.#stopListening = followPointer(event, {
      move,
      end: (phase) => {
        this.#endDrag();
        if (phase === 'end') this.#events.onDrop(sheet.page);
        else this.#events.onCancel(sheet.page);
      },
    });
  }

  #endDrag(): void {
    this.#drag = null;
    this.#stopListening();
    this.redraw();
  }

  /** The lines of a page, in its own millimetres. */
  #pathOf(lines: readonly PageLine[]): string {
    const known = this.#paths.get(lines);
    if (known !== undefined) return known;
    const count = lines.reduce((sum, { points }) => sum + points.length, 0);
    const every = Math.max(1, Math.ceil(count / MOST_POINTS));
    const path = lines
      .map(({ points, closed }) =>
        pathThrough(
          points.filter((_, i) => i % every === 0 || i === points.length - 1),
          closed,
        ),
      )
      .join('');
    this.#paths.set(lines, path);
    return path;
  }
}

function roomAround({ sheets, window }: BoardState): Box {
  const xs = sheets.map(({ at }) => at[0]);
  const ys = sheets.map(({ at }) => at[1]);
  const box = {
    minX: Math.min(...xs) + window.minX,
    minY: Math.min(...ys) + window.minY,
    maxX: Math.max(...xs) + window.maxX,
    maxY: Math.max(...ys) + window.maxY,
  };
  const room = ROOM_PART * Math.max(box.maxX - box.minX, box.maxY - box.minY);
  return { minX: box.minX - room, minY: box.minY - room, maxX: box.maxX + room, maxY: box.maxY + room };
}
