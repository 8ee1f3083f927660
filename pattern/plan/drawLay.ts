import { lengthsTaken } from '../cloths/measures.ts';
import type { Cloth, ClothLay, Placed, Project } from '../exchange/project.ts';
import { sizeWarnings } from '../proposals/sizeMark.ts';
import { formatLength, formatPurchase, formatSize, type ShownUnits } from '../units/index.ts';
import { type BandView, bandChrome, type ClothDirection } from './bandArea.ts';
import { type BandRange, bandRanges } from './bands.ts';
import { type ClothFrame, clothFrame } from './clothFrame.ts';
import type { CutMark } from './cutMarks.ts';
import { drawBand } from './drawBand.ts';
import type { Drawing, DrawingFrame } from './drawing.ts';
import type { PlacedMemory } from './drawPlaced.ts';
import { type LayRow, layRowId, layRows } from './layRows.ts';
import type { LabelWords } from './pieceLabel.ts';
import { drawHeader, type HeaderContent } from './sheetHeader.ts';
import { drawLegend, drawScale, type LegendContent, SCALE_ROW_MM } from './sheetLegend.ts';
import { DrawingSink } from './sink.ts';
import type { SmallPiece } from './tags.ts';
import { cleanText, isolate } from './text.ts';
import { PAGE_MARGIN_MM, PAPERS, SCALES } from './tokens.ts';
import {
  caution,
  countWords,
  FROM_BACK,
  faceWords,
  HOW_TO_SPREAD,
  handWords,
  LANG,
  LEFT_OUT,
  REPEAT_DRAWN,
  sheetsSentence,
  spreadWords,
  stretchSentence,
  twiceSentence,
  WORDS,
  washedSentence,
} from './words.ts';

export interface LayDrawingOptions {
  /** A sheet of paper, turned as suits the cloth; `fit`: as large as the drawing wants to be, for a screen. */
  readonly page: 'a4' | 'letter' | 'fit';
  /** Only this segment of the lay, counted from 0. */
  readonly segment?: number;
  readonly units: ShownUnits;
  /** Only the cloth with its rulers and scale: no head, no table, no notes. */
  readonly bare?: boolean;
  /** On a page that fits, the whole length in one row, to be worked at; long cloth is else cut into rows. */
  readonly oneRow?: boolean;
  /** On a page that fits: as large as this allows instead, mm. */
  readonly room?: { readonly width: number; readonly height: number };
  /** Pieces bear their tag alone, large. */
  readonly tagsOnly?: boolean;
  /** Lines of the cutting and what is left, drawn over the cloth. */
  readonly marks?: readonly CutMark[];
}

/** One row of cloth is kept down to this scale; smaller, and the cloth is cut into rows. */
const ONE_ROW_SCALE = 20;
const BETWEEN_ROWS_MM = 2;
const AFTER_HEADER_MM = 2.5;
const LEGEND_BESIDE_MM = 90;
/** Table and notes never take more of a sheet than this. */
const LEGEND_SHARE = 0.5;
/** Rows for tags of small pieces above the cloth, tried in turn. */
const TAG_ROWS = [1, 2, 4, 6] as const;
/** More tags than this have no room in any number of rows. */
const MOST_IN_ROWS = 200;
/** Size of the cloth on a page that has no size of its own, mm. */
const FIT = { along: 250, across: 220, leastWidth: 190 } as const;

/**
 * Draws the lay of one cloth: the cloth to scale with its pieces, edges and rulers, and around it what a maker
 * needs to cut from it. Always in a round scale, which the sheet states. The same lay gives the same drawing.
 */
export function drawLay(lay: ClothLay, project: Project, options: LayDrawingOptions): Drawing {
  const content = layContent(lay, project, options);
  let best = compose(content, options, 0);
  for (const rows of TAG_ROWS) {
    if (best.without.length === 0 || best.without.length > MOST_IN_ROWS) break;
    const next = compose(content, options, rows);
    if (next.without.length < best.without.length) best = next;
  }
  return best.drawing;
}

