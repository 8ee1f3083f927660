import { difference, intersection, union } from '../../nesting/geometry/boolean.ts';
import { offsetRing } from '../../nesting/geometry/offset.ts';
import type { Box, Polygon, Ring } from '../../nesting/geometry/points.ts';
import { boundingBox, cleanRing, signedArea } from '../../nesting/geometry/rings.ts';
import { washed } from '../cloths/measures.ts';
import type { Cloth, ClothLay, Lane, Segment } from '../exchange/project.ts';
import { type LeastRectangle, largestRectangles } from './largestRectangles.ts';

/** A piece of cloth left over, x along the cloth, in the axes of the segment it comes from, right side up. */
export interface Offcut {
  readonly outline: Ring;
  readonly holes: readonly Ring[];
  readonly areaMm2: number;
  /** The largest first; the first is what makes it worth keeping. */
  readonly rectangles: readonly Box[];
}

/** What a lay leaves once it is cut. */
export interface Leavings {
  readonly offcuts: readonly Offcut[];
  /** Length of a roll that is not touched, mm as bought; 0 where nothing is known of it, or for remnants. */
  readonly restOfRollMm: number;
  /** Of several sheets alike, those that nothing lies on. */
  readonly untouchedSheets: number;
}

/** Rectangles told of each offcut. */
const MOST_RECTANGLES = 3;
/** Strips narrower than this part of the least side are cut away from an offcut's outline: no one sews them. */
const SLIVER_SHARE = 0.45;

/**
 * What is left of a cloth when a lay is cut: each part in which a rectangle of the least size fits, as an outline
 * without the slivers between pieces. What lies double gives two, and what lies on a fold is opened out. Places that
 * are held back belong to their pieces. Of a roll without a known end, the length bought counts.
 * @throws RangeError where a side of the least rectangle is not greater than zero
 */
export function leavingsOf(lay: ClothLay, cloth: Cloth, least: LeastRectangle): Leavings {
  if (!(least.shortMm > 0 && least.longMm > 0))
    throw new RangeError(
      `leavingsOf: sides must be greater than zero, got ${least.shortMm} and ${least.longMm}`,
    );
  const sides: LeastRectangle = {
    shortMm: Math.min(least.shortMm, least.longMm),
    longMm: Math.max(least.shortMm, least.longMm),
  };
  const { along } = washed(cloth);
  const isEndless = cloth.kind === 'roll' && cloth.availableMm === null;
  const spare = isEndless ? Math.max(0, lay.buyMm - lay.usedMm) * along : 0;
  const offcuts = lay.segments.flatMap((segment, i) => {
    const isLast = i === lay.segments.length - 1;
    return offcutsOf(segment, isLast ? spare : 0, sides);
  });
  const used = lay.segments.filter(({ placed }) => placed.length > 0).length;
  const restMm = cloth.kind === 'roll' && cloth.availableMm !== null ? cloth.availableMm - lay.usedMm : 0;
  return {
    offcuts: offcuts.sort((a, b) => b.areaMm2 - a.areaMm2),
    restOfRollMm: restMm >= sides.shortMm ? restMm : 0,
    untouchedSheets: cloth.kind === 'remnant' ? Math.max(0, cloth.quantity - used) : 0,
  };
}

function offcutsOf(segment: Segment, spareMm: number, least: LeastRectangle): Offcut[] {
  // Untouched sheets are whole and go back as they are.
  if (segment.outline && segment.placed.length === 0) return [];
  const taken = [...(segment.flaws ?? []), ...segment.placed.map(({ outline }) => outline)];
  return lanesOf(segment).flatMap((lane) => {
    const ground = segment.outline ?? rectangle(0, lane.fromMm, segment.lengthMm + spareMm, lane.toMm);
    return difference([ground], taken)
      .flatMap((part) => withoutSlivers(part, SLIVER_SHARE * least.shortMm))
      .flatMap((part) => opened(part, segment, lane))
      .flatMap((part) => offcut(part, least));
  });
}

function rectangle(x0: number, y0: number, x1: number, y1: number): Ring {
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
}

function lanesOf({ lanes, spread, widthMm }: Segment): readonly Lane[] {
  if (lanes) return lanes;
  const isDoubled = spread === 'folded' || spread === 'crosswise' || spread === 'turned';
  const layers = isDoubled ? 2 : 1;
  return [{ fromMm: 0, toMm: widthMm, layers, fold: spread === 'folded' ? 'low' : 'none' }];
}

/** The part without what is narrower than `narrow`: drawn in and let out again, never beyond what it was. */
function withoutSlivers(part: Polygon, narrow: number): Polygon[] {
  const half = narrow / 2;
  const inner = offsetRing(part.outer, -half, { join: 'miter' });
  const holes = part.holes.flatMap((hole) => offsetRing(hole, half, { join: 'miter' }));
  const core = holes.length > 0 ? difference(inner, holes) : inner.map((outer) => ({ outer, holes: [] }));
  return core.flatMap((one) => {
    const outer = offsetRing(one.outer, half, { join: 'miter' });
    const closed = one.holes.flatMap((hole) => offsetRing(hole, -half, { join: 'miter' }));
    const grown = closed.length > 0 ? difference(outer, closed).flatMap(flat) : outer;
    return intersection(flat(part), grown);
  });
}

/** A polygon as rings whose winding tells what is inside. */
function flat({ outer, holes }: Polygon): Ring[] {
  return [outer, ...holes];
}

/** How far from the fold a part may end and still be in one piece with its other layer, mm. */
const ON_FOLD_MM = 0.01;

/** What a part becomes when the cloth is opened: one piece over the fold, or one of each layer. */
function opened(part: Polygon, segment: Segment, { layers, fold, fromMm, toMm }: Lane): Polygon[] {
  if (layers === 1) return [part];
  const box = boundingBox(part.outer);
  if (fold !== 'none') {
    const at = fold === 'low' ? fromMm : toMm;
    const other = mirrored(part, ([x, y]) => [x, 2 * at - y]);
    const isOnFold = fold === 'low' ? box.minY <= at + ON_FOLD_MM : box.maxY >= at - ON_FOLD_MM;
    return isOnFold ? union([...flat(part), ...flat(other)]) : [part, other];
  }
  // Folded crosswise the upper layer runs the other way along; turned end for end it runs the same way again.
  const other = mirrored(part, ([x, y]) => (segment.spread === 'turned' ? [x, -y] : [-x, y]));
  return [part, other];
}

function mirrored({ outer, holes }: Polygon, move: (point: Ring[number]) => Ring[number]): Polygon {
  const turned = (ring: Ring): Ring => ring.map(move).toReversed();
  return { outer: turned(outer), holes: holes.map(turned) };
}

function offcut(part: Polygon, least: LeastRectangle): Offcut[] {
  const outline = cleanRing(part.outer);
  const holes = part.holes.map((hole) => cleanRing(hole)).filter((hole) => hole.length >= 3);
  if (outline.length < 3) return [];
  const rectangles = largestRectangles({ outer: outline, holes }, least, MOST_RECTANGLES);
  if (rectangles.length === 0) return [];
  const areaMm2 = holes.reduce(
    (area, hole) => area - Math.abs(signedArea(hole)),
    Math.abs(signedArea(outline)),
  );
  return [{ outline, holes, areaMm2, rectangles }];
}
