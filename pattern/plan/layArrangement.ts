import type { Language } from '../language.ts';
import type { ShownUnits } from '../units/index.ts';
import { type BandView, bandChrome } from './bandArea.ts';
import { type BandRange, bandRanges } from './bands.ts';
import type { CutMark } from './cutMarks.ts';
import type { LayContent } from './layContent.ts';
import { drawHeader } from './sheetHeader.ts';
import { drawLegend, drawScale, type LegendContent, SCALE_ROW_MM } from './sheetLegend.ts';
import { DrawingSink } from './sink.ts';
import { PAGE_MARGIN_MM, PAPERS, SCALES } from './tokens.ts';

export interface LayDrawingOptions {
  /** A sheet of paper, turned as suits the cloth; `fit`: as large as the drawing wants to be, for a screen. */
  readonly page: 'a4' | 'letter' | 'fit';
  /** Only this segment of the lay, counted from 0. */
  readonly segment?: number;
  readonly units: ShownUnits;
  /** English where left out. */
  readonly language?: Language;
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
export const BETWEEN_ROWS_MM = 2;
export const AFTER_HEADER_MM = 2.5;
export const LEGEND_BESIDE_MM = 90;
/** Table and notes never take more of a sheet than this. */
const LEGEND_SHARE = 0.5;
/** Size of the cloth on a page that has no size of its own, mm. */
const FIT = { along: 250, across: 220, leastWidth: 190 } as const;

/** How a lay is arranged on its page. */
export interface Arrangement {
  readonly pageWidth: number;
  readonly pageHeight: number;
  readonly scale: number;
  readonly ranges: readonly BandRange[];
  /** Table beside the cloth instead of beneath it. */
  readonly beside: boolean;
}

/** Chooses page, scale and rows for so many rows of tags. */
export function arrange(content: LayContent, options: LayDrawingOptions, tagRows: number): Arrangement {
  return options.page === 'fit'
    ? fitArrangement(content, options, tagRows)
    : sheetArrangement(content, options, options.page, tagRows);
}

/** Table and notes as they are drawn at a scale, 1:`scale`. */
export function legendContent(
  content: LayContent,
  { units }: LayDrawingOptions,
  scale: number,
): LegendContent {
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
  return drawLegend(new DrawingSink(options.language), legendContent(content, options, 1), 0, 0, width, most);
}

function headerHeight(content: LayContent, options: LayDrawingOptions, width: number): number {
  return options.bare
    ? 0
    : drawHeader(new DrawingSink(options.language), content.header, 0, 0, width) + AFTER_HEADER_MM;
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
export function rowHeight(view: BandView): number {
  const { top, bottom } = bandChrome(view);
  return top + view.frame.depthMm / view.scale + bottom;
}

/** One row of the cloth, as it is seen. */
export function bandView(
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
  const scaleRow = drawScale(new DrawingSink(options.language), scale, options.units, 0, 0).width;
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
  const scaleRow = drawScale(new DrawingSink(options.language), scale, options.units, 0, 0).width;
  const width = Math.max(longest / scale + chrome.right, scaleRow) + chrome.left;
  const height =
    views.reduce((sum, view) => sum + rowHeight(view) + BETWEEN_ROWS_MM, -BETWEEN_ROWS_MM) + SCALE_ROW_MM;
  return { pageWidth: width + 2 * margin, pageHeight: height + 2 * margin, scale, ranges, beside: false };
}
