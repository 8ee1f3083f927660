import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline } from '../../nesting/packing/types.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { clipRing } from '../plan/clipToBand.ts';
import { formatNumber } from '../units/index.ts';
import { outputWords } from './words/index.ts';

/**
 * Papers, upright, mm: ISO 216 and ANSI sizes, and `both`, which fits inside A4 and Letter alike, so that one file
 * prints on either.
 */
export const TILE_PAPERS = {
  a4: { width: 210, height: 297 },
  a3: { width: 297, height: 420 },
  letter: { width: 215.9, height: 279.4 },
  tabloid: { width: 279.4, height: 431.8 },
  both: { width: 210, height: 279.4 },
  a1: { width: 594, height: 841 },
  a0: { width: 841, height: 1189 },
} as const;
export type TilePaper = keyof typeof TILE_PAPERS | 'roll';

/** Longest page that every program shows right, mm: 200 in (ISO 32000-1, annex C). */
export const LONGEST_PAGE_MM = 5080;
/** Width of the rolls that large printers take unless said otherwise, mm: 36 in. */
const USUAL_ROLL_MM = 914.4;
/** Narrower is no roll of paper but a typing error, mm. */
const LEAST_ROLL_MM = 100;

/** The paper chosen, upright; of a roll the longest piece that one page may be. */
export function paperOf({ paper, rollMm = USUAL_ROLL_MM }: Pick<TileOptions, 'paper' | 'rollMm'>): {
  readonly width: number;
  readonly height: number;
} {
  if (paper !== 'roll') return TILE_PAPERS[paper];
  const width = Math.min(rollMm, LONGEST_PAGE_MM);
  return { width, height: LONGEST_PAGE_MM };
}

/** What the paper chosen is called. */
export function paperName(options: Pick<TileOptions, 'paper' | 'rollMm'>, language: Language): string {
  const { papers, roll } = outputWords(language).full;
  return options.paper === 'roll' ? roll(Math.round(paperOf(options).width)) : papers[options.paper];
}

/** Printers leave up to this much of a sheet's edge blank; nothing that matters lies nearer, mm. */
const LEAST_MARGIN_MM = 10;
/** A frame smaller than this holds no mark that can be read, mm. */
const LEAST_FRAME_MM = 40;
/** A length that exceeds whole frames by no more than this needs no further sheet, mm: the width of a line. */
const SLACK_MM = 0.01;

export interface TileOptions {
  readonly paper: TilePaper;
  /** Of a roll, mm; 36 in if left out. */
  readonly rollMm?: number;
  /** At least 10. */
  readonly marginMm: number;
  /** How far neighbours show the same, mm; 0: they meet at the frame. */
  readonly overlapMm: number;
}

/** One sheet: which part of the content its frame shows. */
export interface Tile {
  /** From 1 by rows, over the sheets that are printed. */
  readonly number: number;
  readonly row: number;
  readonly column: number;
  /** The frame's upper left corner in the content's axes (y down), mm. */
  readonly x: number;
  readonly y: number;
}

/** Two neighbouring sheets that are joined: the number stands on both. */
export interface TileJoin {
  readonly number: number;
  /** `right`: the second lies to the right of the first; `below`: beneath it. */
  readonly side: 'right' | 'below';
  readonly first: Tile;
  readonly second: Tile;
}

export interface TileLayout {
  readonly pageWidth: number;
  readonly pageHeight: number;
  readonly marginMm: number;
  readonly overlapMm: number;
  readonly frameWidth: number;
  readonly frameHeight: number;
  readonly columns: number;
  readonly rows: number;
  /** Sheets with something on them, by rows. */
  readonly tiles: readonly Tile[];
  readonly joins: readonly TileJoin[];
}

/** Why a page can't be divided like that, in words for the maker; null if it can. */
export function tileFault(options: TileOptions, language: Language = USUAL_LANGUAGE): string | null {
  const said = outputWords(language).full;
  const written = (mm: number) => formatNumber(mm, language);
  const { marginMm, overlapMm } = options;
  const { rollMm = USUAL_ROLL_MM } = options;
  if (options.paper === 'roll' && !(rollMm >= LEAST_ROLL_MM && rollMm <= LONGEST_PAGE_MM)) {
    return said.rollFault(written(rollMm), LEAST_ROLL_MM, LONGEST_PAGE_MM);
  }
  const { width, height } = paperOf(options);
  const name = paperName(options, language);
  if (!(marginMm >= LEAST_MARGIN_MM)) {
    return said.marginSmall(written(marginMm), LEAST_MARGIN_MM);
  }
  const frame = Math.min(width, height) - 2 * marginMm;
  if (!(frame >= LEAST_FRAME_MM)) {
    const most = Math.floor((Math.min(width, height) - LEAST_FRAME_MM) / 2);
    return said.marginLarge(written(marginMm), name, most);
  }
  if (!(overlapMm >= 0 && overlapMm <= frame / 2)) {
    return said.overlapFault(name, Math.floor(frame / 2), written(overlapMm));
  }
  return null;
}

