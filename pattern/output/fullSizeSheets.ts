import { boundingBox } from '../../nesting/geometry/rings.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { DrawingItem, DrawnPoint } from '../plan/index.ts';
import { type Bounds, rectangle } from '../plan/intervals.ts';
import type { DrawingSink } from '../plan/sink.ts';
import { cleanText, isolate, LEADING, shorten, wrap } from '../plan/text.ts';
import { PAGE_MARGIN_MM, TEXT } from '../plan/tokens.ts';
import { formatNumber, type ShownUnits } from '../units/index.ts';
import type { Drawable, FullDrawing } from './fullDrawing.ts';
import { blankPage } from './pageTable.ts';
import type { Sheet } from './sheet.ts';
import { tenth } from './table.ts';
import { drawTestSquares, TEST_SQUARES_MM } from './testSquares.ts';
import {
  LONGEST_PAGE_MM,
  mostTiles,
  paperName,
  paperOf,
  TILE_PAPERS,
  type Tile,
  type TileLayout,
  type TileOptions,
  tileFault,
  tileLayout,
} from './tiles.ts';
import { outputWords } from './words/index.ts';

export interface FullSizeOptions {
  /** Paper to divide things over, or one sheet for each, as large as it takes. */
  readonly paper: TileOptions['paper'] | 'one';
  /** Of a roll of paper, mm. */
  readonly rollMm?: number;
  readonly marginMm: number;
  readonly overlapMm: number;
  readonly units: ShownUnits;
  /** English where left out. */
  readonly language?: Language;
  /** Names of pieces that can't be drawn, told on the first page. */
  readonly leftOut?: readonly string[];
}

/** More sheets than this nobody joins; a number typed wrong makes them. */
export const MOST_SHEETS = 1_000;

/** Why things of these outlines can't be printed so, in words for the maker; null if they can. */
export function fullSizeFault(
  things: readonly Pick<Drawable, 'outlines'>[],
  options: FullSizeOptions,
): string | null {
  const { paper, language = USUAL_LANGUAGE } = options;
  if (paper === 'one') return null;
  const tiling = { ...options, paper };
  const fault = tileFault(tiling, language);
  if (fault !== null) return fault;
  let sheets = 0;
  for (const { outlines } of things) {
    const { maxX, maxY } = boundingBox(outlines.flat());
    sheets += mostTiles(maxX, maxY, tiling);
  }
  if (sheets <= MOST_SHEETS) return null;
  return outputWords(language).full.tooMany(sheets, paperName(tiling, language), MOST_SHEETS);
}

/** A drawing with the sheets it takes. */
interface Tiled {
  readonly full: FullDrawing;
  readonly layout: TileLayout;
}

/** What the first page says of the whole file. */
export interface FullSizeHead {
  readonly project: string;
  readonly title: string;
  /** `13 pieces`. */
  readonly count: string;
}

/** Half a line's width: lines on a frame are not cut in two by it, mm. */
const LINE_ROOM_MM = 0.6;

/**
 * Things in true size. Divided over sheets: first a page to check the printer by, with a map of each, then the sheets
 * of each, with joins numbered. On one sheet each: the squares to check stand beneath it.
 * RangeError where the paper can't be divided so (`fullSizeFault`).
 */
export function fullSizeSheets(
  things: readonly Drawable[],
  head: FullSizeHead,
  options: FullSizeOptions,
): Sheet[] {
  const { paper, language = USUAL_LANGUAGE } = options;
  if (paper === 'one') {
    return things.map((thing, i) =>
      oneSheet(thing.draw([]), head, i === 0 ? leftOutNote(options, language) : null, language),
    );
  }
  const tiled = things.map((thing): Tiled => {
    const layout = tileLayout(thing.outlines, { ...options, paper });
    return { full: thing.draw(layout.tiles.map((tile) => wordRoom(layout, tile))), layout };
  });
  const sheets = coverSheets(tiled, head, { ...options, paper, language });
  for (const thing of tiled) sheets.push(...tileSheets(thing, sheets.length + 1, language));
  return sheets;
}

/** Where words may stand on a sheet: clear of the joins at its sides and of the line at its foot. */
function wordRoom({ frameWidth, frameHeight, overlapMm }: TileLayout, { x, y }: Tile): Bounds {
  const side = overlapMm + JOIN_MM;
  return { minX: x + side, maxX: x + frameWidth - side, minY: y + side, maxY: y + frameHeight - side - 4 };
}