interface LayContent {
  readonly frame: ClothFrame;
  readonly header: HeaderContent;
  readonly rows: readonly LayRow[];
  readonly notes: readonly string[];
  readonly caution: string;
  readonly flaws: boolean;
  readonly held: boolean;
  readonly direction: ClothDirection | null;
  readonly wordsFor: (placed: Placed) => { label: LabelWords; title: string };
}

function layContent(lay: ClothLay, project: Project, { segment, units }: LayDrawingOptions): LayContent {
  const cloth = project.cloths.find((c) => c.id === lay.clothId);
  const material = project.materials.find((m) => m.id === lay.materialId);
  const frame = clothFrame(lay, cloth, segment);
  const rows = layRows(lay, project);
  const names = new Map(project.pieces.map((p) => [p.id, cleanText(p.name)]));
  const materialName = isolate(cleanText(material?.name ?? lay.materialId));
  const clothName = isolate(cleanText(cloth?.name ?? lay.clothId));
  const byRow = new Map(rows.map((row) => [row.id, row]));

  const held = new Set(
    project.cutList
      .filter((row) => row.heldBack && row.materialId === lay.materialId)
      .map(({ pieceId }) => pieceId),
  );

  const wordsFor = (placed: Placed) => {
    const isHeld = held.has(placed.pieceId);
    const row = byRow.get(layRowId(placed)) as LayRow;
    const hand = handWords(placed.hand, cloth);
    const copy = `${placed.copy} of ${placed.of}`;
    const more = belonging(placed, project);
    const size = formatSize(row.widthMm, row.heightMm, units);
    return {
      label: {
        name: row.name,
        tag: `${row.key}${placed.copy}`,
        copy,
        handLong: [hand.long, ...(isHeld ? [WORDS.held] : []), ...more].join(', '),
        handShort: [isHeld ? WORDS.held : hand.short, ...more].join(', '),
        size: placed.hand === 'fold' ? `${size} opened` : size,
        held: isHeld,
      },
      title: [row.name, copy, hand.long, ...more, size].join(', '),
    };
  };

  const missing = lay.unplaced.map((u) => `${isolate(names.get(u.pieceId) ?? u.pieceId)}: ${countWords(u)}`);
  const warnings: string[] = [];
  if (lay.verdict !== 'fits') {
    const verdict = lay.verdict === 'cannot fit' ? 'Does not fit.' : 'Not everything has found a place yet.';
    warnings.push(lay.reason === undefined ? verdict : `${verdict} ${cleanText(lay.reason)}`);
  }
  const placed = lay.segments.flatMap((each) => each.placed.map(({ pieceId }) => pieceId));
  warnings.push(...sizeWarnings(project, new Set(placed)).map(cleanText));
  if (missing.length > 0) warnings.push(`Not on this cloth – ${missing.join('; ')}`);

  return {
    frame,
    header: {
      title: clothName.startsWith(materialName) ? clothName : `${materialName} – ${clothName}`,
      subtitle: `${isolate(cleanText(project.name))} · ${spreadWords(lay, cloth)}`,
      facts: facts(lay, cloth, frame, units),
      warnings,
    },
    rows: segment === undefined ? rows : rows.filter((row) => isShown(row, frame)),
    notes: notes(lay, cloth, frame, units),
    caution: caution(material, cloth, project),
    flaws: frame.stretches.some((s) => (s.segment.flaws?.length ?? 0) > 0),
    held: frame.stretches.some((s) => s.segment.placed.some((p) => held.has(p.pieceId))),
    direction: directionOf(lay, cloth),
    wordsFor,
  };
}

/** Which sets a placed piece is for, and the material it is cut instead of. */
function belonging({ sets, guestOf }: Placed, { materials }: Project): string[] {
  const guest = materials.find(({ id }) => id === guestOf);
  return [...(sets ? [WORDS.sets(sets)] : []), ...(guest ? [WORDS.guest(cleanText(guest.name))] : [])];
}

