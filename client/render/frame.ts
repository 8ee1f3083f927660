import type { Box, Point, Ring } from '../../nesting/geometry/points.ts';

/**
 * The one place where millimetres on cloth or piece (y up) become pixels on screen (y down) and back.
 */
export interface Frame {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Pixels a millimetre. */
  readonly scale: number;
  toScreen(point: Point): Point;
  toMm(x: number, y: number): Point;
  /** Path data of a ring on screen, closed. */
  pathOf(ring: Ring): string;
}

/** Room around a drawing, in pixels. */
export interface Padding {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Fits a box into a rectangle of pixels, centred, as large as it goes. */
export function frameFor(box: Box, widthPx: number, heightPx: number, padding: Padding): Frame {
  const boxWidth = Math.max(box.maxX - box.minX, 1e-6);
  const boxHeight = Math.max(box.maxY - box.minY, 1e-6);
  const roomX = Math.max(10, widthPx - padding.left - padding.right);
  const roomY = Math.max(10, heightPx - padding.top - padding.bottom);
  const scale = Math.min(roomX / boxWidth, roomY / boxHeight);
  const left = padding.left + (roomX - boxWidth * scale) / 2;
  const bottom = heightPx - padding.bottom - (roomY - boxHeight * scale) / 2;
  const toScreen = ([x, y]: Point): Point => [left + (x - box.minX) * scale, bottom - (y - box.minY) * scale];
  return {
    widthPx,
    heightPx,
    scale,
    toScreen,
    toMm: (x, y) => [box.minX + (x - left) / scale, box.minY + (bottom - y) / scale],
    pathOf: (ring) => pathThrough(ring.map(toScreen)),
  };
}

/** Path data through points in pixels, to a hundredth of one. */
export function pathThrough(points: readonly Point[], closed = true): string {
  if (points.length === 0) return '';
  const text = points.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join('L');
  return `M${text}${closed ? 'Z' : ''}`;
}

/** Where a pointer is, in the pixels of an SVG that is drawn one to one. */
export function pointerIn(element: SVGSVGElement, event: PointerEvent): Point {
  const box = element.getBoundingClientRect();
  return [event.clientX - box.left, event.clientY - box.top];
}
