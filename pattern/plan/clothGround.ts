import { formatSize, type ShownUnits } from '../units/index.ts';
import { type Area, type BandView, path } from './bandArea.ts';
import type { ClothFrame, Stretch } from './clothFrame.ts';
import type { DrawnPoint } from './drawing.ts';
import { hatchLines } from './hatch.ts';
import { type Bounds, bounds, type Ring, rectangle } from './intervals.ts';
import { labelPoint } from './labelPoint.ts';
import type { DrawingSink } from './sink.ts';
import { CAP_HEIGHT, DESCENT, LEADING, textWidth, wrap } from './text.ts';
import { HATCHES, type Role, TEXT } from './tokens.ts';
import { WORDS } from './words.ts';

/** Cloth on which nothing lies. */
export function emptyCloth(sink: DrawingSink, { left, right, top, bottom }: Area): void {
  const outline = rectangle(left, top, right - left, bottom - top);
  sink.add('cloth', path('cloth', [outline], true), path('cloth-edge', [outline], true));
}

/** A remnant with its flaws. */
export function remnantCloth(sink: DrawingSink, stretch: Stretch, area: Area): void {
  const { segment, originMm } = stretch;
  const toPage = ([x, y]: readonly [number, number]): DrawnPoint => [
    area.pageX(x + originMm[0]),
    area.pageY(y + originMm[1]),
  ];
  const outline = (segment.outline ?? []).map(toPage);
  sink.add('cloth', path('cloth', [outline], true), path('cloth-edge', [outline], true));
  const pieces = segment.placed.map(({ outline: ring }) => bounds(ring.map(toPage)));
  (segment.flaws ?? []).forEach((flaw, i) => {
    const ring = flaw.map(toPage);
    const words = `${WORDS.flaw} ${i + 1}`;
    const width = textWidth(words, 1, 'flaw-name') + 0.6;
    const fits = labelPoint([ring], width, 1.3, TEXT.least, TEXT.least);
    const box = bounds(ring);
    const [x, y] = fits ? [fits.x, fits.y] : spotBeside(box, width * TEXT.least, pieces);
    const label = rectangle(
      x - (width * TEXT.least) / 2,
      y - 0.65 * TEXT.least,
      width * TEXT.least,
      1.3 * TEXT.least,
    );
    sink.add('cloth', path('flaw', [ring], true));
    const lines = hatchLines([ring], HATCHES.flaw, [label]);
    if (lines.length > 0) sink.add('cloth', path('flaw-hatch', lines));
    sink.text('labels', 'flaw-name', words, x, y + TEXT.least * CAP_HEIGHT * 0.5, TEXT.least, {
      anchor: 'middle',
    });
  });
}

/** The middle of a name beside a flaw too small for it: on the side where it covers the fewest pieces. */
function spotBeside(flaw: Bounds, width: number, pieces: readonly Bounds[]): readonly [number, number] {
  const x = (flaw.minX + flaw.maxX) / 2;
  const y = (flaw.minY + flaw.maxY) / 2;
  const spots = [
    [flaw.maxX + width / 2 + 0.3, y],
    [flaw.minX - width / 2 - 0.3, y],
    [x, flaw.minY - 1.6],
    [x, flaw.maxY + 1.6],
  ] as const;
  const covered = ([cx, cy]: readonly [number, number]) =>
    pieces.filter(
      (p) => p.minX < cx + width / 2 && p.maxX > cx - width / 2 && p.minY < cy + 1.1 && p.maxY > cy - 1.1,
    ).length;
  return spots.reduce((best, spot) => (covered(spot) < covered(best) ? spot : best));
}