const JOIN_MM = 4.5;
const ONE = { gap: 8, noteMm: 9, least: TEST_SQUARES_MM.width } as const;

/** Something on a sheet of its own, the squares to check by beneath it. */
function oneSheet(
  full: FullDrawing,
  { project }: FullSizeHead,
  note: string | null,
  language: Language,
): Sheet {
  const words = outputWords(language).full;
  const { drawing, name, size } = full;
  const width = Math.max(drawing.widthMm, ONE.least) + 2 * PAGE_MARGIN_MM;
  const height = drawing.heightMm + 2 * PAGE_MARGIN_MM + ONE.gap + TEST_SQUARES_MM.height + ONE.noteMm;
  const sink = blankPage(width, height, language);
  const y = PAGE_MARGIN_MM + drawing.heightMm + ONE.gap;
  drawTestSquares(sink, PAGE_MARGIN_MM, y);
  // Beyond the format's limit the page is measured in larger units, which not every program honours: said on it.
  const long = Math.max(width, height) > LONGEST_PAGE_MM ? ` · ${words.long}` : '';
  const line = `${name} · ${size} · ${isolate(cleanText(project))} · ${words.printAt}${long}`;
  const inner = width - 2 * PAGE_MARGIN_MM;
  sink.text(
    'notes',
    'note',
    shorten(line, inner, 3, 'note'),
    PAGE_MARGIN_MM,
    y + TEST_SQUARES_MM.height + 6,
    3,
  );
  if (note !== null) {
    const foot = height - PAGE_MARGIN_MM + 1;
    sink.text('notes', 'note', shorten(note, inner, TEXT.note, 'note'), PAGE_MARGIN_MM, foot, TEXT.note);
  }
  return {
    bookmark: name,
    drawing: sink.drawing(width, height, drawing.title),
    windows: [
      {
        drawing,
        x: PAGE_MARGIN_MM,
        y: PAGE_MARGIN_MM,
        clip: {
          x: PAGE_MARGIN_MM - LINE_ROOM_MM,
          y: PAGE_MARGIN_MM - LINE_ROOM_MM,
          width: drawing.widthMm + 2 * LINE_ROOM_MM,
          height: drawing.heightMm + 2 * LINE_ROOM_MM,
        },
      },
    ],
  };
}

/** @param firstPage where the first of these sheets stands in the file, from 1 */
function tileSheets({ full, layout }: Tiled, firstPage: number, language: Language): Sheet[] {
  const said = outputWords(language).full;
  const decimal = (mm: number) => formatNumber(tenth(mm), language);
  const { pageWidth, pageHeight, marginMm, frameWidth, frameHeight, overlapMm, tiles } = layout;
  return tiles.map((tile, i): Sheet => {
    const sink = blankPage(pageWidth, pageHeight, language);
    const frame = rectangle(marginMm, marginMm, frameWidth, frameHeight);
    sink.add('rulers', { kind: 'path', role: 'ruler', lines: [frame], closed: true });
    for (const join of layout.joins) {
      if (join.first === tile) sink.add('rulers', ...joinMark(layout, join.side, join.number));
      if (join.second === tile) {
        sink.add('rulers', ...joinMark(layout, join.side === 'right' ? 'left' : 'above', join.number));
      }
    }
    const has = (row: number, column: number) => tiles.some((t) => t.row === row && t.column === column);
    if (overlapMm > 0) {
      const lines: DrawnPoint[][] = [];
      if (has(tile.row, tile.column - 1)) {
        lines.push([
          [marginMm + overlapMm, marginMm],
          [marginMm + overlapMm, marginMm + frameHeight],
        ]);
      }
      if (has(tile.row - 1, tile.column)) {
        lines.push([
          [marginMm, marginMm + overlapMm],
          [marginMm + frameWidth, marginMm + overlapMm],
        ]);
      }
      if (lines.length > 0) sink.add('rulers', { kind: 'path', role: 'crease', lines, closed: false });
    }
    const words = said.foot(
      full.name,
      tile.number,
      tiles.length,
      tile.row + 1,
      tile.column + 1,
      decimal(frameWidth),
      decimal(frameHeight),
      firstPage + i,
    );
    const size = TEXT.note;
    sink.text(
      'notes',
      'ruler-text',
      shorten(words, frameWidth - 8, size, 'ruler-text'),
      marginMm + 4,
      marginMm + frameHeight - 2.5,
      size,
    );
    const x = marginMm - tile.x;
    const y = marginMm - tile.y;
    return {
      drawing: sink.drawing(pageWidth, pageHeight, said.sheet(full.name, tile.number)),
      ...(tile.number === 1 ? { bookmark: `${full.name} (${said.sheets(tiles.length)})` } : {}),
      windows: [
        {
          drawing: full.drawing,
          x,
          y,
          clip: {
            x: marginMm - LINE_ROOM_MM / 2,
            y: marginMm - LINE_ROOM_MM / 2,
            width: frameWidth + LINE_ROOM_MM,
            height: frameHeight + LINE_ROOM_MM,
          },
        },
      ],
    };
  });
}