function isShown(row: LayRow, frame: ClothFrame): boolean {
  return frame.stretches.some((s) =>
    s.segment.placed.some((p) => p.pieceId === row.pieceId && p.hand === row.hand),
  );
}

function facts(lay: ClothLay, cloth: Cloth | undefined, frame: ClothFrame, units: ShownUnits) {
  const list = [];
  if (frame.kind === 'roll' && lay.segments.length === 0) {
    list.push({ name: 'Width', value: formatLength(frame.widthMm, units) });
  } else if (frame.kind === 'roll') {
    list.push({ name: 'Cut from the roll', value: formatLength(lay.usedMm, units) });
    list.push({ name: 'Buy', value: formatPurchase(lay.buyMm, units) });
    list.push({ name: 'Left over', value: formatLength(Math.max(0, lay.buyMm - lay.usedMm), units) });
    list.push({ name: 'Width', value: formatLength(frame.widthMm, units) });
  } else {
    const sheet = frame.stretches[0];
    const size = formatSize(sheet ? sheet.toMm - sheet.fromMm : frame.toMm, frame.depthMm, units);
    const sheets = lay.segments.length;
    list.push(
      sheets > 1 ? { name: 'Sheets', value: `${sheets} × (${size})` } : { name: 'Remnant', value: size },
    );
  }
  list.push({ name: 'Cloth used', value: `${lay.usePercent.toFixed(1)} %` });
  list.push({ name: 'Pieces to trace', value: String(lay.piecesToTrace) });
  if (cloth && cloth.gapMm > 0) list.push({ name: 'Gap', value: formatLength(cloth.gapMm, units) });
  return list;
}

function notes(lay: ClothLay, cloth: Cloth | undefined, frame: ClothFrame, units: ShownUnits): string[] {
  const list: string[] = [];
  if (frame.kind === 'remnant' && lay.segments.length > 1) list.push(sheetsSentence(lay.segments.length));
  else if (lay.segments.length > 1) {
    for (const stretch of frame.stretches) {
      list.push(
        stretchSentence(
          stretch.segment.spread,
          formatLength(stretch.fromMm, units),
          formatLength(stretch.toMm, units),
          stretch.index + 1,
          faceWords(cloth),
        ),
      );
    }
  } else {
    const spread = frame.stretches[0]?.segment.spread ?? 'single';
    if (frame.kind === 'roll' && spread !== 'single' && spread !== 'sequence')
      list.push(HOW_TO_SPREAD[spread]);
  }
  if (cloth?.cutFromBack && frame.stretches.some(({ segment }) => segment.spread === 'single')) {
    list.push(FROM_BACK);
  }
  for (const { segment, index, originMm } of frame.stretches) {
    if (lengthsTaken(segment.spread) === 1) continue;
    const lead = index === 0 ? originMm[0] : 0;
    const part = lay.segments.length > 1 ? `Part ${index + 1} ` : 'It ';
    list.push(twiceSentence(formatLength(2 * segment.lengthMm + lead, units), part));
  }
  if (cloth && (cloth.shrinkAlongPercent > 0 || cloth.shrinkAcrossPercent > 0)) {
    list.push(washedSentence(cloth.shrinkAlongPercent, cloth.shrinkAcrossPercent));
  }
  if (cloth?.repeat && frame.stretches.some(({ segment }) => segment.spread === 'single')) {
    list.push(REPEAT_DRAWN[cloth.repeat.look]);
  }
  if (cloth?.kind === 'roll' && cloth.fadedLines.length > 0) list.push(LEFT_OUT);
  const squaring =
    frame.squaringMm > 0
      ? `Hatched at the cut end: ${formatLength(frame.squaringMm, units)} to square it, part of the length cut. `
      : '';
  list.push(
    cloth?.kind === 'remnant'
      ? 'Cloth used: area of the cut pieces ÷ area of the remnant without its flaws.'
      : `${squaring}Cloth used: area of the cut pieces ÷ (whole width × length cut).`,
  );
  return list;
}

