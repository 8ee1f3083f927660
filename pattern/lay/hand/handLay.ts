import type { Stretch } from '../../../nesting/cloth/index.ts';
import { boundingBox } from '../../../nesting/geometry/rings.ts';
import { placeRing } from '../../../nesting/geometry/transforms.ts';
import type { Item, Layout, Placement, Pose, Problem } from '../../../nesting/index.ts';
import { type Fault, verify } from '../../../nesting/verify/index.ts';
import type { Cloth, ClothLay, Placed, Project } from '../../exchange/project.ts';
import { assemble } from '../assemble.ts';
import { type CutDemand, possibleDemands } from '../demands.ts';
import { spreadingOf } from '../spreading.ts';
import { asSeen, type PlaceOnCloth, packedAt } from './lanes.ts';

export type { PlaceOnCloth } from './lanes.ts';

/**
 * A finished lay taken up again to be changed by hand: the packing problems of its stretches, and where each copy
 * lies. What was laid by hand is held against the same rules, by the same checker, as what the engine lays. Copies
 * that are on no cloth are parked: they are among `unplaced` of their stretch's layout.
 */
export interface HandLay {
  readonly cloth: Cloth;
  readonly materialId: string;
  readonly spread: ClothLay['spread'];
  readonly arrangement: ClothLay['arrangement'];
  readonly demands: readonly CutDemand[];
  readonly stretches: readonly Stretch[];
  /** One a stretch, in the same order. */
  readonly layouts: readonly Layout[];
  /** Copies that stay where they are when the rest is packed anew. */
  readonly locked: readonly CopyId[];
}

/** One copy of an item in a stretch. */
export interface CopyId {
  readonly stretch: number;
  readonly item: string;
  readonly copy: number;
}

export const isSameCopy = (a: CopyId, b: CopyId): boolean =>
  a.stretch === b.stretch && a.item === b.item && a.copy === b.copy;

/** Why a lay cannot be taken up: it was kept by an earlier release, or what it was made from is no longer there. */
export type NotTakenUp = 'tooOld' | 'changed';

/** Positions closer than this are the same, mm. */
const SAME_MM = 1e-6;

/** Takes a lay up. Pieces, counts, cloth and rules must be those it was made from. Never throws. */
export function takeUp(project: Project, lay: ClothLay): HandLay | NotTakenUp {
  if (lay.wanted === undefined) return 'tooOld';
  const cloth = project.cloths.find(({ id }) => id === lay.clothId);
  if (!cloth) return 'changed';
  const known = possibleDemands(project, lay.materialId);
  const demands: CutDemand[] = [];
  for (const { id, plain, mirrored } of lay.wanted) {
    const cut = known.get(id);
    if (!cut) return 'changed';
    demands.push({ ...cut, demand: { ...cut.demand, plain, mirrored } });
  }
  let stretches: readonly Stretch[];
  try {
    // Where flaws come to lie on what is opened out depends on the length before it.
    const startMm = lay.segments.slice(0, -1).reduce((sum, s) => sum + s.lengthMm, 0);
    const spreading = spreadingOf(cloth, demands, lay.spread, { arrangement: lay.arrangement, startMm });
    stretches = spreading?.stretches ?? [];
  } catch (error) {
    // A spread that the cloth may no longer have.
    if (error instanceof RangeError) return 'changed';
    throw error;
  }
  const isRemnant = cloth.kind === 'remnant';
  const segments = [...lay.segments];
  const layouts: Layout[] = [];
  const locked: CopyId[] = [];
  for (const [index, stretch] of stretches.entries()) {
    const used = new Map<string, number>();
    const placements: Placement[] = [];
    // Each sheet is a segment of its own. A stretch without a segment came into being when a piece was handed over
    // from another cloth: nothing lies there.
    const at = segments.findIndex(({ spread }) => spread === stretch.spread);
    const taken = isRemnant ? segments.splice(0) : at < 0 ? [] : segments.splice(at, 1);
    for (const [sheet, { placed, lengthMm }] of taken.entries()) {
      for (const entry of placed) {
        if (entry.item === undefined) return 'tooOld';
        const item = itemOf(stretch, entry.item);
        const copy = used.get(entry.item) ?? 0;
        if (!item || copy >= item.quantity || !hasOutline(item, entry)) return 'changed';
        used.set(entry.item, copy + 1);
        const placement = packedAt(stretch, item, copy, { ...entry, sheet }, lengthMm);
        if (!placement) return 'changed';
        placements.push(placement);
        if (entry.locked) locked.push({ stretch: index, item: entry.item, copy });
      }
    }
    layouts.push(layoutOf(stretch, placements));
  }
  if (segments.some(({ placed }) => placed.length > 0)) return 'changed';
  const { materialId, spread, arrangement } = lay;
  return { cloth, materialId, spread, arrangement, demands, stretches, layouts, locked };
}