/** Half a diamond at the middle of a frame's side, with its number; both halves meet when the sheets are joined. */
function joinMark(
  { marginMm, frameWidth, frameHeight, overlapMm }: TileLayout,
  side: 'right' | 'below' | 'left' | 'above',
  number: number,
): DrawingItem[] {
  const right = marginMm + frameWidth;
  const bottom = marginMm + frameHeight;
  // Where sheets overlap, halves meet in the middle of the overlap.
  const in2 = overlapMm / 2;
  const [x, y, dx, dy] = {
    right: [right - in2, marginMm + frameHeight / 2, -1, 0],
    left: [marginMm + in2, marginMm + frameHeight / 2, 1, 0],
    below: [marginMm + frameWidth / 2, bottom - in2, 0, -1],
    above: [marginMm + frameWidth / 2, marginMm + in2, 0, 1],
  }[side] as [number, number, number, number];
  const point = (inward: number, along: number): DrawnPoint => [
    x + dx * inward + dy * along,
    y + dy * inward + dx * along,
  ];
  const half: DrawnPoint[] = [point(0, -JOIN_MM), point(JOIN_MM, 0), point(0, JOIN_MM)];
  const [tx, ty] = point(JOIN_MM + 2.4, 0);
  return [
    { kind: 'path', role: 'dimension', lines: [half], closed: true },
    {
      kind: 'text',
      role: 'dimension-text',
      x: tx,
      y: ty + 1.3,
      size: 3.6,
      anchor: 'middle',
      rotation: 0,
      text: String(number),
    },
  ];
}

const COVER = { most: TILE_PAPERS.a3 } as const;
const MAP = { gap: 7, head: 9, perRow: 3 } as const;
/** Where there is only one piece to show. */
const SINGLE_MAP = { ...MAP, width: 130 } as const;

/** The pages to begin with: how to print, the squares, and a map of every piece. */
function coverSheets(
  tiled: readonly Tiled[],
  head: FullSizeHead,
  options: TileOptions & Pick<FullSizeOptions, 'units' | 'leftOut'> & { readonly language: Language },
): Sheet[] {
  const { language } = options;
  const said = outputWords(language).full;
  const own = paperOf(options);
  // Large paper is not spent on words: they come on as much of it as A3 is.
  const isLarge = own.width > COVER.most.width;
  const width = isLarge && options.paper !== 'roll' ? COVER.most.width : own.width;
  const height = isLarge ? COVER.most.height : own.height;
  const inner = width - 2 * PAGE_MARGIN_MM;
  const title = `${isolate(cleanText(head.project))}: ${head.title}`;
  const count = tiled.reduce((sum, { layout }) => sum + layout.tiles.length, 0);
  const leftOut = leftOutNote(options, language);
  const sheets: Sheet[] = [];
  let sink = blankPage(width, height, language);
  const close = () => {
    const drawing = sink.drawing(width, height, title);
    sheets.push(sheets.length === 0 ? { drawing, bookmark: said.cover } : { drawing });
    sink = blankPage(width, height, language);
  };
  let y = PAGE_MARGIN_MM + TEXT.title * 0.8;
  sink.text('notes', 'title', shorten(title, inner, TEXT.title, 'title'), PAGE_MARGIN_MM, y, TEXT.title);
  y += 4.8;
  sink.text(
    'notes',
    'subtitle',
    said.onSheets(head.count, said.sheets(count), paperName(options, language)),
    PAGE_MARGIN_MM,
    y,
    3,
  );
  y += 3;
  const join =
    options.overlapMm > 0 ? said.overlap(formatNumber(tenth(options.overlapMm), language)) : said.meet;
  for (const note of [
    said.how,
    join,
    `${said.blank} ${said.again}`,
    ...(leftOut === null ? [] : [leftOut]),
  ]) {
    for (const line of wrap(note, inner, 3, 'note')) {
      y += 3 * LEADING + 0.4;
      sink.text('notes', 'note', line, PAGE_MARGIN_MM, y, 3);
    }
  }
  y += 6;
  drawTestSquares(sink, PAGE_MARGIN_MM, y);
  y += TEST_SQUARES_MM.height + 10;
  const side = (inner - (MAP.perRow - 1) * MAP.gap) / MAP.perRow;
  const map =
    tiled.length === 1
      ? { ...SINGLE_MAP, height: height - PAGE_MARGIN_MM - y - MAP.head }
      : { ...MAP, width: side, height: side };
  const perRow = tiled.length === 1 ? 1 : MAP.perRow;
  tiled.forEach((piece, i) => {
    const column = i % perRow;
    if (column === 0 && i > 0) y += map.height + map.head + map.gap;
    if (column === 0 && y + map.height + map.head > height - PAGE_MARGIN_MM) {
      close();
      y = PAGE_MARGIN_MM;
    }
    drawMap(sink, piece, PAGE_MARGIN_MM + column * (map.width + map.gap), y, options.units, map);
  });
  close();
  return sheets;
}

