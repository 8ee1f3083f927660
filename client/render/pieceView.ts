import type { G } from '@svgdotjs/svg.js';
import type { Box, Point, Ring } from '../../nesting/geometry/points.ts';
import { boundingBox, centroid, distance, perimeter } from '../../nesting/geometry/rings.ts';
import type { Piece } from '../../pattern/exchange/project.ts';
import { jointLines, stretchPoints } from '../../pattern/parts/index.ts';
import type { PieceFacts } from '../state/pieceFacts.ts';
import { FittedDrawing } from './fittedDrawing.ts';
import { followPointer } from './followPointer.ts';
import { type Frame, frameFor, pathThrough, pointerIn } from './frame.ts';

export interface PieceViewWords {
  readonly title: string;
  readonly grainHandle: string;
  readonly top: string;
  readonly fold: string;
  readonly width: string;
  readonly height: string;
}

export interface PieceViewState {
  readonly piece: Piece;
  readonly facts: PieceFacts;
  readonly isPickingFold: boolean;
  readonly words: PieceViewWords;
}

export interface PieceViewEvents {
  /** While the grain handle is dragged: the new angle in degrees. */
  onGrain(degrees: number, phase: 'drag' | 'end' | 'cancel'): void;
  /** The handle was turned on by a key. By so much, not to an angle: keys may come faster than drawings. */
  onTurn(byDegrees: number): void;
  onFoldEdge(edge: number): void;
}

const PADDING = { left: 46, right: 22, top: 22, bottom: 34 };
/** The dragged grain arrow catches at multiples of this, when nearer than so many degrees. */
const CATCH_EVERY_DEG = 15;
const CATCH_WITHIN_DEG = 3;
/** An edge shorter than this part of the way round is part of a curve, not something to fold along. */
const FOLD_EDGE_PART = 0.02;

/** Edges of an outline long enough to lie on a fold, longest first, at most so many. */
export function foldableEdges(outline: Ring, most: number): readonly { edge: number; lengthMm: number }[] {
  const least = perimeter(outline) * FOLD_EDGE_PART;
  return outline
    .map((point, edge) => ({
      edge,
      lengthMm: distance(point, outline[(edge + 1) % outline.length] ?? point),
    }))
    .filter(({ lengthMm }) => lengthMm >= least)
    .sort((a, b) => b.lengthMm - a.lengthMm)
    .slice(0, most);
}

/** The large drawing of one piece with its grain handle and, on request, edges that can be clicked. */
export class PieceView extends FittedDrawing<PieceViewState> {
  readonly #events: PieceViewEvents;
  #frame: Frame | null = null;
  #dragFrom: { readonly startDeg: number; readonly offset: number } | null = null;
  #centre: Point = [0, 0];

  constructor(host: HTMLElement, events: PieceViewEvents) {
    super(host, 'piece-view');
    this.#events = events;
  }

