import type { ShownUnits } from '../units/index.ts';
import { type Area, type BandView, path } from './bandArea.ts';
import type { ClothFrame, Stretch } from './clothFrame.ts';
import { drawFlaws, toPageOf } from './clothGround.ts';
import type { DrawnPoint } from './drawing.ts';
import { hatchLines } from './hatch.ts';
import { bounds, type Ring, rectangle } from './intervals.ts';
import { labelPoint } from './labelPoint.ts';
import type { DrawingSink } from './sink.ts';
import { CAP_HEIGHT, DESCENT, LEADING, textWidth, wrap } from './text.ts';
import { HATCHES, type Role, TEXT } from './tokens.ts';

/** What lies along one edge of a stretch. */
type Edge = 'selvedge' | 'selvedges' | 'fold';

const EDGES: Readonly<Record<Stretch['segment']['spread'], { low: Edge; high: Edge }>> = {
  single: { low: 'selvedge', high: 'selvedge' },
  folded: { low: 'fold', high: 'selvedges' },
  sequence: { low: 'fold', high: 'selvedges' },
  crosswise: { low: 'selvedges', high: 'selvedges' },
  turned: { low: 'selvedges', high: 'selvedges' },
  middle: { low: 'fold', high: 'fold' },
  partial: { low: 'fold', high: 'selvedge' },
};

/** A stretch of a roll: selvedges, folds, squaring, flaws, and after the last what is left over. */
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
  const edges = EDGES[stretch.segment.spread];
  sink.add('cloth', path('cloth', [rectangle(x, high, width, low - high)], true));

  const strip = stretch.selvedgeMm / scale;
  if (strip > 0) {
    if (edges.high !== 'fold') selvedgeStrip(sink, rectangle(x, high, width, strip));
    if (edges.low !== 'fold') selvedgeStrip(sink, rectangle(x, low - strip, width, strip));
  }
  leftOutStrips(sink, stretch, x, width, area, strip);
  const squared = (from: number, to: number, line: number): void => {
    const ring = rectangle(clampX(from), high, clampX(to) - clampX(from), low - high);
    sink.add('cloth', path('squaring', [ring], true));
    sink.add('cloth', path('selvedge-hatch', hatchLines([ring], HATCHES.selvedge)));
    const at = clampX(line);
    sink.add('cloth', path('cut-end', [vertical(at, high, low)]));
  };
  if (frame.squaringMm > 0 && stretch.index === 0 && range.fromMm < frame.squaringMm) {
    squared(stretch.fromMm, frame.squaringMm, frame.squaringMm);
  }
  const farSquare = frame.usedMm - frame.squaringEndMm;
  if (frame.squaringEndMm > 0 && isLast && range.toMm > farSquare)
    squared(farSquare, frame.usedMm, farSquare);

  // Where no half piece lies on the fold it may be cut open, for pairs that lie against it.
  const isKept = stretch.segment.placed.some(({ hand }) => hand === 'fold');
  const edge = (kind: Edge, y: number, outward: 1 | -1): void => {
    if (kind === 'fold') {
      foldLine(sink, x, width, y, isKept, outward);
      return;
    }
    sink.add('cloth', path('cloth-edge', [level(x, x + width, y)]));
    const words = kind === 'selvedges' ? sink.words.selvedges : sink.words.selvedge;
    const baseline = outward < 0 ? y - 0.9 : y + 0.7 + TEXT.least * CAP_HEIGHT;
    repeated(sink, 'edge-name', words, x, width, baseline);
  };
  edge(edges.high, high, -1);
  edge(edges.low, low, 1);
  if (stretch.segment.flaws) drawFlaws(sink, stretch, toPageOf(stretch, area));
  if (!isLast || frame.endsIn === null) crosswiseEnd(sink, stretch, area);
  if (isLast && frame.buyMm > frame.usedMm + 0.01) leftOver(sink, frame, stretch, units, area);
}

const level = (from: number, to: number, y: number): DrawnPoint[] => [
  [from, y],
  [to, y],
];
const vertical = (x: number, from: number, to: number): DrawnPoint[] => [
  [x, from],
  [x, to],
];

function selvedgeStrip(sink: DrawingSink, ring: Ring): void {
  sink.add('cloth', path('selvedge', [ring], true));
  const lines = hatchLines([ring], HATCHES.selvedge);
  if (lines.length > 0) sink.add('cloth', path('selvedge-hatch', lines));
}

/** What no piece lies on between the parts of a stretch: selvedges of an upper layer, and faded lines. */
function leftOutStrips(
  sink: DrawingSink,
  stretch: Stretch,
  x: number,
  width: number,
  area: Area,
  strip: number,
): void {
  const { segment, originMm } = stretch;
  const { pageY } = area;
  const { lanes, spread, widthMm } = segment;
  if (!lanes) return;
  let from = 0;
  for (const lane of [...lanes, { fromMm: widthMm, toMm: widthMm, fold: 'none' as const }]) {
    const [low, high] = [pageY(from + originMm[1]), pageY(lane.fromMm + originMm[1])];
    const isEdge =
      (spread === 'middle' && from > 0 && lane.fromMm < widthMm) ||
      (spread === 'partial' && from > 0 && lane.fromMm < widthMm);
    if (low - high > 0.01) selvedgeStrip(sink, rectangle(x, high, width, low - high));
    if (isEdge) {
      // The edge of the upper layer, and of a second one that meets it.
      const y = spread === 'middle' ? (low + high) / 2 : low - strip;
      sink.add('cloth', path('upper-edge', [level(x, x + width, y)]));
      const words = spread === 'middle' ? sink.words.middleOpen : sink.words.upperEdge;
      const baseline = Math.min(high, y) - 0.6;
      const at = freeSpot(stretch, area, words, baseline, [x, x + width]);
      if (at !== null) sink.text('cloth', 'edge-name', words, at, baseline, TEXT.least, { anchor: 'middle' });
    }
    from = lane.toMm;
  }
}