/** Print first: it says more than a nap. */
function directionOf(lay: ClothLay, cloth: Cloth | undefined): ClothDirection | null {
  if (!cloth) return null;
  const print = { none: null, away: 0, left: 90, back: 180, right: 270 }[cloth.printUp];
  if (print !== null) return { degrees: print, words: WORDS.print };
  if (cloth.nap !== 'oneWay') return null;
  const tops = lay.segments.flatMap((s) => s.placed).map((p) => ((Math.round(p.topDeg) % 360) + 360) % 360);
  const first = tops[0];
  return first !== undefined && tops.every((t) => t === first) ? { degrees: first, words: WORDS.nap } : null;
}

interface Composed {
  readonly drawing: Drawing;
  readonly without: readonly SmallPiece[];
}

interface Arrangement {
  readonly pageWidth: number;
  readonly pageHeight: number;
  readonly scale: number;
  readonly ranges: readonly BandRange[];
  /** Table beside the cloth instead of beneath it. */
  readonly beside: boolean;
}

/** Chooses page, scale and rows for so many rows of tags, and draws. */
function compose(content: LayContent, options: LayDrawingOptions, tagRows: number): Composed {
  const arrangement =
    options.page === 'fit'
      ? fitArrangement(content, options, tagRows)
      : sheetArrangement(content, options, options.page, tagRows);
  return draw(content, options, tagRows, arrangement);
}

function legendContent(content: LayContent, { units }: LayDrawingOptions, scale: number): LegendContent {
  return {
    rows: content.rows,
    notes: content.notes,
    caution: content.caution,
    units,
    scale,
    flaws: content.flaws,
    held: content.held,
    leftOver: content.frame.buyMm > content.frame.usedMm + 0.01,
  };
}

/** Height of the table and notes in a column of this width. */
function legendHeight(content: LayContent, options: LayDrawingOptions, width: number, most: number): number {
  return drawLegend(new DrawingSink(), legendContent(content, options, 1), 0, 0, width, most);
}

function headerHeight(content: LayContent, options: LayDrawingOptions, width: number): number {
  return options.bare ? 0 : drawHeader(new DrawingSink(), content.header, 0, 0, width) + AFTER_HEADER_MM;
}

/** The largest round scale over both ways to turn the paper and both places for the table. */
function sheetArrangement(
  content: LayContent,
  options: LayDrawingOptions,
  page: 'a4' | 'letter',
  tagRows: number,
): Arrangement {
  const paper = PAPERS[page];
  const long = content.frame.toMm - content.frame.fromMm > content.frame.depthMm;
  // Where two ways give the same scale the earlier one is taken: paper turned like the cloth, table beneath.
  const turns = long ? [true, false] : [false, true];
  let best: Arrangement | null = null;
  for (const landscape of turns) {
    for (const beside of options.bare ? [false] : [false, true]) {
      const pageWidth = landscape ? paper.height : paper.width;
      const pageHeight = landscape ? paper.width : paper.height;
      const width = pageWidth - 2 * PAGE_MARGIN_MM;
      const height = pageHeight - 2 * PAGE_MARGIN_MM - headerHeight(content, options, width) - SCALE_ROW_MM;
      const clothWidth = beside ? width - LEGEND_BESIDE_MM - BETWEEN_ROWS_MM * 2 : width;
      const beneath =
        options.bare || beside ? 0 : legendHeight(content, options, width, height * LEGEND_SHARE) + 1;
      if (beside && legendHeight(content, options, LEGEND_BESIDE_MM, Number.POSITIVE_INFINITY) > height)
        continue;
      const fitted = fitRows(content, options, clothWidth, height - beneath, tagRows);
      if (!fitted) continue;
      if (
        !best ||
        fitted.scale < best.scale ||
        (fitted.scale === best.scale && fitted.ranges.length < best.ranges.length)
      ) {
        best = { pageWidth, pageHeight, beside, ...fitted };
      }
    }
  }
  if (!best) throw new RangeError(`drawLay: a cloth of ${content.frame.toMm} mm is too long for one sheet`);
  return best;
}

