import { type Container, SVG, type Svg } from '@svgdotjs/svg.js';
import type { Drawing, DrawingItem } from '../../pattern/plan/drawing.ts';
import { pathAttributes, pathData } from '../../pattern/plan/svg.ts';
import { FONT_FAMILY, INK, STYLES } from '../../pattern/plan/tokens.ts';
import { PanZoom, type View } from './panZoom.ts';

/** One drawing of a lay plan on screen, to be looked around in. */
export class LayView {
  readonly #host: HTMLElement;
  readonly #onZoom: (zoom: number) => void;
  #svg: Svg | null = null;
  #panZoom: PanZoom | null = null;
  #shown: Drawing | null = null;

  constructor(host: HTMLElement, onZoom: (zoom: number) => void) {
    this.#host = host;
    this.#onZoom = onZoom;
  }

  /** Shows a drawing; a better one of the same sheet keeps the view the maker has chosen. */
  show(drawing: Drawing, label: string, viewerHelp: string): void {
    if (drawing === this.#shown) return;
    const sameSheet =
      this.#shown !== null &&
      this.#shown.widthMm === drawing.widthMm &&
      this.#shown.heightMm === drawing.heightMm;
    const view: View | undefined = sameSheet ? this.#panZoom?.view : undefined;
    const hadFocus = this.#svg?.node === document.activeElement;
    this.#panZoom?.destroy();
    this.#svg?.remove();
    this.#shown = drawing;
    const svg = paintDrawing(drawing).addTo(this.#host).addClass('lay-view');
    svg.attr({ tabindex: 0, role: 'img', 'aria-label': label, 'aria-description': viewerHelp });
    this.#svg = svg;
    const whole: View = { x: 0, y: 0, width: drawing.widthMm, height: drawing.heightMm };
    this.#panZoom = new PanZoom(svg.node, whole, (_view, zoom) => this.#onZoom(zoom), view ?? whole);
    if (hadFocus) svg.node.focus();
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
  }
}

/** The drawing as SVG nodes, painted like the file: same numbers, same styles. */
export function paintDrawing(drawing: Drawing): Svg {
  const svg = SVG().viewbox(0, 0, drawing.widthMm, drawing.heightMm);
  svg.attr({ 'font-family': FONT_FAMILY, lang: drawing.lang, preserveAspectRatio: 'xMidYMid meet' });
  for (const layer of drawing.layers) {
    const group = svg.group().addClass(`layer-${layer.name}`);
    for (const item of layer.items) paint(item, group);
  }
  return svg;
}

function paint(item: DrawingItem, into: Container): void {
  if (item.kind === 'path') {
    const d = pathData(item);
    if (d !== '') into.path().attr({ class: item.role, d, ...pathAttributes(STYLES[item.role]) });
    return;
  }
  if (item.kind === 'text') {
    const style = STYLES[item.role];
    const text = into.plain(item.text).attr({
      class: item.role,
      x: item.x,
      y: item.y,
      'font-size': item.size,
      'text-anchor': item.anchor,
      'font-weight': style.bold ? 'bold' : 'normal',
      fill: style.fill ?? INK,
    });
    if (item.rotation !== 0) text.attr('transform', `rotate(${item.rotation} ${item.x} ${item.y})`);
    return;
  }
  const group = into.group().addClass(item.role);
  for (const [key, value] of Object.entries(item.data)) {
    group.attr(`data-${key.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)}`, value);
  }
  if (item.title !== undefined) group.element('title').words(item.title);
  for (const child of item.items) paint(child, group);
}