/** Sheets that the box of a size takes at most, whichever way the paper lies. */
export function mostTiles(width: number, height: number, options: TileOptions): number {
  const paper = paperOf(options);
  const count = (size: number, side: number) =>
    Math.max(1, Math.ceil(size / (side - 2 * options.marginMm - options.overlapMm)));
  const upright = count(width, paper.width) * count(height, paper.height);
  return Math.max(upright, count(width, paper.height) * count(height, paper.width));
}

/**
 * Divides a shape into sheets: paper turned the way that takes fewer, the shape in the middle of the grid, sheets
 * that would stay blank left out. `rings`: outlines of what is drawn, y down, its box from (0, 0).
 * Throws a RangeError where `tileFault` has something to say.
 */
export function tileLayout(rings: readonly Outline[], options: TileOptions): TileLayout {
  const fault = tileFault(options);
  if (fault !== null) throw new RangeError(`tileLayout: ${fault}`);
  const box = boundingBox(rings.flat());
  const { width, height: longest } = paperOf(options);
  const height = options.paper === 'roll' ? cutOffRoll(Math.max(box.maxX, box.maxY), options) : longest;
  const upright = divide(rings, box.maxX, box.maxY, width, height, options);
  const turned = divide(rings, box.maxX, box.maxY, height, width, options);
  return turned.tiles.length < upright.tiles.length ? turned : upright;
}

/** Length of each sheet from a roll, mm: no more than the shape takes, in as few equal parts as the format allows. */
function cutOffRoll(lengthMm: number, { marginMm, overlapMm }: TileOptions): number {
  const needed = Math.max(lengthMm, 2 * LEAST_FRAME_MM);
  const step = LONGEST_PAGE_MM - 2 * marginMm - overlapMm;
  const sheets = Math.max(1, Math.ceil((needed - overlapMm - SLACK_MM) / step));
  return Math.min(LONGEST_PAGE_MM, (needed - overlapMm) / sheets + overlapMm + 2 * marginMm);
}

function divide(
  rings: readonly Outline[],
  width: number,
  height: number,
  pageWidth: number,
  pageHeight: number,
  { marginMm, overlapMm }: TileOptions,
): TileLayout {
  const frameWidth = pageWidth - 2 * marginMm;
  const frameHeight = pageHeight - 2 * marginMm;
  const count = (size: number, frame: number) =>
    Math.max(1, Math.ceil((size - overlapMm - SLACK_MM) / (frame - overlapMm)));
  const columns = count(width, frameWidth);
  const rows = count(height, frameHeight);
  const stepX = frameWidth - overlapMm;
  const stepY = frameHeight - overlapMm;
  const left = (width - (columns * stepX + overlapMm)) / 2;
  const top = (height - (rows * stepY + overlapMm)) / 2;
  const tiles: Tile[] = [];
  for (let row = 0; row < rows; row++) {
    const y = top + row * stepY;
    // What of the rings lies in this row, its axes swapped because the clipper knows upright lines.
    const inRow = rings
      .map((ring) =>
        clipRing(
          ring.map(([a, b]) => [b, a]),
          y,
          y + frameHeight,
        ),
      )
      .filter((ring) => ring.length > 0)
      .map((ring) => ring.map(([a, b]): readonly [number, number] => [b, a]));
    for (let column = 0; column < columns; column++) {
      const x = left + column * stepX;
      if (!inRow.some((ring) => hasArea(clipRing(ring, x, x + frameWidth)))) continue;
      tiles.push({ number: tiles.length + 1, row, column, x, y });
    }
  }
  return {
    pageWidth,
    pageHeight,
    marginMm,
    overlapMm,
    frameWidth,
    frameHeight,
    columns,
    rows,
    tiles,
    joins: joinsOf(tiles),
  };
}

/** What only touches the frame from outside needs no sheet. */
function hasArea(ring: Outline): boolean {
  return ring.length > 2 && Math.abs(signedArea(ring)) > SLACK_MM;
}

function joinsOf(tiles: readonly Tile[]): TileJoin[] {
  const joins: TileJoin[] = [];
  const byPlace = new Map(tiles.map((tile) => [`${tile.row} ${tile.column}`, tile]));
  const at = (row: number, column: number) => byPlace.get(`${row} ${column}`);
  for (const first of tiles) {
    for (const side of ['right', 'below'] as const) {
      const second = side === 'right' ? at(first.row, first.column + 1) : at(first.row + 1, first.column);
      if (second) joins.push({ number: joins.length + 1, side, first, second });
    }
  }
  return joins;
}
