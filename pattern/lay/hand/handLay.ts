import type { Stretch } from '../../../nesting/cloth/index.ts';
import { boundingBox } from '../../../nesting/geometry/rings.ts';
import { placeRing } from '../../../nesting/geometry/transforms.ts';
import { pushTogether } from '../../../nesting/hand/pushTogether.ts';
import type { Item, Layout, Placement, Pose, Problem } from '../../../nesting/index.ts';
import { type Fault, verify } from '../../../nesting/verify.ts';
import type { Cloth, ClothLay, Placed, Project } from '../../exchange/project.ts';
import { assemble, handsServed } from '../assemble.ts';
import { type CutDemand, possibleDemands } from '../demands.ts';
import { spreadingOf } from '../spreading.ts';

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

/**
 * Why a lay cannot be taken up: it was kept by an earlier release, or what it was made from is no longer there.
 * `layers`: several sheets, or cloth that lies double beside single, are not arranged by hand.
 */
export type NotTakenUp = 'tooOld' | 'changed' | 'layers';

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
  const isSeveralSheets = cloth.kind === 'remnant' && cloth.quantity > 1;
  const isOnEnd = stretches.some(({ lanes }) => lanes.some(({ fold }) => fold === 'end'));
  if (isSeveralSheets || isOnEnd || stretches.some(({ problem }) => problem.containers.length > 1))
    return 'layers';
  const segments = [...lay.segments];
  const layouts: Layout[] = [];
  const locked: CopyId[] = [];
  for (const [index, stretch] of stretches.entries()) {
    const container = stretch.problem.containers[0];
    if (!container) return 'changed';
    // A stretch without a segment came into being when a piece was handed over from another cloth: nothing lies there.
    const at = segments.findIndex(({ spread }) => spread === stretch.spread);
    const placed = at < 0 ? [] : (segments.splice(at, 1)[0]?.placed ?? []);
    const used = new Map<string, number>();
    const placements: Placement[] = [];
    for (const entry of placed) {
      if (entry.item === undefined) return 'tooOld';
      const item = itemOf(stretch, entry.item);
      const copy = used.get(entry.item) ?? 0;
      if (!item || copy >= item.quantity || !hasOutline(item, entry)) return 'changed';
      used.set(entry.item, copy + 1);
      const { rotation, mirrored, x, y } = entry;
      placements.push({
        item: entry.item,
        copy,
        container: container.id,
        containerCopy: 0,
        rotation,
        mirrored,
        x,
        y,
      });
      if (entry.locked) locked.push({ stretch: index, item: entry.item, copy });
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
  const isLocked = (stretch: number, placed: Placed): boolean =>
    hand.locked.some((id) => {
      if (id.stretch !== stretch || id.item !== placed.item) return false;
      const at = placementOf(hand, id);
      return at !== null && Math.abs(at.x - placed.x) < SAME_MM && Math.abs(at.y - placed.y) < SAME_MM;
    });
  return {
    ...lay,
    segments: lay.segments.map((segment, stretch) => ({
      ...segment,
      placed: segment.placed.map((placed) =>
        isLocked(stretch, placed) ? { ...placed, locked: true } : placed,
      ),
    })),
  };
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

/** Where a copy lies; null if it is parked. */
export function placementOf(hand: HandLay, id: CopyId): Placement | null {
  const layout = hand.layouts[id.stretch];
  return layout?.placements.find(({ item, copy }) => item === id.item && copy === id.copy) ?? null;
}

/** The lay with a copy put elsewhere, or parked (`null`). What else lies there is not asked: see `handFaults`. */
export function withCopyAt(hand: HandLay, id: CopyId, place: PlaceOnCloth | null): HandLay {
  const stretch = hand.stretches[id.stretch];
  const layout = hand.layouts[id.stretch];
  const container = stretch?.problem.containers[0];
  if (!stretch || !layout || !container) throw new RangeError(`the lay has no stretch ${id.stretch}`);
  const others = layout.placements.filter(({ item, copy }) => item !== id.item || copy !== id.copy);
  const placement = place && {
    item: id.item,
    copy: id.copy,
    container: container.id,
    containerCopy: 0,
    ...place,
  };
  const next = layoutOf(stretch, placement ? [...others, placement] : others);
  return { ...hand, layouts: hand.layouts.map((entry, i) => (i === id.stretch ? next : entry)) };
}

/** Position of a copy's reference point in the axes of its stretch, and how it is turned. */
export type PlaceOnCloth = Pick<Placement, 'x' | 'y' | 'rotation' | 'mirrored'>;

/** Locks a copy where it is, or lets it go again. */
export function withLock(hand: HandLay, id: CopyId, isLocked: boolean): HandLay {
  const others = hand.locked.filter((other) => !isSameCopy(other, id));
  return { ...hand, locked: isLocked ? [...others, id] : others };
}

/** Two copies change places, each about the middle of the other's box, in the poses they have. */
export function swapped(hand: HandLay, a: CopyId, b: CopyId): HandLay {
  const [p, q] = [placementOf(hand, a), placementOf(hand, b)];
  if (!p || !q || a.stretch !== b.stretch) return hand;
  const [middleA, middleB] = [middleOf(hand, a, p), middleOf(hand, b, q)];
  const [dx, dy] = [middleB[0] - middleA[0], middleB[1] - middleA[1]];
  return withCopyAt(withCopyAt(hand, a, { ...p, x: p.x + dx, y: p.y + dy }), b, {
    ...q,
    x: q.x - dx,
    y: q.y - dy,
  });
}

/**
 * Hands a copy over from one lay to another of the same material, where it is parked: the first no longer sets out to
 * cut it. Null if the other cloth can't take it as it is spread, or is wanted for it already in another way.
 */
export function handedOver(
  project: Project,
  from: HandLay,
  id: CopyId,
  to: ClothLay,
  reasonFor: (faults: readonly HandFault[]) => string,
): { from: ClothLay; to: ClothLay } | null {
  const what = pieceOf(from, id);
  if (!what || to.wanted === undefined) return null;
  const { demand } = what.cut;
  const open = { plain: demand.plain, mirrored: demand.mirrored };
  const hands = handsServed(what.hand, open);
  const change = (by: 1 | -1) => (entry: { id: string; plain: number; mirrored: number }) => {
    if (entry.id !== demand.id) return entry;
    const count = (hand: 'plain' | 'mirrored') => by * hands.filter((served) => served === hand).length;
    return { ...entry, plain: entry.plain + count('plain'), mirrored: entry.mirrored + count('mirrored') };
  };
  const left = putDown(withCopyAt(from, id, null), reasonFor);
  const known = to.wanted.some((entry) => entry.id === demand.id);
  const wanted = known ? to.wanted : [...to.wanted, { id: demand.id, plain: 0, mirrored: 0 }];
  const giver = takeUp(project, { ...left, wanted: (left.wanted ?? []).map(change(-1)) });
  const taker = takeUp(project, { ...to, wanted: wanted.map(change(1)) });
  if (typeof giver === 'string' || typeof taker === 'string') return null;
  const parked = (lay: HandLay) => lay.layouts.reduce((sum, { unplaced }) => sum + unplaced.length, 0);
  const before = takeUp(project, to);
  // What the cloth is too narrow for is refused by the rules, and would silently drop out of the list.
  if (typeof before === 'string' || parked(taker) <= parked(before)) return null;
  return { from: putDown(giver, reasonFor), to: putDown(taker, reasonFor) };
}

/** The poses a copy may take. `anyAngle` items may be turned to any other angle as well. */
export function posesOf(hand: HandLay, id: CopyId): { poses: readonly Pose[]; anyAngle: boolean } {
  const item = itemOf(hand.stretches[id.stretch] as Stretch, id.item);
  return { poses: item?.poses ?? [], anyAngle: item?.anyAngle === true };
}

/**
 * The same copy in another pose, turned about the middle of its box, so that it stays under the hand. A half piece
 * on the fold keeps to the fold.
 */
export function turnedTo(hand: HandLay, id: CopyId, pose: Pose): PlaceOnCloth | null {
  const stretch = hand.stretches[id.stretch] as Stretch;
  const item = itemOf(stretch, id.item);
  const now = placementOf(hand, id);
  if (!item || !now) return null;
  const [mx, my] = middleOf(hand, id, now);
  const box = boundingBox(placeRing(item.outline, pose.rotation, pose.mirrored));
  const x = mx - (box.minX + box.maxX) / 2;
  const y = item.onFold ? -box.minY : my - (box.minY + box.maxY) / 2;
  return { rotation: pose.rotation, mirrored: pose.mirrored, x, y };
}

/**
 * The arrangement with its gaps closed, nothing turned and nothing passing another; locked copies stay. Null if nothing
 * moves.
 */
export function tidied(hand: HandLay): HandLay | null {
  let moved = false;
  const layouts = hand.stretches.map((stretch, index) => {
    const layout = hand.layouts[index] as Layout;
    const container = stretch.problem.containers[0];
    if (!container) return layout;
    const isFixed = ({ item, copy }: Placement): boolean =>
      hand.locked.some((id) => isSameCopy(id, { stretch: index, item, copy }));
    const placements = pushTogether(stretch.problem, container, layout.placements, isFixed);
    moved ||= placements.some((placement, i) => placement !== layout.placements[i]);
    return layoutOf(stretch, placements);
  });
  return moved ? { ...hand, layouts } : null;
}

/** The packing problem of a stretch in which locked copies stay where they are. */
export function toPack(hand: HandLay, stretch: number): Problem {
  const { problem } = hand.stretches[stretch] as Stretch;
  const fixed = hand.locked.flatMap((id) => (id.stretch === stretch ? (placementOf(hand, id) ?? []) : []));
  return fixed.length > 0 ? { ...problem, fixed } : problem;
}

/** The lay with its copies where the engine's layouts have them, one layout a stretch. */
export function withLayouts(hand: HandLay, layouts: readonly Layout[]): HandLay {
  return {
    ...hand,
    layouts: hand.stretches.map((stretch, i) => layoutOf(stretch, layouts[i]?.placements ?? [])),
  };
}

/** All copies of a stretch, parked ones last. */
export function copiesOf(hand: HandLay, stretch: number): { id: CopyId; placement: Placement | null }[] {
  const layout = hand.layouts[stretch] as Layout;
  return [
    ...layout.placements.map((placement) => ({
      id: { stretch, item: placement.item, copy: placement.copy },
      placement,
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

function middleOf(hand: HandLay, id: CopyId, { rotation, mirrored, x, y }: Placement): [number, number] {
  const item = itemOf(hand.stretches[id.stretch] as Stretch, id.item) as Item;
  const box = boundingBox(placeRing(item.outline, rotation, mirrored, x, y));
  return [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
}

function itemOf({ problem }: Stretch, id: string): Item | undefined {
  return problem.items.find((item) => item.id === id);
}

/** A layout of these placements: the rest of the copies parked, the length measured. */
function layoutOf(stretch: Stretch, placements: readonly Placement[]): Layout {
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
