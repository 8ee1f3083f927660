import type { Area } from './bandArea.ts';
import type { Stretch } from './clothFrame.ts';
import type { DrawingItem, DrawnPoint } from './drawing.ts';
import { hatchLines } from './hatch.ts';
import { type Bounds, bounds, type Ring, rectangle } from './intervals.ts';
import type { DrawingSink } from './sink.ts';
import { CAP_HEIGHT, textWidth } from './text.ts';
import { HATCHES, TEXT } from './tokens.ts';

/** Something marked over a lay: mm on the cloth, x along it from the cut end, y across it from the stretch's edge. */
export type CutMark =
  | {
      /** A ruler's line: across the cloth (`at` along it) or along it (`at` across). */
      readonly kind: 'cut';
      readonly segment: number;
      readonly number: number;
      readonly across: boolean;
      readonly at: number;
      readonly from: number;
      readonly to: number;
    }
  | { readonly kind: 'left'; readonly segment: number; readonly box: Bounds; readonly words: string }
  /** A piece that is off the cloth already. */
  | { readonly kind: 'done'; readonly segment: number; readonly outline: Ring }
  /** Where the cloth lies at the table's end. */
  | { readonly kind: 'table'; readonly segment: number; readonly at: number; readonly words: string };

const BADGE = { size: 3, pad: 0.5 } as const;
/** Places of a number along its line, tried in turn. */
const BADGE_PLACES = [0.04, 0.12, 0.2, 0.3, 0.42, 0.55, 0.7, 0.85, 0.95] as const;

/** The marks of one stretch, as far as they lie in the row. */
export function drawCutMarks(
  sink: DrawingSink,
  marks: readonly CutMark[],
  stretch: Stretch,
  area: Area,
  taken: Bounds[],
): void {
  const y = (across: number) => area.pageY(stretch.lowMm + across);
  const isShown = (along: number) =>
    area.pageX(along) >= area.left - 0.05 && area.pageX(along) <= area.right + 0.05;
  const lines: { readonly number: number; readonly a: DrawnPoint; readonly b: DrawnPoint }[] = [];
  for (const mark of marks) {
    if (mark.segment !== stretch.index) continue;
    if (mark.kind === 'done') {
      doneMark(
        sink,
        mark.outline.map(([along, across]): DrawnPoint => [area.pageX(along), y(across)]),
        area,
      );
    } else if (mark.kind === 'left') {
      leftBox(sink, mark.words, rectangleOf(mark.box, area, y), taken);
    } else if (mark.kind === 'table') {
      if (isShown(mark.at)) tableEnd(sink, mark.words, area.pageX(mark.at), area, taken);
    } else if (mark.across) {
      if (!isShown(mark.at)) continue;
      const x = area.pageX(mark.at);
      lines.push({ number: mark.number, a: [x, y(mark.from)], b: [x, y(mark.to)] });
    } else {
      const [from, to] = [area.clampX(mark.from), area.clampX(mark.to)];
      if (to - from < 0.5) continue;
      lines.push({ number: mark.number, a: [from, y(mark.at)], b: [to, y(mark.at)] });
    }
  }
  for (const { a, b } of lines)
    sink.add('rulers', { kind: 'path', role: 'cut-line', lines: [[a, b]], closed: false });
  const numbered: typeof lines = [];
  for (const line of lines) {
    // Of two lines of one step a gap apart, one number tells both.
    const isBeside = numbered.some((other) => other.number === line.number && isClose(other, line));
    if (!isBeside) badge(sink, String(line.number), line.a, line.b, taken);
    numbered.push(line);
  }
}

function rectangleOf(box: Bounds, area: Area, y: (across: number) => number): Bounds {
  return { minX: area.clampX(box.minX), maxX: area.clampX(box.maxX), minY: y(box.maxY), maxY: y(box.minY) };
}

interface Span {
  readonly a: DrawnPoint;
  readonly b: DrawnPoint;
}

function isClose(one: Span, other: Span): boolean {
  return [one.a, one.b].every((point, i) => {
    const [x, y] = i === 0 ? other.a : other.b;
    return Math.hypot(point[0] - x, point[1] - y) < BADGE.size;
  });
}

