import { difference } from '../geometry/boolean.ts';
import { convexHull, diameter, leastWidth } from '../geometry/convexHull.ts';
import type { Ring } from '../geometry/points.ts';
import { boundingBox, counterClockwise, signedArea } from '../geometry/rings.ts';
import { PROOF_RELATIVE } from '../geometry/tolerances.ts';
import { noFitPolygon } from '../nfp/noFit.ts';
import type { Model } from './model.ts';
import { positionRange } from './ranges.ts';
import { turnsFreely } from './turning.ts';
import type { Container, Impossibility, Item } from './types.ts';

/** Pairs of items are compared only up to so many pairs of poses; beyond, the proof is not attempted. */
const MAX_POSE_PAIRS = 4000;

/**
 * A proof that the problem has no complete layout, or null if none of the simple ones applies. Cheapest first:
 * each piece against each container, areas, then pieces that cannot share a sheet. `model` follows the true
 * outlines.
 */
export function proveImpossible(model: Model): Impossibility | null {
  const items = model.problem.items.filter((item) => item.quantity > 0);
  for (const item of items) {
    const proof = doesNotFitAlone(model, item);
    if (proof) return proof;
  }
  return tooMuchArea(model) ?? cannotShare(model);
}

/** In millimetres or square millimetres, for reasons. */
function rounded(value: number): string {
  return String(Number(value.toPrecision(6)));
}

/** A shortfall of a single piece along (`long`) or across (`wide`) a container. */
interface Shortfall {
  readonly by: number;
  readonly kind: 'too-long' | 'too-wide';
  readonly container: Container;
}

function doesNotFitAlone(model: Model, item: Item): Impossibility | null {
  const index = model.problem.items.indexOf(item);
  const usable = model.problem.containers.filter((_, c) => model.allowed[index]?.[c]);
  if (usable.length === 0)
    return {
      kind: 'no-pose',
      items: [item.id],
      shortBy: 0,
      reason: `${item.id} may not go into any of the containers`,
    };
  let least: Shortfall | null = null;
  for (const container of usable) {
    const shortfall = shortfallIn(model, index, item, container);
    if (!shortfall) {
      least = null;
      break;
    }
    if (!least || shortfall.by < least.by) least = shortfall;
  }
  if (least)
    return {
      kind: least.kind,
      items: [item.id],
      shortBy: least.by,
      reason: `${item.id} is ${rounded(least.by)} ${
        least.kind === 'too-long' ? 'longer' : 'wider'
      } than ${least.container.id} allows in every admissible pose`,
    };
  if (turnsFreely(item) || model.stripWidth > 0) return null;
  const room = model.rooms.findIndex(
    ({ container }) =>
      model.allowed[index]?.[container] &&
      [...(model.itemPoses[index] as Int32Array)].some(
        (pose) => positionRange(model, firstRoom(model, container), index, pose) !== null,
      ),
  );
  return room >= 0
    ? null
    : {
        kind: 'no-pose',
        items: [item.id],
        shortBy: 0,
        reason: `no admissible pose of ${item.id} has a place inside the outline and clear of what is blocked`,
      };
}

function firstRoom(model: Model, container: number): number {
  return model.rooms.findIndex((room) => room.container === container);
}

/** By how much the item exceeds the container in its best pose; null if it does not, as far as extents tell. */
function shortfallIn(model: Model, index: number, item: Item, container: Container): Shortfall | null {
  const slack = model.size * PROOF_RELATIVE;
  const [length, width] = extents(container);
  if (turnsFreely(item)) {
    const hull = convexHull(item.outline);
    const wide = leastWidth(hull).width - Math.min(length, width);
    if (wide > slack) return { by: wide, kind: 'too-wide', container };
    const long = diameter(hull) - Math.hypot(length, width);
    return long > slack ? { by: long, kind: 'too-long', container } : null;
  }
  let least: Shortfall | null = null;
  for (const pose of model.itemPoses[index] as Int32Array) {
    const box = model.poses.bodyBox.subarray(4 * pose, 4 * pose + 4);
    const long = (box[2] as number) - (box[0] as number) - length;
    const wide = (box[3] as number) - (box[1] as number) - width;
    const by = Math.max(long, wide);
    if (by <= slack) return null;
    if (!least || by < least.by) least = { by, kind: wide >= long ? 'too-wide' : 'too-long', container };
  }
  return least;
}

function extents(container: Container): [length: number, width: number] {
  if (container.kind === 'strip') return [container.maxLength ?? Number.POSITIVE_INFINITY, container.width];
  const box = boundingBox(container.outline);
  return [box.maxX - box.minX, box.maxY - box.minY];
}

