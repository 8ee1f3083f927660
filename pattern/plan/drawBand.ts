import type { Placed } from '../exchange/project.ts';
import { type BandView, bandArea, bandChrome, CHROME_MM, SAME_MM } from './bandArea.ts';
import { bandEnds, captions, dimensions, rulers } from './bandWords.ts';
import { emptyCloth, remnantCloth } from './clothGround.ts';
import { type CutMark, drawCutMarks } from './cutMarks.ts';
import type { DrawingFrame, DrawnPoint } from './drawing.ts';
import { drawPlaced, foldsOf, type PlacedMemory } from './drawPlaced.ts';
import { type Bounds, bounds } from './intervals.ts';
import type { LabelWords } from './pieceLabel.ts';
import { drawBorder, drawRepeat } from './repeatGround.ts';
import { openOutLine, rollCloth } from './rollGround.ts';
import { RULER_MM } from './ruler.ts';
import type { DrawingSink } from './sink.ts';
import { placeTags, type SmallPiece, TAG_ROW_MM } from './tags.ts';

export interface BandOptions extends BandView {
  /** Top left corner of the row with its chrome. */
  readonly x: number;
  readonly y: number;
  readonly wordsFor: (placed: Placed) => { readonly label: LabelWords; readonly title: string };
  readonly known: PlacedMemory;
  readonly marks: readonly CutMark[];
  readonly tagsOnly: boolean;
}

export interface BandDrawn {
  readonly frames: readonly DrawingFrame[];
  /** Small pieces for which there was no room for a tag. */
  readonly without: readonly SmallPiece[];
}

/** Draws one row of cloth with its pieces, rulers and words. */
export function drawBand(sink: DrawingSink, options: BandOptions): BandDrawn {
  const { frame, range, tagRows } = options;
  const area = bandArea(options, options.x, options.y);
  const { left, right, top, bottom, pageX, pageY } = area;
  const shown = frame.stretches.filter(
    (s) => s.toMm > range.fromMm + SAME_MM && s.fromMm < range.toMm - SAME_MM,
  );

  const frames: DrawingFrame[] = [];
  const small: SmallPiece[] = [];
  const labels: Bounds[] = [];
  const pieces: Bounds[] = [];
  if (frame.stretches.length === 0) emptyCloth(sink, area);
  for (const stretch of frame.stretches) {
    const isLast = stretch === frame.stretches.at(-1);
    if (!shown.includes(stretch) && !isLast) continue;
    if (stretch.segment.outline) remnantCloth(sink, stretch, area);
    else rollCloth(sink, options, stretch, isLast, area);
    drawRepeat(sink, frame, stretch, area, options.scale);
    drawBorder(sink, frame, stretch, area);
  }
  for (const stretch of shown) {
    frames.push({
      segment: stretch.index,
      x: area.clampX(stretch.fromMm),
      y: pageY(stretch.originMm[1]),
      fromMm: Math.max(stretch.fromMm, range.fromMm) - stretch.originMm[0],
      toMm: Math.min(stretch.toMm, range.toMm) - stretch.originMm[0],
    });
    const toPage = ([x, y]: readonly [number, number]): DrawnPoint => [
      pageX(x + stretch.originMm[0]),
      pageY(y + stretch.originMm[1]),
    ];
    const context = {
      segment: stretch.index,
      toPage,
      folds: foldsOf(stretch.segment),
      fromX: left,
      toX: right,
      known: options.known,
      tagsOnly: options.tagsOnly,
    };
    for (const flaw of stretch.segment.flaws ?? []) pieces.push(bounds(flaw.map(toPage)));
    for (const placed of stretch.segment.placed) {
      const { label, title } = options.wordsFor(placed);
      const drawn = drawPlaced(placed, label, title, context);
      if (!drawn) continue;
      sink.add('pieces', drawn.group);
      pieces.push(bounds(placed.outline.map(toPage)));
      if (drawn.labelBox) labels.push(bounds(drawn.labelBox));
      if (drawn.unlabelled) small.push(drawn.unlabelled);
    }
    openOutLine(sink, frame, stretch, area);
  }

  const rowsTop = top - CHROME_MM.names - tagRows * TAG_ROW_MM;
  const cloth = { minX: left, maxX: right, minY: top, maxY: bottom };
  const tags = placeTags(small, { labels, pieces, cloth, rows: tagRows, rowsTop });
  sink.add('labels', ...tags.items);

  const marked = [...labels];
  for (const stretch of shown) drawCutMarks(sink, options.marks, stretch, area, marked);

  rulers(sink, options, shown, area, rowsTop, bottom + CHROME_MM.names);
  const chrome = bandChrome(options);
  if (chrome.caption) captions(sink, options, shown, area, options.y);
  bandEnds(sink, options, area);
  if (chrome.dimension) dimensions(sink, options, area, bottom + CHROME_MM.names + RULER_MM.along);
  return { frames, without: tags.without };
}