/** The number of a line on it, where it covers no other number. */
function badge(sink: DrawingSink, number: string, a: DrawnPoint, b: DrawnPoint, taken: Bounds[]): void {
  const width = textWidth(number, BADGE.size, 'cut-number') + 2 * BADGE.pad;
  const height = BADGE.size * CAP_HEIGHT + 2 * BADGE.pad;
  const boxAt = (share: number): Bounds => {
    const x = a[0] + (b[0] - a[0]) * share;
    const y = a[1] + (b[1] - a[1]) * share;
    return { minX: x - width / 2, maxX: x + width / 2, minY: y - height / 2, maxY: y + height / 2 };
  };
  const box =
    BADGE_PLACES.map(boxAt).find((spot) => !taken.some((other) => overlaps(spot, other))) ?? boxAt(0.04);
  taken.push(box);
  sink.add('rulers', {
    kind: 'path',
    role: 'cut-badge',
    lines: [rectangle(box.minX, box.minY, width, height)],
    closed: true,
  });
  sink.text('rulers', 'cut-number', number, (box.minX + box.maxX) / 2, box.maxY - BADGE.pad, BADGE.size, {
    anchor: 'middle',
  });
}

/** Hatched over, with a tick: neither needs colour. */
function doneMark(sink: DrawingSink, ring: Ring, area: Area): void {
  const box = bounds(ring);
  if (box.maxX > area.right + 0.05 || box.minX < area.left - 0.05) return;
  sink.add('rulers', { kind: 'path', role: 'done', lines: [ring], closed: true });
  const lines = hatchLines([ring], HATCHES.done);
  if (lines.length > 0) sink.add('rulers', { kind: 'path', role: 'done-hatch', lines, closed: false });
  const size = Math.min(6, (box.maxX - box.minX) * 0.6, (box.maxY - box.minY) * 0.6);
  const [x, y] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const tick: DrawnPoint[] = [
    [x - size / 2, y],
    [x - size / 8, y + size / 2],
    [x + size / 2, y - size / 2],
  ];
  sink.add('rulers', { kind: 'path', role: 'done-tick', lines: [tick], closed: false });
}

function leftBox(sink: DrawingSink, words: string, box: Bounds, taken: Bounds[]): void {
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  if (width < 2 || height < 2) return;
  const inset = 0.4;
  const ring = rectangle(box.minX + inset, box.minY + inset, width - 2 * inset, height - 2 * inset);
  sink.add('labels', { kind: 'path', role: 'left-box', lines: [ring], closed: true });
  const long = textWidth(words, TEXT.least, 'offcut-name') + 1;
  const high = TEXT.least * CAP_HEIGHT + 1;
  const level = long <= width && high <= height;
  if (!level && !(long <= height && high <= width)) return;
  const [cx, cy] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const half = (TEXT.least * CAP_HEIGHT) / 2;
  sink.text('labels', 'offcut-name', words, cx + (level ? 0 : half), cy + (level ? half : 0), TEXT.least, {
    anchor: 'middle',
    rotation: level ? 0 : -90,
  });
  const [w, h] = level ? [long, high] : [high, long];
  taken.push({ minX: cx - w / 2, maxX: cx + w / 2, minY: cy - h / 2, maxY: cy + h / 2 });
}

function tableEnd(sink: DrawingSink, words: string, x: number, area: Area, taken: Bounds[]): void {
  const line: DrawingItem = {
    kind: 'path',
    role: 'table-end',
    lines: [
      [
        [x, area.top - 1.5],
        [x, area.bottom + 1.5],
      ],
    ],
    closed: false,
  };
  const width = textWidth(words, TEXT.note, 'note-strong') + 1;
  const toLeft = x + width > area.right;
  const left = toLeft ? x - width - 0.5 : x + 0.5;
  const box = [0.5, 4, 7.5, 11]
    .map((down) => ({ minX: left, maxX: left + width, minY: area.top + down, maxY: area.top + down + 3 }))
    .find((spot, i) => i === 3 || !taken.some((other) => overlaps(spot, other))) as Bounds;
  taken.push(box);
  sink.add('rulers', line, {
    kind: 'path',
    role: 'tag',
    lines: [rectangle(box.minX, box.minY, width, 3)],
    closed: true,
  });
  sink.text('rulers', 'note-strong', words, left + 0.5, box.maxY - 0.7, TEXT.note);
}

function overlaps(a: Bounds, b: Bounds): boolean {
  return a.minX < b.maxX && a.maxX > b.minX && a.minY < b.maxY && a.maxY > b.minY;
}