/** Pieces against cloth: all of them, and those that may go into the same few containers. */
function tooMuchArea(model: Model): Impossibility | null {
  const { problem } = model;
  const free = problem.containers.map(freeArea);
  const groups = new Map<string, { items: Item[]; area: number; room: number }>();
  problem.items.forEach((item, i) => {
    const mine = model.allowed[i] as readonly boolean[];
    for (const key of [mine, mine.map(() => true)]) {
      const name = key.join();
      const group = groups.get(name) ?? {
        items: [],
        area: 0,
        room: key.reduce((sum, yes, c) => sum + (yes ? (free[c] as number) : 0), 0),
      };
      if (item.quantity > 0 && !group.items.includes(item)) {
        group.items.push(item);
        group.area += item.quantity * (model.itemArea[i] as number);
      }
      groups.set(name, group);
    }
  });
  for (const { items, area, room } of groups.values()) {
    const shortBy = area - room;
    if (shortBy > room * PROOF_RELATIVE)
      return {
        kind: 'area',
        items: items.map((item) => item.id),
        shortBy,
        reason: `the pieces have an area of ${rounded(area)}, the cloth has ${rounded(room)}`,
      };
  }
  return null;
}

/** Area that pieces can cover, all copies of the container together. */
function freeArea(container: Container): number {
  if (container.kind === 'strip') return container.width * (container.maxLength ?? Number.POSITIVE_INFINITY);
  const outline = counterClockwise(container.outline);
  const blocked = container.blocked.map((ring) => counterClockwise(ring));
  const rest =
    blocked.length === 0
      ? signedArea(outline)
      : difference([outline], blocked).reduce(
          (sum, { outer, holes }) =>
            holes.reduce(
              (left, hole) => left - Math.abs(signedArea(hole)),
              sum + Math.abs(signedArea(outer)),
            ),
          0,
        );
  return container.quantity * rest;
}

/**
 * Copies of which no two can lie on one sheet need a sheet each. A pair is told apart by its no-fit polygon: the
 * positions of one seen from the other, as far as both stay on the sheet, are then all forbidden.
 */
function cannotShare(model: Model): Impossibility | null {
  const { problem } = model;
  if (model.stripWidth > 0 || problem.items.some(turnsFreely)) return null;
  const kinds = problem.items.map((item, index) => ({ item, index })).filter(({ item }) => item.quantity > 0);
  const poseCount = kinds.reduce((sum, { index }) => sum + (model.itemPoses[index] as Int32Array).length, 0);
  if (poseCount * poseCount * problem.containers.length > MAX_POSE_PAIRS) return null;
  // A clique of the conflict graph, grown greedily from the largest item down.
  kinds.sort((p, q) => (model.itemArea[q.index] as number) - (model.itemArea[p.index] as number));
  const clique: { item: Item; index: number }[] = [];
  for (const kind of kinds) {
    const apart = clique.every((other) => neverTogether(model, kind.index, other.index));
    if (!apart) continue;
    const alone = neverTogether(model, kind.index, kind.index);
    for (let k = 0; k < (alone ? kind.item.quantity : 1); k++) clique.push(kind);
  }
  const rooms = problem.containers.reduce((sum, c) => sum + (c.kind === 'sheet' ? c.quantity : 0), 0);
  if (clique.length <= rooms) return null;
  const names = [...new Set(clique.map(({ item }) => item.id))];
  return {
    kind: rooms === 1 ? 'pair' : 'count',
    items: names,
    shortBy: 0,
    reason: `no two of these can lie on one sheet, there are ${clique.length} of them and ${rooms} sheets: ${names.join(', ')}`,
  };
}

function neverTogether(model: Model, i: number, j: number): boolean {
  return model.problem.containers.every((_, container) => {
    if (!model.allowed[i]?.[container] || !model.allowed[j]?.[container]) return true;
    const room = firstRoom(model, container);
    for (const p of model.itemPoses[i] as Int32Array)
      for (const q of model.itemPoses[j] as Int32Array) if (canMeet(model, room, i, p, j, q)) return false;
    return true;
  });
}

/** Whether two poses may lie on one sheet without overlap, as far as bounding boxes and the no-fit polygon tell. */
function canMeet(model: Model, room: number, i: number, p: number, j: number, q: number): boolean {
  const a = positionRange(model, room, i, p);
  const b = positionRange(model, room, j, q);
  if (!a || !b) return false;
  const slack = model.size * PROOF_RELATIVE;
  const minX = b.minX - a.maxX - slack;
  const minY = b.minY - a.maxY - slack;
  const maxX = b.maxX - a.minX + slack;
  const maxY = b.maxY - a.minY + slack;
  const offsets: Ring = [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
  const { rings } = noFitPolygon(model.poses.spaced(p), model.poses.spaced(q));
  return difference([offsets], rings).length > 0;
}
