import type { Point } from '../../nesting/packing/types.ts';
import { mm, type PdfPage, pdf } from '../reading/pdfText.ts';

/**
 * What is drawn on the whole drawing: a closed line, an open one, a filled figure that lies on one sheet, or lettering
 * with its lower left corner. Millimetres, y up.
 */
export type TiledItem =
  | { readonly ring: readonly Point[] }
  | { readonly line: readonly Point[] }
  | { readonly filled: readonly Point[] }
  | { readonly text: string; readonly at: Point; readonly sizeMm?: number };

export interface Tiling {
  readonly columns: number;
  readonly rows: number;
  /** Margin of the paper left free all round. */
  readonly marginMm?: number;
  readonly overlapMm?: number;
  readonly frames?: boolean;
  /**
   * `cut`: lines end at the frame; `whole`: every page holds all of each outline that it shows a part of; `once`: the
   * first page that shows a part of an outline holds all of it, and no other.
   */
  readonly lines?: 'cut' | 'whole' | 'once';
  readonly order?: 'rows' | 'columns';
  /** A page without any of the drawing in front. */
  readonly cover?: boolean;
}

/** A4, ISO 216. */
export const SHEET_MM = { width: 210, height: 297 } as const;

/** A drawing of ours as a PDF in sheets of A4, always the same bytes for the same drawing. */
export function tiledPdf(items: readonly TiledItem[], tiling: Tiling): Uint8Array {
  const { columns, rows, marginMm = 10, overlapMm = 0, frames = true, lines = 'cut' } = tiling;
  const width = SHEET_MM.width - 2 * marginMm;
  const height = SHEET_MM.height - 2 * marginMm;
  const tall = rows * (height - overlapMm) + overlapMm;
  const pages: PdfPage[] = [];
  const drawn = new Set<TiledItem>();
  const sheet = (column: number, row: number): PdfPage => {
    const x = column * (width - overlapMm);
    const y = tall - row * (height - overlapMm) - height;
    const window = { minX: x, minY: y, maxX: x + width, maxY: y + height };
    const shift = ([px, py]: Point): Point => [px - x + marginMm, py - y + marginMm];
    const content = [`${mm(0.25)} w 0 0 0 RG`];
    if (frames) content.push(`${mm(marginMm, marginMm, width, height)} re S`);
    for (const item of items) {
      if ('text' in item) {
        const [tx, ty] = item.at;
        if (tx < window.minX || tx > window.maxX || ty < window.minY || ty > window.maxY) continue;
        content.push(`BT /F ${mm(item.sizeMm ?? 6)} Tf ${mm(...shift(item.at))} Td (${item.text}) Tj ET`);
      } else if ('filled' in item) {
        const [[fx, fy]] = item.filled as [Point];
        if (fx < window.minX || fx >= window.maxX || fy < window.minY || fy >= window.maxY) continue;
        content.push(`${path(item.filled.map(shift))} h f`);
      } else if ('line' in item) {
        for (const [from, to] of cutEdges(item.line, window, false))
          content.push(`${path([shift(from), shift(to)])} S`);
      } else if (lines !== 'cut') {
        const isSeen = item.ring.some(
          ([px, py]) => px > window.minX && px < window.maxX && py > window.minY && py < window.maxY,
        );
        if (isSeen && !(lines === 'once' && drawn.has(item)))
          content.push(`${path(item.ring.map(shift))} h S`);
        if (isSeen) drawn.add(item);
      } else
        for (const [from, to] of cutEdges(item.ring, window))
          content.push(`${path([shift(from), shift(to)])} S`);
    }
    content.push(`BT /F ${mm(4)} Tf ${mm(marginMm, 3)} Td (Sheet ${pages.length + 1}) Tj ET`);
    return {
      mediaBox: [0, 0, ...mm(SHEET_MM.width, SHEET_MM.height).split(' ').map(Number)],
      content: content.join('\n'),
    };
  };
  if (tiling.cover)
    pages.push({
      mediaBox: [0, 0, 595, 842],
      content: `BT /F ${mm(9)} Tf ${mm(30, 250)} Td (How to sew it) Tj ET`,
    });
  if (tiling.order === 'columns')
    for (let c = 0; c < columns; c++) for (let r = 0; r < rows; r++) pages.push(sheet(c, r));
  else for (let r = 0; r < rows; r++) for (let c = 0; c < columns; c++) pages.push(sheet(c, r));
  return pdf({ pages });
}

const path = (points: readonly Point[]): string =>
  points.map((point, i) => `${mm(...point)} ${i === 0 ? 'm' : 'l'}`).join(' ');

/** Edges of a ring, or of an open line, as far as they lie in the window; found by cutting at each side in turn. */
function cutEdges(
  ring: readonly Point[],
  { minX, minY, maxX, maxY }: { minX: number; minY: number; maxX: number; maxY: number },
  closed = true,
): [Point, Point][] {
  const sides: [0 | 1, number, 1 | -1][] = [
    [0, minX, 1],
    [0, maxX, -1],
    [1, minY, 1],
    [1, maxY, -1],
  ];
  return ring.flatMap((start, i) => {
    if (!closed && i === ring.length - 1) return [];
    let from = start;
    let to = ring[(i + 1) % ring.length] as Point;
    for (const [axis, limit, sign] of sides) {
      const a = sign * (from[axis] - limit);
      const b = sign * (to[axis] - limit);
      if (a < 0 && b < 0) return [];
      if (a >= 0 && b >= 0) continue;
      const t = a / (a - b);
      const cut: Point = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
      if (a < 0) from = cut;
      else to = cut;
    }
    return [[from, to]];
  });
}
