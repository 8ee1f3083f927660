import { edgeLossMm, lengthsTaken, washed, washedRing } from '../cloths/measures.ts';
import type { Border, Cloth, ClothLay, Placed, Remnant, Repeat, Segment } from '../exchange/project.ts';
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
  /** So much more cloth than table lies before it: of a stretch in two lengths one lies on the other. */
  readonly aheadMm: number;
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
  /** Whole width of the roll opened out, washed. */
  readonly widthMm: number;
  /** Cut away at the start to make it square; margin after that. */
  readonly squaringMm: number;
  /** The same at the far end. */
  readonly squaringEndMm: number;
  /** Where the cut ends, as it lies on the table, and where what is bought ends. */
  readonly usedMm: number;
  readonly buyMm: number;
  /** Length cut off as it is bought: unfolded, and before washing. */
  readonly cutMm: number;
  /** How what is drawn ends at its far end, where that is no cut end: in a crosswise fold, or one cut open. */
  readonly endsIn: 'fold' | 'cutFold' | null;
  /** What recurs on the cloth, to be drawn under the pieces where it lies single. */
  readonly repeat: FrameRepeat | null;
  /** A border along an edge or both, to be drawn likewise. */
  readonly border: Border | null;
  /** Drawn with the wrong side up where the cloth lies single: mirrored as a whole. */
  readonly seenFromBack: boolean;
}

/** A repeat with its first point measured from the cut end, and across from where pieces may lie on a single stretch. */
export type FrameRepeat = Pick<Repeat, 'alongMm' | 'acrossMm' | 'kind' | 'look' | 'skewDeg'> & {
  readonly originMm: readonly [along: number, across: number];
};

function repeatOn(cloth: Cloth | undefined, edgeMm: number): FrameRepeat | null {
  if (!cloth?.repeat) return null;
  const { alongMm, acrossMm, kind, look, skewDeg, fromEndMm, fromSelvedgeMm } = cloth.repeat;
  return { alongMm, acrossMm, kind, look, skewDeg, originMm: [fromEndMm, fromSelvedgeMm - edgeMm] };
}

/** Drawn where nothing was placed on a roll, so that the cloth itself can be seen. */
const EMPTY_STRETCH_MM = 300;

/** Works out where everything lies on the cloth; `only` keeps one stretch. */
export function clothFrame(lay: ClothLay, cloth: Cloth | undefined, only?: number): ClothFrame {
  const back = cloth?.cutFromBack === true;
  const segments = back ? lay.segments.map(seenFromBack) : lay.segments;
  const remnant = cloth?.kind === 'remnant' || (cloth === undefined && segments[0]?.outline !== undefined);
  if (remnant) return remnantFrame(segments, cloth, back, only);
  const roll = cloth?.kind === 'roll' ? cloth : undefined;
  const { along: left, across } = roll ? washed(roll) : { along: 1, across: 1 };
  const width = Math.max((roll?.widthMm ?? 0) * across, ...segments.map(wholeWidthFrom));
  const edge = roll ? edgeLossMm(roll) * across + roll.edgeMarginMm : 0;
  const depthOf = ({ spread, widthMm }: Segment): number => {
    if (spread === 'partial') return Math.min(width, widthMm + edge);
    return spread === 'folded' || spread === 'middle' ? width / 2 : width;
  };
  // A stretch drawn by itself needs no room beneath for an open one beside it.
  const measured = segments.filter((_, index) => only === undefined || index === only);
  const depth = measured.length > 0 ? Math.max(...measured.map(depthOf)) : width;
  const onTable = segments.reduce((sum, s) => sum + s.lengthMm, 0);
  const ofCloth = segments.reduce((sum, s) => sum + s.lengthMm * lengthsTaken(s.spread), 0);
  const ends = Math.max(0, (lay.washedMm ?? lay.usedMm) - ofCloth);
  const squaring = Math.min(roll?.squaringMm ?? 0, ends);
  const squaringEnd = Math.min(roll?.squaringEndMm ?? 0, ends - squaring);
  const margin = (ends - squaring - squaringEnd) / 2;
  const lead = squaring + margin;
  // Of cloth folded crosswise both ends lie at the start: nothing is cut off at the fold.
  const endsInFold = segments.length > 0 && lengthsTaken(segments.at(-1)!.spread) === 2;
  const used = lead + onTable + (endsInFold ? 0 : margin + squaringEnd);
  const total = used > 0 && lay.buyMm > 0 ? used + Math.max(0, lay.buyMm - lay.usedMm) * left : used;
  let at = lead;
  let ahead = 0;
  const stretches = segments.map((segment, index): Stretch => {
    const low = depth - depthOf(segment);
    const from = at;
    const aheadMm = ahead;
    at += segment.lengthMm;
    ahead += (lengthsTaken(segment.spread) - 1) * segment.lengthMm;
    const isFoldedBelow = ['folded', 'middle', 'partial'].includes(segment.spread);
    const inset = isFoldedBelow ? 0 : Math.max(0, (width - segment.widthMm) / 2);
    return {
      index,
      segment,
      fromMm: index === 0 ? 0 : from,
      toMm: index === segments.length - 1 ? used : at,
      lowMm: low,
      highMm: depth,
      aheadMm,
      originMm: [from, low + inset],
      selvedgeMm: roll ? edgeLossMm(roll) * across : 0,
    };
  });
  const shown = only === undefined ? stretches : stretches.filter((s) => s.index === only);
  const last = shown.at(-1);
  const goesOn = last !== undefined && last.index < segments.length - 1;
  const foldedEnd = FOLDED_ENDS[last?.segment.spread ?? 'single'] ?? null;
  return {
    kind: 'roll',
    stretches: shown,
    fromMm: shown[0]?.fromMm ?? 0,
    toMm: goesOn ? last.toMm : total || EMPTY_STRETCH_MM,
    depthMm: depth,
    widthMm: width,
    squaringMm: squaring,
    squaringEndMm: endsInFold ? 0 : squaringEnd,
    usedMm: used,
    buyMm: total,
    cutMm: lay.usedMm,
    endsIn: goesOn || total <= used + 0.01 ? foldedEnd : null,
    repeat: repeatOn(roll, edge),
    border: roll?.border ?? null,
    seenFromBack: back,
  };
}