/** The height a row of this cloth takes with all about it. */
function rowHeight(view: BandView): number {
  const { top, bottom } = bandChrome(view);
  return top + view.frame.depthMm / view.scale + bottom;
}

function bandView(
  content: LayContent,
  options: LayDrawingOptions,
  tagRows: number,
  scale: number,
  range: BandRange,
): BandView {
  const { frame, direction } = content;
  return { frame, direction, range, scale, tagRows, units: options.units };
}

/** Scale and rows of a cloth in a space on paper: one row where that is at least 1:20, else as many as it takes. */
function fitRows(
  content: LayContent,
  options: LayDrawingOptions,
  width: number,
  height: number,
  tagRows: number,
): { scale: number; ranges: BandRange[] } | null {
  const { frame } = content;
  const whole = { fromMm: frame.fromMm, toMm: frame.toMm };
  const length = frame.toMm - frame.fromMm;
  const view = (scale: number, range: BandRange) => bandView(content, options, tagRows, scale, range);
  const chrome = bandChrome(view(1, whole));
  const clothWidth = width - chrome.left - chrome.right;
  if (clothWidth <= 0) return null;
  const one = SCALES.find((scale) => length / scale <= clothWidth && rowHeight(view(scale, whole)) <= height);
  const inOne = one === undefined ? null : { scale: one, ranges: [whole] };
  if (frame.kind === 'remnant' || (inOne && inOne.scale <= ONE_ROW_SCALE)) return inOne;
  for (const scale of SCALES) {
    if (one !== undefined && scale >= one) break;
    const rows = Math.ceil(length / (clothWidth * scale));
    if (rows * (frame.depthMm / scale) > height) continue;
    const ranges = bandRanges(frame, clothWidth * scale);
    const taken = ranges.reduce(
      (sum, range) => sum + rowHeight(view(scale, range)) + BETWEEN_ROWS_MM,
      -BETWEEN_ROWS_MM,
    );
    if (taken <= height) return { scale, ranges };
  }
  return inOne;
}

function fitArrangement(content: LayContent, options: LayDrawingOptions, tagRows: number): Arrangement {
  const { frame } = content;
  if (options.room) return roomArrangement(content, options, options.room, tagRows);
  const length = frame.toMm - frame.fromMm;
  const scale =
    SCALES.find((s) => (length / s <= FIT.along || s >= ONE_ROW_SCALE) && frame.depthMm / s <= FIT.across) ??
    (SCALES.at(-1) as number);
  const ranges = options.oneRow
    ? [{ fromMm: frame.fromMm, toMm: frame.toMm }]
    : bandRanges(frame, FIT.along * scale);
  const views = ranges.map((range) => bandView(content, options, tagRows, scale, range));
  const chrome = bandChrome(views[0] as BandView);
  const margin = options.bare ? 2 : PAGE_MARGIN_MM;
  const longest = Math.max(...ranges.map((range) => range.toMm - range.fromMm));
  const scaleRow = drawScale(new DrawingSink(), scale, options.units, 0, 0).width;
  const cloth = Math.max(longest / scale + chrome.right, scaleRow) + chrome.left;
  const width = options.bare ? cloth : Math.max(cloth, FIT.leastWidth);
  const height =
    headerHeight(content, options, width) +
    views.reduce((sum, view) => sum + rowHeight(view) + BETWEEN_ROWS_MM, -BETWEEN_ROWS_MM) +
    SCALE_ROW_MM +
    (options.bare ? 0 : legendHeight(content, options, width, Number.POSITIVE_INFINITY) + 1);
  return {
    pageWidth: Math.ceil(width + 2 * margin),
    pageHeight: Math.ceil(height + 2 * margin),
    scale,
    ranges,
    beside: false,
  };
}

