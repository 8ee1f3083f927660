import { lengthsTaken } from '../cloths/measures.ts';
import { type Area, type BandView, path, SAME_MM } from './bandArea.ts';
import type { Stretch } from './clothFrame.ts';
import type { DrawnPoint } from './drawing.ts';
import { onPaper } from './pieceLabel.ts';
import { RULER_MM, ruler, rulerUnits } from './ruler.ts';
import type { DrawingSink } from './sink.ts';
import { CAP_HEIGHT, textWidth } from './text.ts';
import { type Role, TEXT } from './tokens.ts';

/** Rulers on all four sides, in both systems, with zero where the cloth begins. */
export function rulers(
  sink: DrawingSink,
  { frame, range, scale, units }: BandView,
  shown: readonly Stretch[],
  area: Area,
  topLine: number,
  bottomLine: number,
): void {
  const [near, far] = rulerUnits(units);
  const along = { start: area.left, fromMm: range.fromMm, toMm: range.toMm, scale };
  sink.add('rulers', ...ruler({ language: sink.language, side: 'top', unit: far, line: topLine, ...along }));
  sink.add(
    'rulers',
    ...ruler({ language: sink.language, side: 'bottom', unit: near, line: bottomLine, ...along }),
  );
  const first = shown[0] ?? frame.stretches.at(-1);
  const last = shown.at(-1) ?? first;
  const across = (stretch: Stretch | undefined) => ({
    start: area.pageY(stretch?.lowMm ?? 0),
    fromMm: 0,
    toMm: (stretch?.highMm ?? frame.depthMm) - (stretch?.lowMm ?? 0),
    scale,
  });
  sink.add(
    'rulers',
    ...ruler({ language: sink.language, side: 'left', unit: near, line: area.left - 0.8, ...across(first) }),
  );
  sink.add(
    'rulers',
    ...ruler({ language: sink.language, side: 'right', unit: far, line: area.right + 0.8, ...across(last) }),
  );
}

/** Over each stretch how it is spread; at the right the arrow of nap or print. */
export function captions(
  sink: DrawingSink,
  { frame, direction }: BandView,
  shown: readonly Stretch[],
  area: Area,
  y: number,
): void {
  let right = area.right + RULER_MM.across;
  const baseline = y + 4;
  if (direction) {
    const width = textWidth(direction.words, TEXT.note, 'note-strong');
    const arrow = 9;
    const [dx, dy] = onPaper(direction.degrees);
    const reach = Math.abs(dx) > 0.5 ? arrow / 2 : 2.6;
    const cx = right - arrow / 2;
    const cy = baseline - TEXT.note * CAP_HEIGHT * 0.5;
    const tip: DrawnPoint = [cx + dx * reach, cy + dy * reach];
    const neck: DrawnPoint = [tip[0] - dx * 1.8, tip[1] - dy * 1.8];
    sink.add(
      'notes',
      path('direction', [[[cx - dx * reach, cy - dy * reach], neck]]),
      path(
        'direction-head',
        [[tip, [neck[0] - dy * 1.1, neck[1] + dx * 1.1], [neck[0] + dy * 1.1, neck[1] - dx * 1.1]]],
        true,
      ),
    );
    right -= arrow + 1.5;
    sink.text('notes', 'note-strong', direction.words, right, baseline, TEXT.note, { anchor: 'end' });
    right -= width + 3;
  }
  const several = frame.stretches.length > 1;
  if (frame.kind === 'remnant' && several) {
    for (const stretch of shown) {
      const words = `${sink.words.sheet} ${stretch.index + 1}`;
      sink.text('notes', 'caption', words, area.clampX(stretch.fromMm), baseline, TEXT.caption);
    }
    return;
  }
  shown.forEach((stretch) => {
    const x = area.clampX(stretch.fromMm);
    const end = Math.min(stretch === shown.at(-1) ? right : area.clampX(stretch.toMm), right);
    const ways = sink.words
      .captions(stretch.segment.spread, frame.seenFromBack)
      .map((words) => (several ? sink.words.part(stretch.index + 1, words) : words));
    const fitting = ways.find((words) => textWidth(words, TEXT.caption, 'caption') <= end - x - 1);
    if (fitting) sink.text('notes', 'caption', fitting, x, baseline, TEXT.caption);
  });
}