/** Whether a placed piece still has the outline of its item: a piece that was changed since lies there no more. */
function hasOutline(item: Item, { outline, rotation, mirrored, x, y }: Placed): boolean {
  const now = boundingBox(placeRing(item.outline, rotation, mirrored, x, y));
  const then = boundingBox(outline);
  return (['minX', 'minY', 'maxX', 'maxY'] as const).every((key) => Math.abs(now[key] - then[key]) < 1e-3);
}

/** The lay as the project keeps it, with figures, drawing and verdict of how things lie now. */
export function putDown(hand: HandLay, reasonFor: (faults: readonly HandFault[]) => string): ClothLay {
  const faults = handFaults(hand);
  const parked = hand.layouts.some(({ unplaced }) => unplaced.length > 0);
  const lay = assemble({
    materialId: hand.materialId,
    cloth: hand.cloth,
    spread: hand.spread,
    ...(hand.arrangement === undefined ? {} : { arrangement: hand.arrangement }),
    demands: hand.demands,
    filled: hand.stretches.map((stretch, i) => ({ stretch, layout: hand.layouts[i] as Layout })),
    verdict: faults.length > 0 || parked ? 'not found' : 'fits',
    ...(faults.length > 0 ? { reason: reasonFor(faults) } : {}),
  });
  const locked = new Map(hand.locked.map((id) => [segmentOf(hand, id), [] as Placement[]]));
  for (const id of hand.locked) {
    const at = placementOf(hand, id);
    if (at) locked.get(segmentOf(hand, id))?.push(at);
  }
  const isLocked = (segment: number, placed: Placed): boolean =>
    (locked.get(segment) ?? []).some((at) => at.item === placed.item && isSamePlace(at, placed));
  return {
    ...lay,
    segments: lay.segments.map((segment, index) => ({
      ...segment,
      placed: segment.placed.map((placed) =>
        isLocked(index, placed) ? { ...placed, locked: true } : placed,
      ),
    })),
  };
}

type At = Pick<Placement, 'x' | 'y'>;

/** Whether two places are the same, but for rounding. */
export const isSamePlace = (a: At, b: At): boolean =>
  Math.abs(a.x - b.x) < SAME_MM && Math.abs(a.y - b.y) < SAME_MM;

/** Which segment of the lay, once put down, a copy lies on: its stretch, or its sheet among those in use. */
export function segmentOf(hand: HandLay, { stretch, item, copy }: CopyId): number {
  if (hand.cloth.kind === 'roll') return stretch;
  const placements = hand.layouts[stretch]?.placements ?? [];
  const sheet = placements.find((at) => at.item === item && at.copy === copy)?.containerCopy ?? 0;
  const used = new Set(placements.map(({ containerCopy }) => containerCopy).filter((other) => other < sheet));
  return used.size;
}

/** A broken rule, with the copies it is about. */
export interface HandFault {
  readonly kind: Fault['kind'];
  readonly copies: readonly CopyId[];
  /** By how much, in mm; 0 where no amount makes sense. */
  readonly amountMm: number;
}