  protected override draw(state: PieceViewState, width: number, height: number): void {
    const hadFocus = this.svg.node.contains(document.activeElement);
    this.svg.clear().size(width, height);
    const { piece, facts } = state;
    const box = boxOf([piece.outline, ...(facts.whole ? [facts.whole.outline] : [])]);
    const frame = frameFor(box, width, height, PADDING);
    this.#frame = frame;
    this.svg.attr({ role: 'group', 'aria-label': state.words.title });

    if (facts.whole && facts.cut?.fold) this.#path('pv-ghost', frame.pathOf(facts.whole.outline));
    if (facts.cut) {
      this.#path('pv-cloth', [facts.cut.outline, ...facts.cut.holes].map(frame.pathOf).join(''));
    } else {
      this.#path('pv-cloth pv-faulty', frame.pathOf(piece.outline));
    }
    if (piece.line === 'sew') this.#path('pv-sew', frame.pathOf(piece.outline));
    for (const mark of piece.marks) {
      this.#path(`pv-mark pv-${mark.kind}`, pathThrough(mark.points.map(frame.toScreen), mark.closed));
    }
    for (const { letter, points } of jointLines(piece)) {
      const line = points.map(frame.toScreen);
      this.#path('pv-joint', pathThrough(line, false));
      const [from, to] = [line[0], line.at(-1)];
      if (letter !== '' && from && to)
        // Off its middle, where the grain arrow often stands.
        this.#text(
          'pv-joint-text',
          letter,
          from[0] + 0.2 * (to[0] - from[0]) + 10,
          from[1] + 0.2 * (to[1] - from[1]) - 6,
        );
    }
    this.#drawOpenJoints(frame, piece);
    this.#drawSize(frame, facts.cut ? facts.cut.outline : piece.outline, box.minX);
    this.#drawFold(frame, piece);
    this.#drawTop(frame, piece);
    this.#drawGrain(frame, piece, hadFocus);
    if (state.isPickingFold) this.#drawEdges(frame, piece);
  }

  /** Edges at which a partner is still to come, each with its letter inside. */
  #drawOpenJoints(frame: Frame, piece: Piece): void {
    for (const { letter, ...stretch } of piece.openJoints ?? []) {
      const line = stretchPoints(piece.outline, stretch)?.map(frame.toScreen);
      if (!line) continue;
      this.#path('pv-open-joint', pathThrough(line, false));
      const middle = Math.floor((line.length - 1) / 2);
      const [[ax, ay], [bx, by]] = [line[middle] as Point, line[middle + 1] as Point];
      const length = Math.hypot(bx - ax, by - ay) || 1;
      // The inside lies on the left of an edge as drawn upwards; on screen y points down.
      const [x, y] = [(ax + bx) / 2 + (14 * (by - ay)) / length, (ay + by) / 2 - (14 * (bx - ax)) / length];
      this.#text('pv-joint-text', letter, x, y + 4);
    }
  }

  #path(className: string, d: string): void {
    this.svg.path().attr({ class: className, d });
  }

  #text(className: string, text: string, x: number, y: number, turn = 0): void {
    const node = this.svg.plain(text).attr({ class: className, x, y });
    if (turn !== 0) node.attr('transform', `rotate(${turn} ${x} ${y})`);
  }

  /** Width below, height left of everything drawn, of the line that is cut. */
  #drawSize(frame: Frame, outline: Ring, leftmost: number): void {
    const words = this.state?.words;
    const box = boundingBox(outline);
    const [left, bottom] = frame.toScreen([box.minX, box.minY]);
    const [right, top] = frame.toScreen([box.maxX, box.maxY]);
    const low = bottom + 12;
    const beside = frame.toScreen([leftmost, box.minY])[0] - 12;
    this.#path('pv-size', `M${left} ${low}H${right}M${left} ${low - 4}v8M${right} ${low - 4}v8`);
    this.#path('pv-size', `M${beside} ${bottom}V${top}M${beside - 4} ${bottom}h8M${beside - 4} ${top}h8`);
    this.#text('pv-size-text', words?.width ?? '', (left + right) / 2, low + 16);
    this.#text('pv-size-text', words?.height ?? '', beside - 7, (top + bottom) / 2, -90);
  }

  /** The fold edge: a heavy line with a bracket whose ends point at the edge. */
  #drawFold(frame: Frame, piece: Piece): void {
    if (piece.foldEdge === null) return;
    const from = piece.outline[piece.foldEdge];
    const to = piece.outline[(piece.foldEdge + 1) % piece.outline.length];
    if (!from || !to) return;
    const [ax, ay] = frame.toScreen(from);
    const [bx, by] = frame.toScreen(to);
    this.#path('pv-fold', `M${ax} ${ay}L${bx} ${by}`);
    const length = Math.hypot(bx - ax, by - ay) || 1;
    const [ux, uy] = [(bx - ax) / length, (by - ay) / length];
    // On screen (y down) the inside of a counter-clockwise ring lies to the left of its edges as drawn upwards.
    const [nx, ny] = [uy, -ux];
    const at = (along: number, inward: number): Point => [
      ax + ux * along + nx * inward,
      ay + uy * along + ny * inward,
    ];
    const inset = Math.min(length * 0.15, 24);
    const bracket = [at(inset, 3), at(inset, 14), at(length - inset, 14), at(length - inset, 3)];
    this.#path('pv-fold-bracket', pathThrough(bracket, false));
    // Off the middle, where the grain arrow may stand on the edge.
    const [x, y] = at(length / 4, 26);
    const turn = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
    const upright = Math.abs(turn) > 90 ? turn + 180 : turn;
    this.#text('pv-fold-text', this.state?.words.fold ?? '', x, y, upright);
  }

  /** Which end is up: a small solid roof on the side of the box that the top points to. */
  #drawTop(frame: Frame, piece: Piece): void {
    const box = boundingBox(piece.outline);
    const centre: Point = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
    const angle = (piece.topDeg * Math.PI) / 180;
    const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
    const halfX = (box.maxX - box.minX) / 2;
    const halfY = (box.maxY - box.minY) / 2;
    const reach = Math.min(
      Math.abs(dx) > 1e-9 ? halfX / Math.abs(dx) : Number.POSITIVE_INFINITY,
      Math.abs(dy) > 1e-9 ? halfY / Math.abs(dy) : Number.POSITIVE_INFINITY,
    );
    const [x, y] = frame.toScreen([centre[0] + dx * reach, centre[1] + dy * reach]);
    const group = this.svg.group().attr('transform', `translate(${x} ${y}) rotate(${90 - piece.topDeg})`);
    group.path().attr({ class: 'pv-top', d: 'M0 -15L9 -4H-9Z' });
  }

  #drawGrain(frame: Frame, piece: Piece, focusAgain: boolean): void {
    const outline = this.state?.facts.cut?.outline ?? piece.outline;
    const box = boundingBox(outline);
    const middle = centroid(outline);
    this.#centre = Number.isFinite(middle[0])
      ? middle
      : [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
    const [cx, cy] = frame.toScreen(this.#centre);
    const angle = (piece.grainDeg * Math.PI) / 180;
    // On screen y points down.
    const [ux, uy] = [Math.cos(angle), -Math.sin(angle)];
    const room = Math.min(
      Math.abs(ux) > 1e-9
        ? ((box.maxX - box.minX) * frame.scale) / 2 / Math.abs(ux)
        : Number.POSITIVE_INFINITY,
      Math.abs(uy) > 1e-9
        ? ((box.maxY - box.minY) * frame.scale) / 2 / Math.abs(uy)
        : Number.POSITIVE_INFINITY,
    );
    const half = Math.max(34, Math.min(room * 0.72, 130));
    const ends: [Point, Point] = [
      [cx - ux * half, cy - uy * half],
      [cx + ux * half, cy + uy * half],
    ];
    this.#path('pv-grain', pathThrough(ends, false));
    for (const [end, sign] of [
      [ends[0], -1],
      [ends[1], 1],
    ] as const) {
      const turn = (Math.atan2(uy * sign, ux * sign) * 180) / Math.PI;
      this.svg.path().attr({
        class: 'pv-grain-head',
        d: 'M0 0L-11 -5V5Z',
        transform: `translate(${end[0]} ${end[1]}) rotate(${turn})`,
      });
    }
    const handle = this.svg.group().addClass('pv-handle');
    const at: Point = [cx + ux * (half + 15), cy + uy * (half + 15)];
    handle.circle(44).center(at[0], at[1]).addClass('pv-handle-area');
    handle.circle(18).center(at[0], at[1]).addClass('pv-handle-dot');
    this.#wireHandle(handle, piece);
    if (focusAgain) handle.node.focus();
  }

  #wireHandle(handle: G, piece: Piece): void {
    handle.attr({
      role: 'slider',
      tabindex: 0,
      'aria-label': this.state?.words.grainHandle ?? '',
      'aria-valuemin': 0,
      'aria-valuemax': 180,
      'aria-valuenow': piece.grainDeg,
      'aria-valuetext': `${piece.grainDeg}°`,
    });
    const node = handle.node;
    node.addEventListener('pointerdown', (event: PointerEvent) => {
      if (event.button !== 0) return;
      event.preventDefault();
      node.focus();
      this.#beginDrag(event);
    });
    node.addEventListener('keydown', (event: KeyboardEvent) => {
      const step = event.shiftKey ? CATCH_EVERY_DEG : 1;
      const by = { ArrowLeft: step, ArrowUp: step, ArrowRight: -step, ArrowDown: -step }[event.key];
      if (event.key === 'Escape' && this.#dragFrom) {
        event.stopPropagation();
        this.#endDrag('cancel');
      } else if (by !== undefined) {
        event.preventDefault();
        this.#events.onTurn(by);
      }
    });
  }

  #angleAt(event: PointerEvent): number {
    const frame = this.#frame;
    if (!frame) return 0;
    const [px, py] = pointerIn(this.svg.node, event);
    const [cx, cy] = frame.toScreen(this.#centre);
    return (Math.atan2(cy - py, px - cx) * 180) / Math.PI;
  }

  /** The whole drag is computed from its start; the drawing is redrawn meanwhile, so the listeners sit on the window. */
  #beginDrag(event: PointerEvent): void {
    const startDeg = this.state?.piece.grainDeg ?? 90;
    this.#dragFrom = { startDeg, offset: this.#angleAt(event) - startDeg };
    const move = (moved: PointerEvent): void => {
      if (!this.#dragFrom) return;
      const free = this.#angleAt(moved) - this.#dragFrom.offset;
      const caught = Math.round(free / CATCH_EVERY_DEG) * CATCH_EVERY_DEG;
      const isCaught = !moved.altKey && Math.abs(free - caught) <= CATCH_WITHIN_DEG;
      this.#events.onGrain(isCaught ? caught : Math.round(free), 'drag');
    };
    this.#stopListening();
    this.#stopListening = followPointer(event, { move, end: (phase) => this.#endDrag(phase) });
  }

  #stopListening: () => void = () => undefined;

  #endDrag(phase: 'end' | 'cancel'): void {
    const from = this.#dragFrom;
    this.#dragFrom = null;
    this.#stopListening();
    if (from) this.#events.onGrain(from.startDeg, phase);
  }

  /** Wide invisible lines over the long edges, to be clicked when the fold edge is chosen. */
  #drawEdges(frame: Frame, piece: Piece): void {
    for (const { edge } of foldableEdges(piece.outline, 60)) {
      const from = piece.outline[edge];
      const to = piece.outline[(edge + 1) % piece.outline.length];
      if (!from || !to) continue;
      const line = this.svg
        .path()
        .attr({ class: 'pv-edge', d: pathThrough([frame.toScreen(from), frame.toScreen(to)], false) });
      line.node.addEventListener('click', () => this.#events.onFoldEdge(edge));
    }
  }
}

function boxOf(rings: readonly Ring[]): Box {
  return boundingBox(rings.flat());
}
