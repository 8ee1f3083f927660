import type { Outline } from '../../nesting/packing/types.ts';
import type { ClothLay, Project } from '../exchange/project.ts';
import { USUAL_LANGUAGE } from '../language.ts';
import { type ClothFrame, clothFrame } from '../plan/clothFrame.ts';
import type { DrawingItem, DrawnPoint } from '../plan/index.ts';
import { type Bounds, bounds, rectangle } from '../plan/intervals.ts';
import { layRowId, layRows } from '../plan/layRows.ts';
import { topMark } from '../plan/pieceMarks.ts';
import { cleanText, isolate } from '../plan/text.ts';
import { planWords } from '../plan/words/index.ts';
import { formatLength, formatSize } from '../units/index.ts';
import type { Drawable, FullDrawing } from './fullDrawing.ts';
import { longGrain, pieceWords } from './fullMarks.ts';
import { type FullSizeOptions, fullSizeFault, fullSizeSheets } from './fullSizeSheets.ts';
import { clothName } from './planSheets.ts';
import type { Sheet } from './sheet.ts';
import { outputWords } from './words/index.ts';

/** Why these lays can't be printed in true size so, in words for the maker; null if they can. */
export function fullLaysFault(
  lays: readonly ClothLay[],
  project: Project,
  options: FullSizeOptions,
): string | null {
  const things = drawables(lays, project, options);
  if (things.length === 0) return outputWords(options.language ?? USUAL_LANGUAGE).full.nothing;
  return fullSizeFault(things, options);
}

/**
 * Whole lays in true size on sheets, see `fullSizeSheets`: a drawing for each part of each cloth with a piece on it.
 * RangeError where the paper can't be divided so (`fullLaysFault`).
 */
export function fullLaySheets(
  lays: readonly ClothLay[],
  project: Project,
  options: FullSizeOptions,
): Sheet[] {
  const things = drawables(lays, project, options);
  const words = outputWords(options.language ?? USUAL_LANGUAGE).full;
  const head = { project: project.name, title: words.lays, count: words.countStretches(things.length) };
  return fullSizeSheets(things, head, options);
}

/** Every stretch with a piece on it in true size, not divided over sheets. */
export function fullLayDrawings(
  lays: readonly ClothLay[],
  project: Project,
  options: Pick<FullSizeOptions, 'units' | 'language'>,
): FullDrawing[] {
  return drawables(lays, project, options).map((thing) => thing.draw([]));
}

function drawables(
  lays: readonly ClothLay[],
  project: Project,
  options: Pick<FullSizeOptions, 'units' | 'language'>,
): Drawable[] {
  return lays.flatMap((lay) =>
    lay.segments.flatMap(({ placed }, segment): Drawable[] => {
      if (placed.length === 0) return [];
      const frame = clothFrame(
        lay,
        project.cloths.find((cloth) => cloth.id === lay.clothId),
        segment,
      );
      return [
        {
          outlines: placedOnPage(frame).map(({ rings }) => rings[0] as Outline),
          draw: (rooms) => drawFullLay(lay, project, frame, options, rooms),
        },
      ];
    }),
  );
}

type ToPage = (point: readonly [number, number]) => DrawnPoint;

function toPageOf(frame: ClothFrame): ToPage {
  const [x0, y0] = frame.stretches[0]?.originMm ?? [0, 0];
  return ([x, y]) => [x + x0 - frame.fromMm, frame.depthMm - (y + y0)];
}

function placedOnPage(frame: ClothFrame) {
  const toPage = toPageOf(frame);
  return (frame.stretches[0]?.segment.placed ?? []).map((placed) => ({
    placed,
    rings: [placed.outline, ...placed.holes].map((ring) => ring.map(toPage)),
  }));
}

/** The folds of a stretch on the page, as large as it is. */
function foldEdges({ stretches, depthMm }: ClothFrame, width: number): DrawnPoint[][] {
  const spread = stretches[0]?.segment.spread;
  const level = (y: number): DrawnPoint[] => [
    [0, y],
    [width, y],
  ];
  if (spread === 'middle') return [level(0), level(depthMm)];
  if (spread === 'folded' || spread === 'partial') return [level(depthMm)];
  if (spread !== 'crosswise') return [];
  return [
    [
      [width, 0],
      [width, depthMm],
    ],
  ];
}

/** One stretch of cloth with its pieces, as large as it is: the drawing's corners are those of the cloth. */
function drawFullLay(
  lay: ClothLay,
  project: Project,
  frame: ClothFrame,
  { units, language = USUAL_LANGUAGE }: Pick<FullSizeOptions, 'units' | 'language'>,
  rooms: readonly Bounds[],
): FullDrawing {
  const said = planWords(language);
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  const items: DrawingItem[] = [];
  const path = (
    role: Extract<DrawingItem, { kind: 'path' }>['role'],
    lines: readonly (readonly DrawnPoint[])[],
    closed: boolean,
  ) => items.push({ kind: 'path', role, lines, closed });
  const toPage = toPageOf(frame);
  const width = frame.toMm - frame.fromMm;
  const stretch = frame.stretches[0];
  const { outline, flaws = [] } = stretch?.segment ?? {};
  path('cloth-edge', [outline ? outline.map(toPage) : rectangle(0, 0, width, frame.depthMm)], true);
  if (flaws.length > 0)
    path(
      'flaw',
      flaws.map((ring) => ring.map(toPage)),
      true,
    );
  const folds = foldEdges(frame, width);
  if (folds.length > 0) path('fold-edge', folds, false);
  const names = new Map(project.pieces.map((piece) => [piece.id, cleanText(piece.name)]));
  const keys = new Map(layRows(lay, project).map((row) => [row.id, row.key]));
  const onPage = placedOnPage(frame);
  for (const { placed, rings } of onPage) {
    path('piece-edge', rings, true);
    const { pieceId, hand, copy, of } = placed;
    const tag = `${keys.get(layRowId(placed)) ?? ''}${copy}`;
    const box = bounds(rings[0] as Outline);
    const near = rooms.filter(
      (room) => room.minX < box.maxX && room.maxX > box.minX && room.minY < box.maxY && room.maxY > box.minY,
    );
    const lines = [`${tag} · ${said.copy(copy, of)}`, said.hand(hand, cloth).long];
    const words = pieceWords(rings, near, isolate(names.get(pieceId) ?? pieceId), lines);
    const keepOut = words ? [words.box] : [];
    const top = topMark(rings, -placed.topDeg, keepOut, said.top);
    if (top) keepOut.push(top.box);
    const grain = longGrain(rings, -placed.grainDeg, keepOut);
    items.push(...(words?.items ?? []), ...(top?.items ?? []), ...(grain ? [grain] : []));
  }
  const words = outputWords(language);
  const whole = clothName(lay, project, language);
  const name = lay.segments.length > 1 ? words.part(whole, (stretch?.index ?? 0) + 1) : whole;
  const from = frame.fromMm > 0 ? words.full.from(formatLength(frame.fromMm, units, language)) : '';
  return {
    name,
    size: formatSize(width, frame.depthMm, units, language) + from,
    outlines: onPage.map(({ rings }) => rings[0] as Outline),
    drawing: {
      widthMm: width,
      heightMm: frame.depthMm,
      title: words.fullSize(name),
      description: name,
      lang: language,
      scale: 1,
      frames: [],
      layers: [{ name: 'pieces', items }],
    },
  };
}
