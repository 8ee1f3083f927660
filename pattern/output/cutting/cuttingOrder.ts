import type { ClothLay, Project, Segment } from '../../exchange/project.ts';
import { type ClothFrame, clothFrame, type Stretch } from '../../plan/clothFrame.ts';
import { type Bounds, bounds } from '../../plan/intervals.ts';
import { layRowId, layRows } from '../../plan/layRows.ts';
import { placementKey } from '../placements.ts';
import {
  type BlockCut,
  blockCuts,
  type CutLine,
  type CutPiece,
  type Part,
  type SharedLine,
} from './blocks.ts';
import { freeRectangles } from './freeRectangles.ts';
import { type TablePlace, tablePlaces } from './tableMoves.ts';

/** From which line a cut is measured: the cloth's own, or the edges that a block has once it lies apart. */
export type MeasuredFrom = 'cutEnd' | 'selvedge' | 'fold' | 'boxLeft' | 'boxLow' | 'blockLeft' | 'blockLow';

/** What one step does. Lengths are those of `CutLine`: along from the cut end, across from the edge measured from. */
export type StepWork =
  | {
      readonly kind: 'off';
      readonly spread: Segment['spread'];
      /** Where cut ends are squared, and where the stretch is cut off what comes after it. */
      readonly squareMm: readonly number[];
      readonly offMm: number | null;
    }
  | {
      readonly kind: 'straight';
      readonly block: number;
      /** What lies in the block. */
      readonly inside: readonly string[];
      readonly across: boolean;
      readonly from: MeasuredFrom;
      /** Taken off `at` for the length that is measured. */
      readonly startMm: number;
      readonly lines: readonly CutLine[];
      readonly parts: readonly Part[];
    }
  | { readonly kind: 'outline'; readonly tags: readonly string[]; readonly shared: readonly SharedLine[] }
  | { readonly kind: 'held'; readonly tags: readonly string[] };

export interface CutStep {
  /** From 1 through all of the lay. */
  readonly number: number;
  readonly work: StepWork;
  /** Tags of pieces that are off the cloth after it. */
  readonly frees: readonly string[];
}

/** How one stretch of cloth is cut up. */
export interface CuttingStretch {
  readonly segment: number;
  readonly spread: Segment['spread'];
  /** Whether cuts go through two layers. */
  readonly doubled: 'no' | 'partly' | 'yes';
  /** Taken off lengths along for what is measured: where a sheet begins that is drawn behind another. */
  readonly originMm: number;
  readonly pieces: readonly CutPiece[];
  readonly steps: readonly CutStep[];
  /** Where the cloth lies on a table shorter than itself; empty where it has room. */
  readonly places: readonly TablePlace[];
  /** The largest rectangles on which nothing lies, in the axes of the cuts. */
  readonly left: readonly Bounds[];
}

export interface CuttingOrder {
  readonly stretches: readonly CuttingStretch[];
  /** What remains of the length bought, over the whole width opened out; null where nothing does. */
  readonly lengthLeftMm: number | null;
  readonly widthMm: number;
}

/** What is smaller than this is told to no one as a remainder worth a look. */
const LEFT = { leastSideMm: 50, leastAreaMm2: 15_000, most: 4 } as const;

/** In which order a lay is cut, how it lies on the table meanwhile, and what is left of the cloth. */
export function cuttingOrder(lay: ClothLay, project: Project): CuttingOrder {
  const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
  const frame = clothFrame(lay, cloth);
  const held = heldBack(lay, project);
  const keys = new Map(layRows(lay, project).map((row) => [row.id, row.key]));
  let number = 0;
  const stretches = frame.stretches.map((stretch): CuttingStretch => {
    const { segment } = stretch;
    const doubled = segment.spread === 'single' ? 'no' : segment.spread === 'partial' ? 'partly' : 'yes';
    const originMm = frame.kind === 'remnant' ? stretch.fromMm : 0;
    const [x0, y0] = stretch.originMm;
    const pieces = segment.placed.map(
      (placed): CutPiece => ({
        tag: `${keys.get(layRowId(placed)) ?? ''}${placed.copy}`,
        key: placementKey(placed),
        pieceId: placed.pieceId,
        hand: placed.hand,
        held: held.has(placed.pieceId),
        outline: placed.outline.map(([x, y]): [number, number] => [x + x0, y + y0 - stretch.lowMm]),
      }),
    );
    const box = stretchBox(frame, stretch);
    const works =
      pieces.length === 0 ? [] : [...offWork(frame, stretch), ...cutWorks(frame, stretch, pieces, box)];
    const steps = works.map((work): CutStep => {
      number += 1;
      return { number, work, frees: freed(work) };
    });
    const along = pieces.map(({ tag, outline }) => {
      const { minX, maxX } = bounds(outline);
      return { tag, fromMm: minX, toMm: maxX };
    });
    return {
      segment: stretch.index,
      spread: segment.spread,
      doubled,
      originMm,
      pieces,
      steps,
      places: tablePlaces(along, stretch.fromMm, stretch.toMm, project.cutting.tableMm),
      left: pieces.length === 0 ? [] : leftOn(frame, stretch, pieces, box),
    };
  });
  const over = lay.buyMm - lay.usedMm;
  return {
    stretches,
    lengthLeftMm: frame.kind === 'roll' && lay.usedMm > 0 && over > 1 ? over : null,
    widthMm: frame.widthMm,
  };
}

/** Pieces that the cut list holds back in this lay's material. */
export function heldBack(lay: Pick<ClothLay, 'materialId'>, project: Project): ReadonlySet<string> {
  return new Set(
    project.cutList
      .filter((row) => row.heldBack && row.materialId === lay.materialId)
      .map(({ pieceId }) => pieceId),
  );
}

