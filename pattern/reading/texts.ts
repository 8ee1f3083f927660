import type { Point } from '../../nesting/packing/types.ts';
import type { DrawingText } from './drawing.ts';
import { parseNumbers, toUserUnits } from './length.ts';
import { READING_LIMITS } from './limits.ts';
import { type Matrix, meanScale } from './matrix.ts';
import type { Property, Style } from './style.ts';
import type { XmlElement } from './xmlTree.ts';

/** Mean width of a letter and distance of lines, in font sizes: no font is at hand, so boxes are rough. */
const LETTER_WIDTH = 0.55;
const LINE_HEIGHT = 1.25;

interface Line {
  text: string;
  x: number;
  y: number;
  size: number;
  style: Style;
}

type StyleInside = (
  element: XmlElement,
  outer: Style,
) => { readonly property: Property; readonly style: Style };

/** The words of a `text` element with their place on the page; null if there are none to be seen. */
export function readText(
  element: XmlElement,
  property: Property,
  style: Style,
  matrix: Matrix,
  styleInside: StyleInside,
): DrawingText | null {
  const lines: Line[] = [];
  let letters = 0;

  const startLine = (x: number, y: number, lineStyle: Style): void => {
    lines.push({ text: '', x, y, size: lineStyle.fontSize, style: lineStyle });
  };
  const gather = (node: XmlElement, nodeStyle: Style): void => {
    for (const child of node.children) {
      if (letters > READING_LIMITS.textLength * 4) return;
      if (typeof child === 'string') {
        if (nodeStyle.invisible) continue;
        const line = lines[lines.length - 1];
        const words = child.slice(0, READING_LIMITS.textLength * 4);
        if (line) line.text += words;
        letters += words.length;
        continue;
      }
      if (child.name !== 'tspan' && child.name !== 'textPath' && child.name !== 'a') continue;
      const inner = styleInside(child, nodeStyle);
      if (inner.style.gone) continue;
      const last = lines[lines.length - 1];
      const x = placeOf(inner.property('x'), inner.style);
      const y = placeOf(inner.property('y'), inner.style);
      const dy = placeOf(inner.property('dy'), inner.style) ?? 0;
      const atX = x ?? last?.x ?? 0;
      const atY = (y ?? last?.y ?? 0) + dy;
      const below =
        last !== undefined && Math.abs(atY - last.y) > 0.5 * inner.style.fontSize && x !== undefined;
      if (below || (child.attributes.has('line-role') && lines.some((line) => line.text.trim() !== '')))
        startLine(atX, atY, inner.style);
      else if (last && last.text.trim() === '') {
        last.x = atX;
        last.y = atY;
        last.size = inner.style.fontSize;
        last.style = inner.style;
      } else if (last && x !== undefined) last.text += ' ';
      gather(child, inner.style);
    }
  };
  startLine(placeOf(property('x'), style) ?? 0, placeOf(property('y'), style) ?? 0, style);
  gather(element, style);

  const seen = lines
    .map((line) => ({ ...line, text: line.text.replace(/\s+/g, ' ').trim() }))
    .filter((line) => line.text !== '');
  const first = seen[0];
  if (!first) return null;
  const text = seen
    .map((line) => line.text)
    .join('\n')
    .slice(0, READING_LIMITS.textLength);
  const place = (x: number, y: number): Point => [
    matrix[0] * x + matrix[2] * y + matrix[4],
    matrix[1] * x + matrix[3] * y + matrix[5],
  ];
  const corners: Point[] = [];
  for (const line of seen) {
    const width = line.text.length * LETTER_WIDTH * line.size;
    const left =
      line.x - (line.style.anchor === 'middle' ? width / 2 : line.style.anchor === 'end' ? width : 0);
    const top = line.y - line.size * 0.8;
    const bottom = line.y + line.size * (LINE_HEIGHT - 1);
    corners.push(
      place(left, top),
      place(left + width, top),
      place(left, bottom),
      place(left + width, bottom),
    );
  }
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const box = { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) };
  if (![box.minX, box.minY, box.maxX, box.maxY].every(Number.isFinite)) return null;
  return {
    elementId: element.attributes.get('id') ?? '',
    text,
    at: place(first.x, first.y),
    anchor: first.style.anchor,
    sizeMm: first.size * meanScale(matrix),
    box,
  };
}

/** The first of a list of coordinates, in user units. */
function placeOf(text: string | undefined, style: Style): number | undefined {
  if (text === undefined) return undefined;
  const head = text.slice(0, 40).trim();
  return toUserUnits(head, 0, style.fontSize) ?? parseNumbers(head)[0];
}