/** The middle of a place along a line of words on which no piece lies; null where there is none. */
function freeSpot(
  { segment, originMm }: Stretch,
  { pageX, pageY }: Area,
  words: string,
  baseline: number,
  [from, to]: readonly [number, number],
): number | null {
  const needed = textWidth(words, TEXT.least, 'edge-name') + 2;
  const taken = segment.placed
    .map(({ outline }) => bounds(outline.map(([x, y]) => [pageX(x + originMm[0]), pageY(y + originMm[1])])))
    .filter(({ minY, maxY }) => maxY > baseline - TEXT.least && minY < baseline + 0.6)
    .sort((a, b) => a.minX - b.minX);
  let at = from;
  for (const { minX, maxX } of taken) {
    if (minX - at >= needed) break;
    at = Math.max(at, maxX);
  }
  const end = Math.min(to, ...taken.map(({ minX }) => minX).filter((minX) => minX > at));
  return end - at >= needed ? at + needed / 2 : null;
}

/** Where cloth is folded crosswise: its fold at the far end, or the cut that opens it. */
function crosswiseEnd(sink: DrawingSink, stretch: Stretch, area: Area): void {
  const { spread, lengthMm } = stretch.segment;
  if (spread !== 'crosswise' && spread !== 'turned') return;
  const x = area.pageX(stretch.originMm[0] + lengthMm);
  if (x < area.left - 0.01 || x > area.right + 0.01) return;
  const [high, low] = [area.pageY(stretch.highMm), area.pageY(stretch.lowMm)];
  sink.add('cloth', path(spread === 'crosswise' ? 'fold' : 'open-out', [vertical(x, high, low)]));
  const words = spread === 'crosswise' ? sink.words.foldedEnd : sink.words.turnedEnd;
  const role = spread === 'crosswise' ? 'fold-name' : 'note-strong';
  if (textWidth(words, TEXT.least, role) > low - high) return;
  sink.text('labels', role, words, x - 1.2, (high + low) / 2, TEXT.least, {
    anchor: 'middle',
    rotation: -90,
  });
}

/** The folded edge: a heavy line, and the cloth's bend around it, with its word again and again. */
function foldLine(
  sink: DrawingSink,
  x: number,
  width: number,
  y: number,
  isKept: boolean,
  outward: 1 | -1,
): void {
  const bend = 1.1;
  const loop: DrawnPoint[] = [];
  const steps = 8;
  for (let i = 0; i <= steps; i++) {
    const angle = Math.PI / 2 + (Math.PI / 2) * (i / steps);
    loop.push([x + bend + bend * Math.cos(angle), y + outward * bend * Math.sin(angle)]);
  }
  const mirrored = loop.map(([px, py]): DrawnPoint => [2 * x + width - px, py]);
  sink.add('cloth', path('fold', [level(x, x + width, y)]));
  if (width > 3 * bend) {
    sink.add('cloth', path('fold-loop', [[...[...loop].reverse(), ...mirrored]]));
  }
  const hasRoom = textWidth(sink.words.fold, TEXT.least, 'fold-name') + 4 < width;
  const words = isKept && hasRoom ? sink.words.fold : sink.words.foldShort;
  const baseline = outward > 0 ? y + bend + 0.5 + TEXT.least * CAP_HEIGHT : y - bend - 0.5;
  repeated(sink, 'fold-name', words, x, width, baseline);
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
  const size = sink.size(frame.buyMm - frame.usedMm, frame.widthMm, units);
  const words = `${sink.words.leftOver} ${size}`;
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
  const folded = stretch.segment.spread === 'single' ? before : stretch;
  const open = folded === stretch ? before : stretch;
  // The fold's crease goes on across the open part, beneath its pieces.
  const crease = area.pageY(folded.lowMm);
  const from = area.clampX(open.fromMm);
  const to = area.clampX(open.toMm);
  const { spread } = folded.segment;
  if (to > from && spread === 'folded')
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
  const openWords = spread === 'crosswise' || spread === 'turned' ? sink.words.cutApart : sink.words.openOut;
  const side = folded === before ? -1 : 1;
  const room = area.bottom - crease - 6;
  if (textWidth(openWords, TEXT.note, 'note-strong') > room) return;
  const beside = Math.abs(area.clampX(side < 0 ? folded.fromMm : folded.toMm) - x);
  if (beside < 5) return;
  const baseline = side < 0 ? x - 1.2 : x + 1.2 + TEXT.note * CAP_HEIGHT;
  sink.text('labels', 'note-strong', openWords, baseline, (crease + 4 + area.bottom) / 2, TEXT.note, {
    anchor: 'middle',
    rotation: -90,
  });
  // What doubling means, in the free corner beside the fold.
  const width = beside - 9;
  const lines = wrap(sink.words.doubled, width, TEXT.note, 'note');
  if (width < 18 || lines.length * TEXT.note * LEADING > room - 4) return;
  const start = side < 0 ? area.clampX(folded.fromMm) + 2 : x + 7;
  lines.forEach((line, i) => {
    sink.text('labels', 'note', line, start, crease + 8 + i * TEXT.note * LEADING, TEXT.note);
  });
}