/** Beyond the fold at the far end of cloth folded crosswise, so that a piece against it is cut off it, mm. */
const BEYOND_FOLD_MM = 1;

function stretchBox(frame: ClothFrame, stretch: Stretch): Bounds {
  const isLast = stretch.index === frame.stretches.at(-1)?.index;
  const end = isLast ? stretch.toMm - frame.squaringEndMm : stretch.toMm;
  return {
    minX: frame.kind === 'roll' && stretch.index === 0 ? frame.squaringMm : stretch.fromMm,
    maxX: stretch.segment.spread === 'crosswise' ? end + BEYOND_FOLD_MM : end,
    minY: 0,
    maxY: stretch.highMm - stretch.lowMm,
  };
}

/** Squaring the cut ends, and cutting the stretch off what comes after it. */
function offWork(frame: ClothFrame, stretch: Stretch): StepWork[] {
  if (frame.kind !== 'roll') return [];
  const { spread } = stretch.segment;
  const isLast = stretch.index === frame.stretches.at(-1)?.index;
  const squareMm = [
    ...(stretch.index === 0 && frame.squaringMm > 0 ? [frame.squaringMm] : []),
    ...(isLast && frame.squaringEndMm > 0 ? [stretch.toMm - frame.squaringEndMm] : []),
  ];
  // Cloth that lies in two lengths was cut off before it was folded.
  const offMm = spread === 'crosswise' || spread === 'turned' ? null : stretch.toMm;
  return offMm === null && squareMm.length === 0 ? [] : [{ kind: 'off', spread, squareMm, offMm }];
}

/** Straight cuts of each part of the cloth, then what is cut out of it by outline; what is held back comes last. */
function cutWorks(frame: ClothFrame, stretch: Stretch, pieces: readonly CutPiece[], box: Bounds): StepWork[] {
  const { spread } = stretch.segment;
  const onFold = spread === 'folded' || spread === 'sequence' || spread === 'middle' || spread === 'partial';
  const origin = frame.kind === 'remnant' ? stretch.fromMm : 0;
  const cuts = blockCuts(pieces, { ...box, onFold, onFoldHigh: spread === 'middle' });
  const held = new Set(pieces.filter((piece) => piece.held).map(({ tag }) => tag));
  const works: StepWork[] = [];
  for (const section of sections(cuts)) {
    const tags: string[] = [];
    const shared: SharedLine[] = [];
    for (const cut of section) {
      if (cut.kind === 'straight') {
        const { block, inside, across, startMm, lines, parts } = cut;
        if (lines.length === 0) continue;
        works.push({
          kind: 'straight',
          block,
          inside,
          across,
          from: measuredFrom(frame, block, across, onFold),
          startMm: block > 0 ? startMm : across ? origin : 0,
          lines,
          parts,
        });
      } else {
        tags.push(...cut.tags.filter((tag) => !held.has(tag)));
        shared.push(...cut.shared.map((line) => (line.across ? { ...line, at: line.at - origin } : line)));
      }
    }
    if (tags.length > 0) works.push({ kind: 'outline', tags, shared });
  }
  if (held.size > 0) works.push({ kind: 'held', tags: [...held] });
  return works;
}

/** Cuts of the cloth itself first, then by the parts it falls into. */
function sections(cuts: readonly BlockCut[]): BlockCut[][] {
  const parent = new Map<number, number>();
  for (const cut of cuts) {
    if (cut.kind !== 'straight') continue;
    for (const part of cut.parts) if (part.kind === 'block') parent.set(part.number, cut.block);
  }
  const rootOf = (block: number): number => {
    let root = block;
    while ((parent.get(root) ?? 0) !== 0) root = parent.get(root) as number;
    return root;
  };
  const found = new Map<number, BlockCut[]>();
  for (const cut of cuts) {
    const root = rootOf(cut.block);
    found.set(root, [...(found.get(root) ?? []), cut]);
  }
  return [...found.values()];
}

function measuredFrom(frame: ClothFrame, block: number, across: boolean, onFold: boolean): MeasuredFrom {
  if (block > 0) return across ? 'blockLeft' : 'blockLow';
  if (frame.kind === 'remnant') return across ? 'boxLeft' : 'boxLow';
  if (across) return 'cutEnd';
  return onFold ? 'fold' : 'selvedge';
}

function freed(work: StepWork): string[] {
  switch (work.kind) {
    case 'straight':
      return work.parts.flatMap((part) => (part.kind === 'piece' && !part.held ? [part.tag] : []));
    case 'outline':
    case 'held':
      return [...work.tags];
    case 'off':
      return [];
  }
}

function leftOn(frame: ClothFrame, stretch: Stretch, pieces: readonly CutPiece[], box: Bounds): Bounds[] {
  const { outline, flaws = [] } = stretch.segment;
  const [x0, y0] = stretch.originMm;
  const shift = (ring: readonly (readonly [number, number])[]) =>
    ring.map(([x, y]): [number, number] => [x + x0, y + y0 - stretch.lowMm]);
  const edge = stretch.selvedgeMm;
  const { spread } = stretch.segment;
  const isFoldBelow = spread === 'folded' || spread === 'middle' || spread === 'partial';
  const usable =
    frame.kind === 'roll'
      ? { ...box, minY: isFoldBelow ? 0 : edge, maxY: spread === 'middle' ? box.maxY : box.maxY - edge }
      : box;
  return freeRectangles(usable, [...pieces.map((piece) => piece.outline), ...flaws.map(shift)], {
    ...LEFT,
    ...(outline ? { within: shift(outline) } : {}),
  });
}