/** Every rule that the lay breaks, by the checker that the engine's own layouts pass. */
export function handFaults(hand: HandLay): HandFault[] {
  return hand.stretches.flatMap(({ problem }, stretch) =>
    verify(problem, hand.layouts[stretch] as Layout)
      .filter(({ kind }) => kind !== 'length')
      .map(({ kind, copies, amountMm }) => ({
        kind,
        amountMm,
        copies: copies.map(({ item, copy }) => ({ stretch, item, copy })),
      })),
  );
}

/** Where a copy lies as one sees it; null if it is parked. */
export function placementOf(hand: HandLay, id: CopyId): (Placement & PlaceOnCloth) | null {
  const [stretch, layout] = [hand.stretches[id.stretch], hand.layouts[id.stretch]];
  const packed = packedOf(hand, id);
  if (!stretch || !layout || !packed) return null;
  return { ...asSeen(stretch, packed, layout.length), sheet: packed.containerCopy };
}

/** The lay with a copy put elsewhere, or parked (`null`). What else lies there is not asked: see `handFaults`. */
export function withCopyAt(hand: HandLay, id: CopyId, place: PlaceOnCloth | null): HandLay {
  return withCopiesAt(hand, [{ id, place }]);
}

/** The same for several copies of one stretch at once: all places are meant as the stretch lies now. */
export function withCopiesAt(
  hand: HandLay,
  moves: readonly { readonly id: CopyId; readonly place: PlaceOnCloth | null }[],
): HandLay {
  const index = moves[0]?.id.stretch ?? 0;
  const [stretch, layout] = [hand.stretches[index], hand.layouts[index]];
  if (!stretch || !layout) throw new RangeError(`the lay has no stretch ${index}`);
  const isMoved = ({ item, copy }: Placement): boolean =>
    moves.some(({ id }) => id.item === item && id.copy === copy);
  const moved = moves.flatMap(({ id, place }) => {
    const item = itemOf(stretch, id.item);
    const packed = item && place && packedAt(stretch, item, id.copy, place, layout.length);
    return packed ? [packed] : [];
  });
  const next = layoutOf(stretch, [...layout.placements.filter((other) => !isMoved(other)), ...moved]);
  return { ...hand, layouts: hand.layouts.map((entry, i) => (i === index ? next : entry)) };
}

/** Locks a copy where it is, or lets it go again. */
export function withLock(hand: HandLay, id: CopyId, isLocked: boolean): HandLay {
  const others = hand.locked.filter((other) => !isSameCopy(other, id));
  return { ...hand, locked: isLocked ? [...others, id] : others };
}

/**
 * The poses a copy may take where it lies, as one sees them; of a parked one those in which it is packed. `anyAngle`
 * items may be turned to any other angle as well.
 */
export function posesOf(hand: HandLay, id: CopyId): { poses: readonly Pose[]; anyAngle: boolean } {
  const stretch = hand.stretches[id.stretch] as Stretch;
  const item = itemOf(stretch, id.item);
  const now = packedOf(hand, id);
  const poses = (item?.poses ?? []).map((pose) =>
    now ? { ...pose, ...turnOnly(asSeen(stretch, { ...now, ...pose }, 0)) } : pose,
  );
  return { poses, anyAngle: item?.anyAngle === true };
}

const turnOnly = ({ rotation, mirrored }: Pose) => ({ rotation, mirrored });

/**
 * The same copy in another pose, turned about the middle of its box, so that it stays under the hand. A half piece
 * on the fold keeps to the fold.
 */
