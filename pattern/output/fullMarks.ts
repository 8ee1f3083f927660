import { clipRing } from '../plan/clipToBand.ts';
import type { DrawingItem, DrawnPoint } from '../plan/index.ts';
import {
  type Bounds,
  bounds,
  type Interval,
  inside,
  type Ring,
  subtract,
  turned,
} from '../plan/intervals.ts';
import { labelPoint } from '../plan/labelPoint.ts';
import { doubleArrow } from '../plan/pieceMarks.ts';
import { CAP_HEIGHT, isolate, LEADING, shorten, textWidth } from '../plan/text.ts';
import { TEXT } from '../plan/tokens.ts';

/** Words and grain line of a piece that is drawn in true size. */

const LABEL_SIZE_MM = 6;
/** Names are shortened to this width in the size they are drawn in, times that size. */
const NAME_EMS = 18;

export interface PieceWords {
  readonly items: DrawingItem[];
  readonly box: Ring;
  readonly lines: number;
  readonly size: number;
}

/** The words on the sheet that has most room for them; null if no sheet has. */
function wordsInRooms(
  rings: readonly Ring[],
  rooms: readonly Bounds[],
  name: string,
  lines: readonly string[],
): PieceWords | null {
  const swap = (ring: Ring): Ring => ring.map(([x, y]) => [y, x]);
  let best: PieceWords | null = null;
  for (const { minX, minY, maxX, maxY } of rooms) {
    const inside = rings
      .map((ring) => swap(clipRing(swap(clipRing(ring, minX, maxX)), minY, maxY)))
      .filter((ring) => ring.length > 2);
    const label = inside.length > 0 ? wordsIn(inside, name, lines) : null;
    if (!label) continue;
    if (!best || label.lines > best.lines || (label.lines === best.lines && label.size > best.size + 0.1)) {
      best = label;
    }
  }
  return best;
}

/** Name and lines in the middle of the piece, as large as fits; the name alone where no more does. */
function wordsIn(rings: readonly Ring[], name: string, lines: readonly string[]): PieceWords | null {
  const strong = { text: isolate(shorten(name, NAME_EMS, 1, 'piece-name')), role: 'piece-name' } as const;
  const all = [strong, ...lines.map((text) => ({ text, role: 'piece-label' }) as const)];
  for (const block of [all, all.slice(0, 2), [strong]]) {
    for (const rotation of [0, -90]) {
      const ems = Math.max(...block.map(({ text, role }) => textWidth(text, 1, role))) + 1;
      const high = block.length * LEADING + 0.6;
      const back = rings.map((ring) => turned(ring, -rotation));
      const point = labelPoint(back, ems, high, TEXT.least, LABEL_SIZE_MM);
      if (!point) continue;
      const items = block.map(({ text, role }, i): DrawingItem => {
        const baseline = point.y + point.size * ((i - block.length / 2) * LEADING + CAP_HEIGHT + 0.2);
        const [x, y] = turned([[point.x, baseline]], rotation)[0] as DrawnPoint;
        return { kind: 'text', role, x, y, size: point.size, anchor: 'middle', rotation, text };
      });
      const [w, h] = [(ems * point.size) / 2, (high * point.size) / 2];
      const box: DrawnPoint[] = [
        [point.x - w, point.y - h],
        [point.x + w, point.y - h],
        [point.x + w, point.y + h],
        [point.x - w, point.y + h],
      ];
      return { items, box: turned(box, rotation), lines: block.length, size: point.size };
    }
  }
  return null;
}

const GRAIN = { least: 8, share: 0.8, head: 4, side: 1.5, lanes: 23 } as const;

/** A grain line as long as the piece allows, to lay a ruler along, clear of the words. `degrees` clockwise. */
export function longGrain(
  rings: readonly Ring[],
  degrees: number,
  keepOut: readonly Ring[],
): DrawingItem | null {
  const own = rings.map((ring) => turned(ring, -degrees));
  const clear = keepOut.map((ring) => bounds(turned(ring, -degrees)));
  const { minY, maxY } = bounds(own[0] as Ring);
  let best: { interval: Interval; y: number; score: number } | null = null;
  for (let lane = 1; lane <= GRAIN.lanes; lane++) {
    const y = minY + ((maxY - minY) * lane) / (GRAIN.lanes + 1);
    const shadows = clear
      .filter((box) => box.minY < y + GRAIN.side && box.maxY > y - GRAIN.side)
      .map((box): Interval => [box.minX - 2, box.maxX + 2]);
    for (const [from, to] of subtract(inside(own, y), shadows)) {
      const length = (to - from) * GRAIN.share;
      // Near an edge the line would be taken for a mark of the edge.
      const score = length + Math.min(y - minY, maxY - y, 15);
      if (length >= GRAIN.least && (!best || score > best.score + 1e-6)) {
        const middle = (from + to) / 2;
        best = { interval: [middle - length / 2, middle + length / 2], y, score };
      }
    }
  }
  if (!best) return null;
  const {
    interval: [from, to],
    y,
  } = best;
  const head = Math.min(GRAIN.head, (to - from) / 4);
  const side = (head * GRAIN.side) / GRAIN.head;
  const lines = doubleArrow(from, to, y, head, side).map((line) => turned(line, degrees));
  return { kind: 'path', role: 'grain', lines, closed: false };
}

/**
 * Name and lines inside the rings: within one of the rooms (boxes on the drawing) if they fit there, else in the
 * middle of the piece; fewer lines where not all fit, null where not even the name does.
 */
export function pieceWords(
  rings: readonly Ring[],
  rooms: readonly Bounds[],
  name: string,
  lines: readonly string[],
): PieceWords | null {
  return wordsInRooms(rings, rooms, name, lines) ?? wordsIn(rings, name, lines);
}
