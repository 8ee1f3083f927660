import type { DrawingItem, DrawnPoint, PathItem } from './drawing.ts';
import { bounds, type Interval, inside, overlap, type Ring, subtract, turned } from './intervals.ts';
import { CAP_HEIGHT, DESCENT, textWidth } from './text.ts';
import { TEXT } from './tokens.ts';

/** Half the width an arrow needs beside its line, mm. */
const ARROW_HALF = 0.8;
const ARROW_LENGTH = { least: 3, most: 26 } as const;
const LANES = 15;

/**
 * A grain line with a head at both ends, inside the rings and clear of `keepOut`, along `degrees` clockwise as
 * seen. `null` where the piece is too small for one.
 */
export function grainLine(
  rings: readonly Ring[],
  degrees: number,
  keepOut: readonly Ring[],
): PathItem | null {
  const turnedRings = rings.map((ring) => turned(ring, -degrees));
  const clear = keepOut.map((ring) => turned(ring, -degrees));
  const { minY, maxY } = bounds(turnedRings[0] ?? []);
  let best: { from: number; to: number; y: number; score: number } | null = null;
  for (let lane = 1; lane <= LANES; lane++) {
    const y = minY + ((maxY - minY) * lane) / (LANES + 1);
    const room = roomAlong(turnedRings, clear, y, ARROW_HALF);
    for (const [from, to] of room) {
      const length = Math.min(to - from - 1.2, ARROW_LENGTH.most);
      if (length < ARROW_LENGTH.least) continue;
      const distanceToEdge = Math.min(y - minY, maxY - y);
      const score = Math.min(length, 14) + Math.min(distanceToEdge, 3) * 1.5 + 0.05 * length;
      if (!best || score > best.score + 1e-6) {
        const middle = (from + to) / 2;
        best = { from: middle - length / 2, to: middle + length / 2, y, score };
      }
    }
  }
  if (!best) return null;
  const { from, to, y } = best;
  const head = 1.1;
  const side = 0.5;
  const lines = doubleArrow(from, to, y, head, side).map((line) => turned(line, degrees));
  return { kind: 'path', role: 'grain', lines, closed: false };
}

/** A level line at `y` with a head at both ends, `head` long and `side` wide on either side. */
export function doubleArrow(from: number, to: number, y: number, head: number, side: number): DrawnPoint[][] {
  return [
    [
      [from, y],
      [to, y],
    ],
    [
      [from + head, y - side],
      [from, y],
      [from + head, y + side],
    ],
    [
      [to - head, y - side],
      [to, y],
      [to - head, y + side],
    ],
  ];
}

/** Intervals of the line at `y`, free to `half` on either side. */
function roomAlong(rings: readonly Ring[], clear: readonly Ring[], y: number, half: number): Interval[] {
  return roomBetween(rings, clear, y - half, y + half, half);
}

/** Intervals free from `low` to `high`, and to `beside` from what must be kept clear. */
function roomBetween(
  rings: readonly Ring[],
  clear: readonly Ring[],
  low: number,
  high: number,
  beside: number,
): Interval[] {
  const levels = [low, (low + high) / 2, high].map((y) => inside(rings, y));
  const room = levels.reduce((common, level) => overlap(common, level));
  return subtract(room, shadows(clear, low, high, beside));
}

/** What the boxes of `clear` take of the lines from `low` to `high`, with `beside` about them. */
function shadows(clear: readonly Ring[], low: number, high: number, beside: number): Interval[] {
  return clear.flatMap((ring): Interval[] => {
    const box = bounds(ring);
    return box.minY < high + beside && box.maxY > low - beside
      ? [[box.minX - beside / 2, box.maxX + beside / 2]]
      : [];
  });
}

const TOP = { width: 1.8, height: 1.5, inset: 0.65 } as const;

/**
 * A small solid triangle inside the piece, at its top, pointing there (`degrees` clockwise as seen from the right),
 * with the word beside it where there is room. `null` where the piece is too small.
 */
export function topMark(
  rings: readonly Ring[],
  degrees: number,
  keepOut: readonly Ring[],
  word: string,
): { items: DrawingItem[]; box: Ring } | null {
  // In axes where up is up: turned so that the top direction becomes −y on paper.
  const back = degrees + 90;
  const upright = rings.map((ring) => turned(ring, -back));
  const clear = keepOut.map((ring) => turned(ring, -back));
  const box = bounds(upright[0] ?? []);
  const foot = box.minY + TOP.inset + TOP.height;
  if (foot > box.maxY - TOP.inset) return null;
  const tip = box.minY + TOP.inset;
  // Where its middle may be: both corners and the tip inside, nothing that is to be kept clear underneath.
  const half = TOP.width / 2 + 0.1;
  const corners = inside(upright, foot).flatMap(([a, b]): Interval[] =>
    b - a >= 2 * half ? [[a + half, b - half + 1e-6]] : [],
  );
  const room = subtract(
    overlap(corners, inside(upright, tip)),
    shadows(clear, tip, foot, 0.2).map(([a, b]): Interval => [a - half, b + half]),
  );
  const widest = room.reduce<Interval | null>((w, r) => (!w || r[1] - r[0] > w[1] - w[0] ? r : w), null);
  if (!widest) return null;
  const x = (widest[0] + widest[1]) / 2;
  const triangle: DrawnPoint[] = [
    [x - TOP.width / 2, foot],
    [x, tip],
    [x + TOP.width / 2, foot],
  ];
  const taken: DrawnPoint[] = [
    [x - TOP.width / 2 - 0.4, box.minY],
    [x + TOP.width / 2 + 0.4, box.minY],
    [x + TOP.width / 2 + 0.4, foot + 0.4],
    [x - TOP.width / 2 - 0.4, foot + 0.4],
  ];
  const items: DrawingItem[] = [{ kind: 'path', role: 'top', lines: [turned(triangle, back)], closed: true }];
  // The word runs with the triangle; where that would stand on its head it is left to the triangle.
  const wordWidth = textWidth(word, TEXT.least, 'top-name') + 0.5;
  const wordRoom = roomBetween(
    upright,
    clear,
    foot - TEXT.least * CAP_HEIGHT,
    foot + TEXT.least * DESCENT,
    0.1,
  );
  const start = x + TOP.width / 2 + 0.5;
  const reads = ((back % 360) + 360) % 360;
  if ((reads < 91 || reads > 269) && wordRoom.some(([a, b]) => a <= start && b >= start + wordWidth)) {
    const at = turned([[start, foot]], back)[0] as DrawnPoint;
    items.push({
      kind: 'text',
      role: 'top-name',
      x: at[0],
      y: at[1],
      size: TEXT.least,
      anchor: 'start',
      rotation: reads > 180 ? reads - 360 : reads,
      text: word,
    });
    return {
      items,
      box: turned(
        [
          taken[0] as DrawnPoint,
          [start + wordWidth, box.minY],
          [start + wordWidth, foot + 0.4],
          taken[3] as DrawnPoint,
        ],
        back,
      ),
    };
  }
  return { items, box: turned(taken, back) };
}
