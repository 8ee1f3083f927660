import type { Outline, Placement } from '../packing/types.ts';
import { snapDegrees } from './poses.ts';
import type { Band, RollCloth } from './types.ts';

/** How one stretch of cloth lies on the table. */
export type StretchSpread = 'single' | 'folded' | 'crosswise' | 'turned' | 'middle' | 'partial';

/**
 * A part of a stretch's width that pieces may lie on, across in the stretch's own axes. What lies on the `high` fold is
 * packed as it is seen from that fold: y runs down from `to`, so that the fold is at y = 0 there too. What lies on a
 * crosswise fold, at the far `end`, is packed as seen from there: x runs back from the fold.
 */
export interface Lane {
  readonly id: string;
  readonly from: number;
  readonly to: number;
  readonly layers: 1 | 2;
  readonly fold: 'none' | 'low' | 'high' | 'end';
}

/** Lanes narrower than this hold nothing, in mm. */
const LEAST_LANE_MM = 1;

/** How many times the stretch's length is taken from the roll. */
export const lengthsOfCloth = (spread: StretchSpread): 1 | 2 =>
  spread === 'crosswise' || spread === 'turned' ? 2 : 1;

/** A part of the table on which the layers are the same: what of it may be cut, and where each layer comes from. */
interface Part {
  readonly from: number;
  readonly to: number;
  readonly fold: Lane['fold'];
  /** For each layer, from y on the table to y on the roll: `start + step · y`. */
  readonly layers: readonly { readonly start: number; readonly step: 1 | -1 }[];
}

/** How far across, from y = 0, a stretch may be laid on, in mm. */
export function usableWidth(roll: RollCloth, spread: StretchSpread, depthMm = 0): number {
  return Math.max(...partsOf(roll, spread, depthMm).map(({ to }) => to));
}

/**
 * The lanes of a stretch, from its lower edge up. A stretch without a fold at its lower edge has y = 0 where its
 * usable cloth begins; one with a fold has it there. What is faded in any layer is left out.
 */
export function lanesOf(roll: RollCloth, spread: StretchSpread, depthMm = 0): Lane[] {
  const lanes: Lane[] = [];
  for (const part of partsOf(roll, spread, depthMm)) {
    const faded = part.layers.flatMap(({ start, step }) =>
      roll.faded.map(({ from, to }): Band => {
        const ends = [(from - start) * step, (to - start) * step];
        return { from: Math.min(...ends), to: Math.max(...ends) };
      }),
    );
    for (const { from, to } of without({ from: part.from, to: part.to }, faded)) {
      if (to - from < LEAST_LANE_MM) continue;
      const fold =
        (part.fold === 'low' && from > part.from) || (part.fold === 'high' && to < part.to)
          ? 'none'
          : part.fold;
      const layers = part.layers.length === 2 ? 2 : 1;
      lanes.push({ id: `${roll.id}.${lanes.length}`, from, to, layers, fold });
    }
  }
  // One lane bears the cloth's own name: nothing else can be meant.
  return lanes.length === 1 ? lanes.map((lane) => ({ ...lane, id: roll.id })) : lanes;
}

function partsOf(roll: RollCloth, spread: StretchSpread, depthMm: number): Part[] {
  const { wholeWidth: whole, edge, rules } = roll;
  const usable = whole - 2 * edge;
  const up = { start: 0, step: 1 } as const;
  // Pieces on either side of an edge of cloth keep their distance across it.
  const apart = Math.max(edge, rules.gap);
  switch (spread) {
    case 'single':
      return [{ from: 0, to: usable, fold: 'none', layers: [{ start: edge, step: 1 }] }];
    case 'folded': {
      const depth = whole / 2 - edge;
      const layers = [
        { start: whole / 2, step: 1 },
        { start: whole / 2, step: -1 },
      ] as const;
      return [{ from: 0, to: depth, fold: 'low', layers }];
    }
    case 'crosswise':
    case 'turned': {
      // Turned end for end, the upper layer also changes its selvedges.
      const upper =
        spread === 'turned'
          ? ({ start: whole - edge, step: -1 } as const)
          : { start: edge, step: 1 as const };
      const fold = spread === 'crosswise' ? 'end' : 'none';
      return [{ from: 0, to: usable, fold, layers: [{ start: edge, step: 1 }, upper] }];
    }
    case 'middle': {
      const table = whole / 2;
      const depth = whole / 4 - Math.max(edge, rules.gap / 2);
      const quarter = whole / 4;
      const lower = { start: quarter, step: 1 } as const;
      return [
        { from: 0, to: depth, fold: 'low', layers: [lower, { start: quarter, step: -1 }] },
        {
          from: table - depth,
          to: table,
          fold: 'high',
          layers: [lower, { start: whole + quarter, step: -1 }],
        },
      ];
    }
    case 'partial': {
      // The lower selvedge is folded up and over, so that its edge lies at `upper` from the fold.
      const upper = depthMm + edge;
      const lower = { ...up, start: upper };
      return [
        { from: 0, to: depthMm, fold: 'low', layers: [lower, { start: upper, step: -1 }] },
        { from: depthMm + apart, to: whole - upper - edge, fold: 'none', layers: [lower] },
      ];
    }
  }
}