/** The cloth alone, as large as a space allows; where even the smallest scale is too large, in that. */
function roomArrangement(
  content: LayContent,
  options: LayDrawingOptions,
  room: { readonly width: number; readonly height: number },
  tagRows: number,
): Arrangement {
  const { frame } = content;
  const margin = 2;
  const fitted = fitRows(
    content,
    options,
    room.width - 2 * margin,
    room.height - 2 * margin - SCALE_ROW_MM,
    tagRows,
  ) ?? { scale: SCALES.at(-1) as number, ranges: [{ fromMm: frame.fromMm, toMm: frame.toMm }] };
  const { scale, ranges } = fitted;
  const views = ranges.map((range) => bandView(content, options, tagRows, scale, range));
  const chrome = bandChrome(views[0] as BandView);
  const longest = Math.max(...ranges.map((range) => range.toMm - range.fromMm));
  const scaleRow = drawScale(new DrawingSink(), scale, options.units, 0, 0).width;
  const width = Math.max(longest / scale + chrome.right, scaleRow) + chrome.left;
  const height =
    views.reduce((sum, view) => sum + rowHeight(view) + BETWEEN_ROWS_MM, -BETWEEN_ROWS_MM) + SCALE_ROW_MM;
  return { pageWidth: width + 2 * margin, pageHeight: height + 2 * margin, scale, ranges, beside: false };
}

function draw(
  content: LayContent,
  options: LayDrawingOptions,
  tagRows: number,
  arrangement: Arrangement,
): Composed {
  const { pageWidth, pageHeight, scale, ranges, beside } = arrangement;
  const margin = options.bare && options.page === 'fit' ? 2 : PAGE_MARGIN_MM;
  const width = pageWidth - 2 * margin;
  const sink = new DrawingSink();
  sink.add('page', {
    kind: 'path',
    role: 'page',
    lines: [
      [
        [0, 0],
        [pageWidth, 0],
        [pageWidth, pageHeight],
        [0, pageHeight],
      ],
    ],
    closed: true,
  });
  let y = margin;
  if (!options.bare) y += drawHeader(sink, content.header, margin, y, width) + AFTER_HEADER_MM;
  const clothTop = y;
  const clothX = beside ? margin + LEGEND_BESIDE_MM + BETWEEN_ROWS_MM * 2 : margin;
  const frames: DrawingFrame[] = [];
  const without: SmallPiece[] = [];
  const known: PlacedMemory = new Map();
  let left = 0;
  for (const range of ranges) {
    const view = bandView(content, options, tagRows, scale, range);
    const drawn = drawBand(sink, {
      ...view,
      x: clothX,
      y,
      wordsFor: content.wordsFor,
      known,
      marks: options.marks ?? [],
      tagsOnly: options.tagsOnly ?? false,
    });
    frames.push(...drawn.frames);
    without.push(...drawn.without);
    left = bandChrome(view).left;
    y += rowHeight(view) + BETWEEN_ROWS_MM;
  }
  y -= BETWEEN_ROWS_MM;
  y += drawScale(sink, scale, options.units, clothX + left, y + 0.5).height;
  if (!options.bare) {
    const legend = legendContent(
      without.length > 0
        ? {
            ...content,
            notes: [
              `${without.length} small pieces bear no mark at this scale: draw a larger page.`,
              ...content.notes,
            ],
          }
        : content,
      options,
      scale,
    );
    if (beside) drawLegend(sink, legend, margin, clothTop, LEGEND_BESIDE_MM, pageHeight - margin - clothTop);
    else drawLegend(sink, legend, margin, y + 1, width, pageHeight - margin - y - 1);
  }
  const { title, subtitle } = content.header;
  return {
    without,
    drawing: {
      widthMm: pageWidth,
      heightMm: pageHeight,
      title: `${title}: lay plan`,
      description: `${subtitle}. ${content.header.facts.map((f) => `${f.name}: ${f.value}`).join('. ')}. Scale 1:${scale}.`,
      lang: LANG,
      scale,
      frames,
      layers: sink.layers(),
    },
  };
}