const FOLDED_ENDS: Readonly<Partial<Record<Segment['spread'], 'fold' | 'cutFold'>>> = {
  crosswise: 'fold',
  turned: 'cutFold',
};

/** Least width of the roll that a segment can come from. */
const wholeWidthFrom = ({ spread, widthMm }: Segment): number =>
  spread === 'folded' || spread === 'middle' ? 2 * widthMm : widthMm;

/** A segment as it is seen with the wrong side of a single layer up: mirrored across, the cut end where it was. */
function seenFromBack(segment: Segment): Segment {
  if (segment.spread !== 'single') return segment;
  // A remnant turns over about its own lower edge; where it then lies the frame finds out.
  const high = segment.outline ? 0 : segment.widthMm;
  const over = (ring: Placed['outline']): Placed['outline'] =>
    ring.map(([x, y]) => [x, high - y] as const).reverse();
  return {
    ...segment,
    ...(segment.outline ? { outline: over(segment.outline) } : {}),
    ...(segment.flaws ? { flaws: segment.flaws.map(over) } : {}),
    ...(segment.lanes
      ? {
          lanes: [...segment.lanes]
            .reverse()
            .map((lane) => ({ ...lane, fromMm: high - lane.toMm, toMm: high - lane.fromMm })),
        }
      : {}),
    placed: segment.placed.map((placed) => ({
      ...placed,
      outline: over(placed.outline),
      holes: placed.holes.map(over),
      rotation: (((180 - placed.rotation) % 360) + 360) % 360,
      mirrored: !placed.mirrored,
      y: high - placed.y,
      grainDeg: -placed.grainDeg,
      topDeg: -placed.topDeg,
    })),
  };
}

/** Sheets of one remnant are drawn so far apart, mm on the cloth. */
const BETWEEN_SHEETS_MM = 40;

function remnantFrame(
  segments: readonly Segment[],
  cloth: Cloth | undefined,
  back: boolean,
  only: number | undefined,
): ClothFrame {
  const empty = cloth?.kind === 'remnant' ? emptySheet(cloth, back) : undefined;
  const all = segments.length > 0 || !empty ? segments : [empty];
  const outline = all[0]?.outline ?? [];
  const box = bounds(outline);
  const length = box.maxX - box.minX;
  const depth = box.maxY - box.minY;
  const stretches = all.map((segment, index): Stretch => {
    const from = only === undefined ? index * (length + BETWEEN_SHEETS_MM) : 0;
    return {
      index,
      segment: { ...segment, outline: segment.outline ?? outline },
      fromMm: from,
      toMm: from + length,
      lowMm: 0,
      highMm: depth,
      aheadMm: 0,
      originMm: [from - box.minX, -box.minY],
      selvedgeMm: 0,
    };
  });
  const shown = only === undefined ? stretches : stretches.filter(({ index }) => index === only);
  const to = shown.at(-1)?.toMm ?? length;
  return {
    kind: 'remnant',
    stretches: shown,
    fromMm: 0,
    toMm: to,
    depthMm: depth,
    widthMm: depth,
    squaringMm: 0,
    squaringEndMm: 0,
    usedMm: to,
    buyMm: to,
    cutMm: to,
    endsIn: null,
    repeat: repeatOn(cloth, 0),
    border: cloth?.border ?? null,
    seenFromBack: back,
  };
}

/** A remnant on which nothing lies. */
function emptySheet(cloth: Remnant, back: boolean): Segment {
  const outline = washedRing(cloth, cloth.outline);
  const box = bounds(outline);
  const segment: Segment = {
    spread: 'single',
    widthMm: box.maxY - box.minY,
    lengthMm: box.maxX - box.minX,
    outline,
    flaws: cloth.flaws.map((flaw) => washedRing(cloth, flaw)),
    placed: [],
  };
  return back ? seenFromBack(segment) : segment;
}