/** What is left of `band` beside `taken`, in order. */
function without(band: Band, taken: readonly Band[]): Band[] {
  const left: Band[] = [];
  let from = band.from;
  for (const { from: start, to: end } of [...taken].sort((a, b) => a.from - b.from)) {
    if (end <= from || start >= band.to) continue;
    if (start > from) left.push({ from, to: start });
    from = Math.max(from, end);
  }
  if (from < band.to) left.push({ from, to: band.to });
  return left;
}

/**
 * The roll's flaws as they lie on a lane, in the lane's own axes: those of all its layers. `startMm` of cloth lie
 * before the stretch. RangeError for cloth in two lengths, of which nobody knows what lies where before it is cut.
 */
export function flawsOn(
  roll: RollCloth,
  spread: StretchSpread,
  lane: Lane,
  startMm: number,
  depthMm = 0,
): Outline[] {
  if (roll.flaws.length === 0) return [];
  if (lengthsOfCloth(spread) === 2) throw new RangeError(`roll ${roll.id}: flaws on cloth spread ${spread}`);
  const part = partsOf(roll, spread, depthMm).find(({ from, to }) => from <= lane.from && to >= lane.to);
  const toLane = (y: number): number => (lane.fold === 'high' ? lane.to - y : y - lane.from);
  const found: Outline[] = [];
  for (const { start, step } of part?.layers ?? []) {
    for (const flaw of roll.flaws) {
      const ring = flaw.map(([x, y]): [number, number] => [x - startMm, toLane((y - start) * step)]);
      const ys = ring.map(([, y]) => y);
      if (Math.max(...ys) <= 0 || Math.min(...ys) >= lane.to - lane.from) continue;
      if (Math.max(...ring.map(([x]) => x)) <= 0) continue;
      // A reflection turns the ring round.
      const turnsRound = (step === -1) !== (lane.fold === 'high');
      found.push(turnsRound ? ring.reverse() : ring);
    }
  }
  return found;
}

/** Where a copy lies that was packed on a lane, in the axes of the stretch, which is `lengthMm` long. */
export function onStretch(lane: Lane | undefined, packed: LyingCopy, lengthMm: number): LyingCopy {
  return betweenLaneAndStretch(lane, packed, lengthMm, 1);
}

/** The inverse of `onStretch`: how a copy that lies so on the stretch is packed on a lane of it. */
export function onLane(lane: Lane | undefined, lying: LyingCopy, lengthMm: number): LyingCopy {
  return betweenLaneAndStretch(lane, lying, lengthMm, -1);
}

type LyingCopy = Pick<Placement, 'rotation' | 'mirrored' | 'x' | 'y'>;

/** `way`: 1 from the lane to the stretch, −1 back. Turning over is its own inverse, being moved is not. */
function betweenLaneAndStretch(
  lane: Lane | undefined,
  { rotation, mirrored, x, y }: LyingCopy,
  lengthMm: number,
  way: 1 | -1,
): LyingCopy {
  if (!lane) return { rotation, mirrored, x, y };
  const shift = way * lane.from;
  switch (lane.fold) {
    case 'high':
      // A reflection across the cloth is a mirroring along it and half a turn.
      return { rotation: snapDegrees(180 - rotation), mirrored: !mirrored, x, y: lane.to - y };
    case 'end':
      return { rotation: snapDegrees(-rotation), mirrored: !mirrored, x: lengthMm - x, y: y + shift };
    default:
      return { rotation, mirrored, x, y: y + shift };
  }
}