/** A stretch of a roll: selvedges, fold, squaring, and after the last what is left over. */
export function rollCloth(
  sink: DrawingSink,
  { frame, range, scale, units }: BandView,
  stretch: Stretch,
  isLast: boolean,
  area: Area,
): void {
  const { clampX, pageY } = area;
  const end = isLast ? frame.toMm : stretch.toMm;
  const x = clampX(stretch.fromMm);
  const width = clampX(end) - x;
  if (width < 0.01) return;
  const high = pageY(stretch.highMm);
  const low = pageY(stretch.lowMm);
  const folded = stretch.segment.spread === 'folded';
  sink.add('cloth', path('cloth', [rectangle(x, high, width, low - high)], true));

  const strips: DrawnPoint[][] = [];
  const strip = stretch.selvedgeMm / scale;
  if (strip > 0) {
    strips.push(rectangle(x, high, width, strip));
    if (!folded) strips.push(rectangle(x, low - strip, width, strip));
  }
  for (const ring of strips) {
    sink.add('cloth', path('selvedge', [ring], true));
    const lines = hatchLines([ring], HATCHES.selvedge);
    if (lines.length > 0) sink.add('cloth', path('selvedge-hatch', lines));
  }
  if (frame.squaringMm > 0 && stretch.index === 0 && range.fromMm < frame.squaringMm) {
    const ring = rectangle(x, high, clampX(frame.squaringMm) - x, low - high);
    sink.add('cloth', path('squaring', [ring], true));
    sink.add('cloth', path('selvedge-hatch', hatchLines([ring], HATCHES.selvedge)));
    sink.add(
      'cloth',
      path('cut-end', [
        [
          [clampX(frame.squaringMm), high],
          [clampX(frame.squaringMm), low],
        ],
      ]),
    );
  }
  sink.add(
    'cloth',
    path('cloth-edge', [
      [
        [x, high],
        [x + width, high],
      ],
    ]),
  );
  // Where no half piece lies on the fold it may be cut open, for pairs that lie against it.
  const isKept = stretch.segment.placed.some(({ hand }) => hand === 'fold');
  if (folded) foldLine(sink, x, width, low, isKept);
  else {
    sink.add(
      'cloth',
      path('cloth-edge', [
        [
          [x, low],
          [x + width, low],
        ],
      ]),
    );
  }
  // Names of the edges: above, and below where the lower edge is a selvedge too.
  const selvedge = folded ? WORDS.selvedges : WORDS.selvedge;
  repeated(sink, 'edge-name', selvedge, x, width, high - 0.9);
  if (!folded) repeated(sink, 'edge-name', selvedge, x, width, low + 0.7 + TEXT.least * CAP_HEIGHT);

  if (isLast && frame.buyMm > frame.usedMm + 0.01) leftOver(sink, frame, stretch, units, area);
}

/** The folded edge: a heavy line, and the cloth's bend around it, with its word again and again. */
function foldLine(sink: DrawingSink, x: number, width: number, y: number, isKept: boolean): void {
  const bend = 1.1;
  const loop: DrawnPoint[] = [];
  const steps = 8;
  for (let i = 0; i <= steps; i++) {
    const angle = Math.PI / 2 + (Math.PI / 2) * (i / steps);
    loop.push([x + bend + bend * Math.cos(angle), y + bend * Math.sin(angle)]);
  }
  const mirrored = loop.map(([px, py]): DrawnPoint => [2 * x + width - px, py]);
  sink.add(
    'cloth',
    path('fold', [
      [
        [x, y],
        [x + width, y],
      ],
    ]),
  );
  if (width > 3 * bend) {
    sink.add('cloth', path('fold-loop', [[...[...loop].reverse(), ...mirrored]]));
  }
  const hasRoom = textWidth(WORDS.fold, TEXT.least, 'fold-name') + 4 < width;
  const words = isKept && hasRoom ? WORDS.fold : WORDS.foldShort;
  repeated(sink, 'fold-name', words, x, width, y + bend + 0.5 + TEXT.least * CAP_HEIGHT);
}

/** A word beside an edge, about every 90 mm. */
function repeated(sink: DrawingSink, role: Role, words: string, x: number, width: number, y: number): void {
  const length = textWidth(words, TEXT.least, role);
  if (length > width) return;
  const times = Math.max(1, Math.floor(width / 90));
  for (let i = 0; i < times; i++) {
    sink.text('cloth', role, words, x + (width * (i + 0.5)) / times, y, TEXT.least, { anchor: 'middle' });
  }
}

