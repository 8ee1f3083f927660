import { SVG, type Svg } from '@svgdotjs/svg.js';
import type { Point } from '../../nesting/geometry/points.ts';
import type { DrawingOutline, ReadDrawing } from '../../pattern/reading/drawing.ts';
import { pathThrough } from './frame.ts';
import { PanZoom, type View } from './panZoom.ts';

/** How an outline stands in the picking, for its class. */
export type OutlineStanding = 'free' | 'picked' | 'copy' | 'inside';

export interface PickerEvents {
  onPick(outlineId: string): void;
  /** How much larger than the whole drawing it is shown now. */
  onZoom(zoom: number): void;
}

/** Room around page and outlines, as a part of their size. */
const MARGIN_PART = 0.02;
/** Letters smaller than this many millimetres are left out: they would be dust. */
const LEAST_LETTER_MM = 2;
/** A press that moves farther than this, in pixels, was a drag and not a click. */
const CLICK_SLACK_PX = 5;

/** A drawing as read, every closed outline to be clicked. */
export class DrawingPicker {
  readonly #host: HTMLElement;
  readonly #events: PickerEvents;
  #svg: Svg | null = null;
  #panZoom: PanZoom | null = null;
  #nodes = new Map<string, SVGElement>();

  constructor(host: HTMLElement, events: PickerEvents) {
    this.#host = host;
    this.#events = events;
  }

  show(reading: ReadDrawing, label: string): void {
    this.destroy();
    const svg = SVG().addTo(this.#host).addClass('picker');
    this.#svg = svg;
    const { page } = reading;
    // y up on the drawing's page, y down on screen.
    const flip = ([x, y]: Point): Point => [x, page.heightMm - y];
    svg.rect(page.widthMm, page.heightMm).attr({ class: 'pk-page', 'vector-effect': 'non-scaling-stroke' });
    for (const line of reading.openLines) {
      svg.path().attr({
        class: 'pk-line',
        d: pathThrough(line.points.map(flip), false),
        'vector-effect': 'non-scaling-stroke',
      });
    }
    // Inner outlines come later, so that they lie on top and can be clicked.
    const byDepth = [...reading.outlines].sort((a, b) => a.depth - b.depth || b.areaMm2 - a.areaMm2);
    for (const outline of byDepth) this.#outline(svg, outline, flip);
    for (const text of reading.texts) {
      if (text.sizeMm < LEAST_LETTER_MM) continue;
      const [x, y] = flip(text.at);
      svg
        .plain(text.text.replaceAll('\n', ' '))
        .attr({ class: 'pk-text', x, y, 'font-size': text.sizeMm, 'text-anchor': text.anchor });
    }
    svg.attr({ tabindex: 0, role: 'img', 'aria-label': label });
    this.#panZoom = new PanZoom(svg.node, wholeView(reading), (_view, zoom) => this.#events.onZoom(zoom));
  }

  #outline(svg: Svg, outline: DrawingOutline, flip: (point: Point) => Point): void {
    const path = svg.path().attr({
      class: 'pk-outline',
      d: pathThrough(outline.ring.map(flip)),
      'vector-effect': 'non-scaling-stroke',
    });
    const node = path.node;
    let from: { x: number; y: number } | null = null;
    node.addEventListener('pointerdown', (event: PointerEvent) => {
      from = { x: event.clientX, y: event.clientY };
    });
    node.addEventListener('pointerup', (event: PointerEvent) => {
      const moved = from
        ? Math.hypot(event.clientX - from.x, event.clientY - from.y)
        : Number.POSITIVE_INFINITY;
      from = null;
      if (moved <= CLICK_SLACK_PX && event.button === 0) this.#events.onPick(outline.id);
    });
    this.#nodes.set(outline.id, node);
  }

  /** Paints every outline by how it stands; `pointed` is the one the maker's pointer is on in the list. */
  mark(standing: (id: string) => OutlineStanding, pointed: string | null): void {
    for (const [id, node] of this.#nodes) {
      node.setAttribute('class', `pk-outline pk-${standing(id)}${id === pointed ? ' pk-pointed' : ''}`);
    }
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
    this.#panZoom?.destroy();
    this.#svg?.remove();
    this.#svg = null;
    this.#nodes = new Map();
  }
}

/** Page and all outlines, with a margin. */
function wholeView(reading: ReadDrawing): View {
  const { page } = reading;
  let minX = 0;
  let minY = 0;
  let maxX = page.widthMm;
  let maxY = page.heightMm;
  for (const { box } of reading.outlines) {
    minX = Math.min(minX, box.minX);
    maxX = Math.max(maxX, box.maxX);
    minY = Math.min(minY, page.heightMm - box.maxY);
    maxY = Math.max(maxY, page.heightMm - box.minY);
  }
  const margin = Math.max(maxX - minX, maxY - minY) * MARGIN_PART;
  return {
    x: minX - margin,
    y: minY - margin,
    width: maxX - minX + 2 * margin,
    height: maxY - minY + 2 * margin,
  };
}