/** Words at the two ends of a row: the cut end, the length that is cut, or that the row goes on. */
export function bandEnds(sink: DrawingSink, { frame, range }: BandView, area: Area): void {
  const shownAt = (along: number) =>
    frame.stretches.find((s) => s.fromMm <= along + SAME_MM && s.toMm >= along - SAME_MM) ??
    frame.stretches.at(-1);
  const end = (along: number, x: number, outward: 1 | -1, words: string, role: Role) => {
    const stretch = shownAt(along);
    const high = area.pageY(stretch?.highMm ?? frame.depthMm);
    const low = area.pageY(stretch?.lowMm ?? 0);
    sink.add(
      'rulers',
      path(role, [
        [
          [x, high],
          [x, low],
        ],
      ]),
    );
    if (textWidth(words, TEXT.least, 'edge-name') > low - high) return;
    const out = x + outward * (RULER_MM.across + 0.9);
    sink.text(
      'rulers',
      'edge-name',
      words,
      outward < 0 ? out : out + TEXT.least * CAP_HEIGHT,
      (high + low) / 2,
      TEXT.least,
      { anchor: 'middle', rotation: -90 },
    );
  };
  if (frame.kind === 'remnant') return;
  const starts = range.fromMm <= SAME_MM;
  const ends = range.toMm >= frame.toMm - SAME_MM;
  end(
    range.fromMm,
    area.left,
    -1,
    starts ? sink.words.cutEnd : sink.words.continued,
    starts ? 'cut-end' : 'break',
  );
  if (ends && frame.endsIn !== null) {
    const words = frame.endsIn === 'fold' ? sink.words.foldedEnd : sink.words.turnedEnd;
    end(range.toMm, area.right, 1, words, frame.endsIn === 'fold' ? 'fold' : 'open-out');
    return;
  }
  end(range.toMm, area.right, 1, ends ? sink.words.cutEnd : sink.words.continues, ends ? 'cut-end' : 'break');
}

/** Under the ruler: the length that is cut, and what is left over up to the length bought. */
export function dimensions(
  sink: DrawingSink,
  { frame, range, units }: BandView,
  area: Area,
  y: number,
): void {
  const line = (from: number, to: number, words: string) => {
    const a = area.clampX(from);
    const b = area.clampX(to);
    if (b - a < 0.3) return;
    const at = y + 2.4;
    const lines: DrawnPoint[][] = [];
    const width = textWidth(words, TEXT.note, 'dimension-text') + 2;
    const middle = (a + b) / 2;
    const inside = width <= b - a - 4;
    lines.push(
      ...(inside
        ? [
            [
              [a, at],
              [middle - width / 2, at],
            ] as DrawnPoint[],
            [
              [middle + width / 2, at],
              [b, at],
            ] as DrawnPoint[],
          ]
        : [
            [
              [a, at],
              [b, at],
            ] as DrawnPoint[],
          ]),
    );
    const tick = 1.3;
    if (from >= range.fromMm - SAME_MM)
      lines.push([
        [a, at - tick],
        [a, at + tick],
      ]);
    if (to <= range.toMm + SAME_MM)
      lines.push([
        [b, at - tick],
        [b, at + tick],
      ]);
    sink.add('rulers', path('dimension', lines));
    if (inside) {
      sink.text('rulers', 'dimension-text', words, middle, at + TEXT.note * CAP_HEIGHT * 0.5, TEXT.note, {
        anchor: 'middle',
      });
    }
  };
  if (frame.usedMm <= 0) return;
  const isTwice = frame.stretches.some(({ segment }) => lengthsTaken(segment.spread) === 2);
  const cut = `${sink.words.cut} ${sink.length(frame.cutMm, units)}`;
  line(0, frame.usedMm, isTwice ? `${cut}, ${sink.words.twoLayers}` : cut);
  if (frame.toMm > frame.usedMm && frame.buyMm > frame.usedMm) {
    line(
      frame.usedMm,
      frame.buyMm,
      `${sink.words.leftOver} ${sink.length(frame.buyMm - frame.usedMm, units)}`,
    );
  }
}