function leftOver(
  sink: DrawingSink,
  frame: ClothFrame,
  stretch: Stretch,
  units: ShownUnits,
  { clampX, pageY }: Area,
): void {
  const x = clampX(frame.usedMm);
  const width = clampX(frame.buyMm) - x;
  if (width < 0.05) return;
  const high = pageY(stretch.highMm);
  const ring = rectangle(x, high, width, pageY(stretch.lowMm) - high);
  const size = formatSize(frame.buyMm - frame.usedMm, frame.widthMm, units);
  const words = `${WORDS.leftOver} ${size}`;
  const role: Role = 'offcut-name';
  sink.add('cloth', path('offcut', [ring], true));
  const height = CAP_HEIGHT + DESCENT + 0.3;
  const level = labelPoint([ring], textWidth(words, 1, role) + 1, height, TEXT.least, TEXT.note);
  const upright = level ?? labelPoint([ring], height, textWidth(words, 1, role) + 1, TEXT.least, TEXT.note);
  const keepOut: Ring[] = [];
  if (upright) {
    const long = (textWidth(words, 1, role) + 1) * upright.size;
    const across = height * upright.size;
    const [w, h] = level ? [long, across] : [across, long];
    keepOut.push(rectangle(upright.x - w / 2, upright.y - h / 2, w, h));
    const baseline = CAP_HEIGHT * 0.5 * upright.size;
    sink.text(
      'labels',
      role,
      words,
      upright.x + (level ? 0 : baseline),
      upright.y + (level ? baseline : 0),
      upright.size,
      { anchor: 'middle', rotation: level ? 0 : -90 },
    );
  }
  const lines = hatchLines([ring], HATCHES.offcut, keepOut);
  if (lines.length > 0) sink.add('cloth', path('offcut-hatch', lines));
}

/** Where a folded stretch ends and the open one begins, or the other way about. */
export function openOutLine(sink: DrawingSink, frame: ClothFrame, stretch: Stretch, area: Area): void {
  const before = frame.stretches[frame.stretches.indexOf(stretch) - 1];
  if (!before || before.segment.spread === stretch.segment.spread) return;
  const x = area.pageX(stretch.fromMm);
  const folded = stretch.segment.spread === 'folded' ? stretch : before;
  const open = folded === stretch ? before : stretch;
  // The fold's crease goes on across the open part, beneath its pieces.
  const crease = area.pageY(folded.lowMm);
  const from = area.clampX(open.fromMm);
  const to = area.clampX(open.toMm);
  if (to > from)
    sink.add(
      'cloth',
      path('crease', [
        [
          [from, crease],
          [to, crease],
        ],
      ]),
    );
  if (x < area.left || x > area.right) return;
  sink.add(
    'labels',
    path('open-out', [
      [
        [x, area.top - 1],
        [x, area.bottom + 1],
      ],
    ]),
  );
  const side = folded === before ? -1 : 1;
  const room = area.bottom - crease - 6;
  if (textWidth(WORDS.openOut, TEXT.note, 'note-strong') > room) return;
  const beside = Math.abs(area.clampX(side < 0 ? folded.fromMm : folded.toMm) - x);
  if (beside < 5) return;
  const baseline = side < 0 ? x - 1.2 : x + 1.2 + TEXT.note * CAP_HEIGHT;
  sink.text('labels', 'note-strong', WORDS.openOut, baseline, (crease + 4 + area.bottom) / 2, TEXT.note, {
    anchor: 'middle',
    rotation: -90,
  });
  // What doubling means, in the free corner beside the fold.
  const width = beside - 9;
  const lines = wrap(WORDS.doubled, width, TEXT.note, 'note');
  if (width < 18 || lines.length * TEXT.note * LEADING > room - 4) return;
  const start = side < 0 ? area.clampX(folded.fromMm) + 2 : x + 7;
  lines.forEach((line, i) => {
    sink.text('labels', 'note', line, start, crease + 8 + i * TEXT.note * LEADING, TEXT.note);
  });
}