export function turnedTo(hand: HandLay, id: CopyId, pose: Pose): PlaceOnCloth | null {
  const stretch = hand.stretches[id.stretch] as Stretch;
  const item = itemOf(stretch, id.item);
  const now = placementOf(hand, id);
  if (!item || !now) return null;
  const [mx, my] = middleOf(hand, id);
  const box = boundingBox(placeRing(item.outline, pose.rotation, pose.mirrored));
  const turned = { ...turnOnly(pose), sheet: now.sheet };
  const x = mx - (box.minX + box.maxX) / 2;
  const y = my - (box.minY + box.maxY) / 2;
  if (!item.onFold) return { ...turned, x, y };
  const lane = stretch.lanes.find(({ id: laneId }) => laneId === now.container);
  return { ...turned, x, y: lane?.fold === 'high' ? lane.to - box.maxY : (lane?.from ?? 0) - box.minY };
}

/** Middle of a placed copy's box, as one sees it. */
export function middleOf(hand: HandLay, id: CopyId): [number, number] {
  const item = itemOf(hand.stretches[id.stretch] as Stretch, id.item) as Item;
  const { rotation, mirrored, x, y } = placementOf(hand, id) as Placement;
  const box = boundingBox(placeRing(item.outline, rotation, mirrored, x, y));
  return [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
}

function packedOf(hand: HandLay, id: CopyId): Placement | null {
  const layout = hand.layouts[id.stretch];
  return layout?.placements.find(({ item, copy }) => item === id.item && copy === id.copy) ?? null;
}

/** The packing problem of a stretch in which locked copies stay where they are. */
export function toPack(hand: HandLay, stretch: number): Problem {
  const { problem } = hand.stretches[stretch] as Stretch;
  const fixed = hand.locked.flatMap((id) => (id.stretch === stretch ? (packedOf(hand, id) ?? []) : []));
  return fixed.length > 0 ? { ...problem, fixed } : problem;
}

/** The lay with its copies where the engine's layouts have them, one layout a stretch. */
export function withLayouts(hand: HandLay, layouts: readonly Layout[]): HandLay {
  return {
    ...hand,
    layouts: hand.stretches.map((stretch, i) => layoutOf(stretch, layouts[i]?.placements ?? [])),
  };
}

/** All copies of a stretch, where they lie as one sees them, parked ones last. */
export function copiesOf(hand: HandLay, stretch: number): { id: CopyId; placement: Placement | null }[] {
  const layout = hand.layouts[stretch] as Layout;
  const at = hand.stretches[stretch] as Stretch;
  return [
    ...layout.placements.map((packed) => ({
      id: { stretch, item: packed.item, copy: packed.copy },
      placement: asSeen(at, packed, layout.length),
    })),
    ...layout.unplaced.map(({ item, copy }) => ({ id: { stretch, item, copy }, placement: null })),
  ];
}

/** The piece a copy is cut from, with the hand that one placement gives. */
export function pieceOf(hand: HandLay, id: CopyId): { cut: CutDemand; hand: Placed['hand'] } | null {
  const meaning = hand.stretches[id.stretch]?.meanings.find(({ item }) => item === id.item);
  const cut = hand.demands.find(({ demand }) => demand.id === meaning?.demand);
  return meaning && cut ? { cut, hand: meaning.hand } : null;
}

function itemOf({ problem }: Stretch, id: string): Item | undefined {
  return problem.items.find((item) => item.id === id);
}

/** A layout of these placements: the rest of the copies parked, the length measured. */
export function layoutOf(stretch: Stretch, placements: readonly Placement[]): Layout {
  const placedCopies = new Set(placements.map(({ item, copy }) => `${copy} ${item}`));
  const unplaced = stretch.problem.items.flatMap(({ id, quantity }) =>
    Array.from({ length: quantity }, (_, copy) => ({ item: id, copy })).filter(
      ({ copy }) => !placedCopies.has(`${copy} ${id}`),
    ),
  );
  const isStrip = stretch.problem.containers[0]?.kind === 'strip';
  const length = isStrip
    ? placements.reduce((most, { item, rotation, mirrored, x, y }) => {
        const outline = (itemOf(stretch, item) as Item).outline;
        return Math.max(most, boundingBox(placeRing(outline, rotation, mirrored, x, y)).maxX);
      }, 0)
    : 0;
  return { placements, unplaced, length };
}
