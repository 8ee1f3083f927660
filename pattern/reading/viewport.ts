import { MM_PER_PIXEL, PIXELS_PER, parseLength, parseNumbers } from './length.ts';
import { compose, type Matrix, scaling, translation } from './matrix.ts';
import type { Property } from './style.ts';

/** The window that percentages refer to, in user units. */
export interface Viewport {
  readonly width: number;
  readonly height: number;
}

/** What 100 % means for lengths that are neither across nor up (SVG 1.1 §7.10). */
export const diagonalOf = (viewport: Viewport): number =>
  Math.hypot(viewport.width, viewport.height) / Math.SQRT2;

export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Null if missing, malformed, or without area (SVG then draws nothing; we draw it as if there were none). */
export function parseViewBox(text: string | undefined): ViewBox | null {
  if (text === undefined || text.length > 300) return null;
  const [x, y, width, height, ...more] = parseNumbers(text);
  if (x === undefined || y === undefined || !width || !height || more.length > 0) return null;
  return width > 0 && height > 0 && [x, y, width, height].every(Number.isFinite)
    ? { x, y, width, height }
    : null;
}

/** Maps a viewBox onto a window of the given size by the rules of preserveAspectRatio (SVG 1.1 §7.8). */
export function viewBoxMatrix(
  box: ViewBox,
  width: number,
  height: number,
  preserve: string | undefined,
): Matrix {
  const words = (preserve ?? '')
    .slice(0, 100)
    .trim()
    .split(/\s+/)
    .filter((word) => word !== 'defer');
  const align = words[0] || 'xMidYMid';
  let scaleX = width / box.width;
  let scaleY = height / box.height;
  if (align === 'none') return compose(scaling(scaleX, scaleY), translation(-box.x, -box.y));
  const scale = words[1] === 'slice' ? Math.max(scaleX, scaleY) : Math.min(scaleX, scaleY);
  scaleX = scaleY = scale;
  const share = (word: string): number => (word === 'Min' ? 0 : word === 'Max' ? 1 : 0.5);
  const offsetX = (width - box.width * scale) * share(align.slice(1, 4));
  const offsetY = (height - box.height * scale) * share(align.slice(5, 8));
  return compose(translation(offsetX, offsetY), compose(scaling(scale, scale), translation(-box.x, -box.y)));
}

/** The page: size in pixels of 1/96 inch, the map from the outermost user units to them, what was said of it. */
export interface Page {
  readonly width: number;
  readonly height: number;
  readonly toPixels: Matrix;
  readonly inner: Viewport;
  readonly physical: boolean;
}

/** What browsers make of a drawing that says nothing of its size (CSS 2.1 §10.3.2). */
const DEFAULT_WIDTH = 300;
const DEFAULT_HEIGHT = 150;

/** Works out the page of the outermost svg element. A size in px, %, em or bare numbers is not physical. */
export function pageOf(
  property: Property,
  viewBoxText: string | undefined,
  preserve: string | undefined,
): Page {
  const viewBox = parseViewBox(viewBoxText);
  const width = sizeInPixels(property('width'));
  const height = sizeInPixels(property('height'));
  const aspect = viewBox ? viewBox.height / viewBox.width : DEFAULT_HEIGHT / DEFAULT_WIDTH;
  const pageWidth =
    width?.pixels ?? (height && viewBox ? height.pixels / aspect : (viewBox?.width ?? DEFAULT_WIDTH));
  const pageHeight = height?.pixels ?? (viewBox ? pageWidth * aspect : DEFAULT_HEIGHT);
  return {
    width: pageWidth,
    height: pageHeight,
    toPixels: viewBox ? viewBoxMatrix(viewBox, pageWidth, pageHeight, preserve) : [1, 0, 0, 1, 0, 0],
    inner: viewBox ?? { width: pageWidth, height: pageHeight },
    physical: (width?.physical ?? false) || (height?.physical ?? false),
  };
}

function sizeInPixels(text: string | undefined): { pixels: number; physical: boolean } | null {
  const length = parseLength(text);
  if (!length || !(length.value > 0)) return null;
  const { value, unit } = length;
  if (unit === '' || unit === 'px') return { pixels: value, physical: false };
  const each = PIXELS_PER[unit];
  return each === undefined ? null : { pixels: value * each, physical: true };
}

/** From user units of the drawing to mm on the page, y turned up, everything multiplied by `factor`. */
export function pageMatrix(page: Page, factor: number): Matrix {
  const mm = MM_PER_PIXEL * factor;
  return compose([mm, 0, 0, -mm, 0, page.height * mm], page.toPixels);
}