/** How the sheets of a piece lie together, with the piece across them. */
function drawMap(
  sink: DrawingSink,
  { full, layout }: Tiled,
  x: number,
  y: number,
  units: ShownUnits,
  map: { readonly width: number; readonly height: number; readonly head: number },
): void {
  const { frameWidth, frameHeight, overlapMm, columns, rows, tiles } = layout;
  const stepX = frameWidth - overlapMm;
  const stepY = frameHeight - overlapMm;
  const scale = Math.max(
    (columns * stepX + overlapMm) / map.width,
    (rows * stepY + overlapMm) / (map.height - 2),
    6,
  );
  const name = shorten(full.name, map.width, 3, 'table-strong');
  sink.text('notes', 'table-strong', name, x, y + 3, 3);
  const size = sink.size(full.drawing.widthMm, full.drawing.heightMm, units);
  const facts = `${size} · ${outputWords(sink.language).full.sheets(tiles.length)}`;
  sink.text('notes', 'table-head', shorten(facts, map.width, 2.5, 'table-head'), x, y + 6.6, 2.5);
  const top = y + map.head;
  const first = tiles[0];
  if (!first) return;
  // The grid's corner in the piece's axes.
  const left = first.x - first.column * stepX;
  const upper = first.y - first.row * stepY;
  const at = ([px, py]: DrawnPoint): DrawnPoint => [x + (px - left) / scale, top + (py - upper) / scale];
  sink.add('cloth', {
    kind: 'path',
    role: 'piece-plain',
    lines: full.outlines.map((ring) => ring.map(at)),
    closed: true,
  });
  sink.add('cloth', {
    kind: 'path',
    role: 'piece-edge',
    lines: full.outlines.map((ring) => ring.map(at)),
    closed: true,
  });
  for (const tile of tiles) {
    const [tx, ty] = at([tile.x, tile.y]);
    const frame = rectangle(tx, ty, frameWidth / scale, frameHeight / scale);
    sink.add('rulers', { kind: 'path', role: 'ruler', lines: [frame], closed: true });
    const size = Math.min(3.6, Math.max(1.6, (Math.min(frameWidth, frameHeight) / scale) * 0.4));
    const cx = tx + frameWidth / scale / 2;
    const cy = ty + frameHeight / scale / 2 + size * 0.36;
    sink.text('rulers', 'dimension-text', String(tile.number), cx, cy, size, { anchor: 'middle' });
  }
}

function leftOutNote({ leftOut = [] }: Pick<FullSizeOptions, 'leftOut'>, language: Language): string | null {
  if (leftOut.length === 0) return null;
  const names = leftOut.map((name) => isolate(cleanText(name))).join(', ');
  return outputWords(language).full.leftOut(names);
}
