import type { Cloth, ClothLay, Segment } from '../exchange/project.ts';
import { bounds } from './intervals.ts';

/** One way of spreading along a part of the cloth, placed in the axes of the whole cloth. */
export interface Stretch {
  readonly index: number;
  readonly segment: Segment;
  /** Where it begins and ends along the cloth, from the cut end. Squaring and margins belong to the outer ones. */
  readonly fromMm: number;
  readonly toMm: number;
  /** The cloth's own edges across: the lower one is the fold where it is folded. */
  readonly lowMm: number;
  readonly highMm: number;
  /** The segment's own (0, 0) in the cloth's axes. */
  readonly originMm: readonly [along: number, across: number];
  /** Along the high edge, and along the low one where that is no fold. */
  readonly selvedgeMm: number;
}

/**
 * A cloth laid out for drawing. One set of axes for all its stretches: along from the cut end, across from the
 * lowest edge, y up. A folded stretch lies beside an open one as it does on the table: with its selvedges on the
 * same line, so that opening the cloth out unfolds it downwards.
 */
export interface ClothFrame {
  readonly kind: 'roll' | 'remnant';
  readonly stretches: readonly Stretch[];
  /** The part along the cloth that is drawn. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly depthMm: number;
  /** Whole width of the roll opened out. */
  readonly widthMm: number;
  /** Cut away at the start to make it square; margin after that. */
  readonly squaringMm: number;
  readonly usedMm: number;
  readonly buyMm: number;
}

/** Drawn where nothing was placed on a roll, so that the cloth itself can be seen. */
const EMPTY_STRETCH_MM = 300;

/** Works out where everything lies on the cloth; `only` keeps one stretch. */
export function clothFrame(lay: ClothLay, cloth: Cloth | undefined, only?: number): ClothFrame {
  const { segments } = lay;
  const remnant = cloth?.kind === 'remnant' || (cloth === undefined && segments[0]?.outline !== undefined);
  if (remnant) return remnantFrame(lay, cloth);
  const roll = cloth?.kind === 'roll' ? cloth : undefined;
  const width = Math.max(
    roll?.widthMm ?? 0,
    ...segments.map((s) => (s.spread === 'folded' ? 2 * s.widthMm : s.widthMm)),
  );
  const depthOf = (s: { spread: Segment['spread'] }) => (s.spread === 'folded' ? width / 2 : width);
  // A stretch drawn by itself needs no room beneath for an open one beside it.
  const measured = segments.filter((_, index) => only === undefined || index === only);
  const depth = measured.length > 0 ? Math.max(...measured.map(depthOf)) : width;
  const placedLength = segments.reduce((sum, s) => sum + s.lengthMm, 0);
  const ends = Math.max(0, lay.usedMm - placedLength);
  const squaring = Math.min(roll?.squaringMm ?? 0, ends);
  const lead = squaring + (ends - squaring) / 2;
  const used = Math.max(lay.usedMm, placedLength);
  const total = Math.max(used, lay.buyMm) || EMPTY_STRETCH_MM;
  let along = lead;
  const stretches = segments.map((segment, index): Stretch => {
    const low = depth - depthOf(segment);
    const from = along;
    along += segment.lengthMm;
    const inset = segment.spread === 'folded' ? 0 : Math.max(0, (width - segment.widthMm) / 2);
    return {
      index,
      segment,
      fromMm: index === 0 ? 0 : from,
      toMm: index === segments.length - 1 ? used : along,
      lowMm: low,
      highMm: depth,
      originMm: [from, low + inset],
      selvedgeMm: roll?.selvedgeMm ?? 0,
    };
  });
  const shown = only === undefined ? stretches : stretches.filter((s) => s.index === only);
  const last = shown.at(-1);
  return {
    kind: 'roll',
    stretches: shown,
    fromMm: shown[0]?.fromMm ?? 0,
    toMm: last && last.index < segments.length - 1 ? last.toMm : total,
    depthMm: depth,
    widthMm: width,
    squaringMm: squaring,
    usedMm: used,
    buyMm: lay.buyMm,
  };
}

function remnantFrame(lay: ClothLay, cloth: Cloth | undefined): ClothFrame {
  const outline = cloth?.kind === 'remnant' ? cloth.outline : (lay.segments[0]?.outline ?? []);
  const box = bounds(outline);
  const segment: Segment = lay.segments[0] ?? {
    spread: 'single',
    widthMm: box.maxY - box.minY,
    lengthMm: box.maxX - box.minX,
    outline,
    flaws: cloth?.kind === 'remnant' ? cloth.flaws : [],
    placed: [],
  };
  const length = box.maxX - box.minX;
  const depth = box.maxY - box.minY;
  return {
    kind: 'remnant',
    stretches: [
      {
        index: 0,
        segment: { ...segment, outline },
        fromMm: 0,
        toMm: length,
        lowMm: 0,
        highMm: depth,
        originMm: [-box.minX, -box.minY],
        selvedgeMm: 0,
      },
    ],
    fromMm: 0,
    toMm: length,
    depthMm: depth,
    widthMm: depth,
    squaringMm: 0,
    usedMm: length,
    buyMm: length,
  };
}
