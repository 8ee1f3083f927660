import type { Item, Layout, Placement, Problem } from '../packing/types.ts';
import { checkCounts, checkFixed } from './copies.ts';
import { type Fault, fault, nameOf } from './faults.ts';
import { checkLattice } from './lattice.ts';
import { checkPairs, type Placed } from './pairs.ts';
import { checkPlace, isWellFormed, type Place, placeOf } from './places.ts';
import { checkPose, placeOutline } from './poses.ts';
import { extentsOf, isOutline, type Shape, shapeOf } from './shapes.ts';
import { toleranceOf } from './tolerances.ts';

/**
 * Checks a layout against its problem and returns every broken rule; an empty list means legal. Never throws: what
 * can't be judged is a fault. Takes a few milliseconds for fifty pieces of twenty vertices.
 */
export function verify(problem: Problem, layout: Layout): Fault[] {
  const faults: Fault[] = [];
  const items = new Map(problem.items.map((item) => [item.id, item]));
  const places = new Map<string, Place>();
  const longestPiece = longestOf(problem.items);
  for (const container of problem.containers) {
    if (isWellFormed(container)) places.set(container.id, placeOf(container, longestPiece));
    else faults.push(fault('malformed', [], 0, `${container.id} is not a usable container`));
  }
  if (new Set(problem.containers.map(({ id }) => id)).size !== problem.containers.length)
    faults.push(fault('malformed', [], 0, 'two containers have the same id'));
  if (items.size !== problem.items.length)
    faults.push(fault('malformed', [], 0, 'two items have the same id'));
  if (!(problem.gap >= 0 && Number.isFinite(problem.gap)))
    faults.push(fault('malformed', [], 0, `the gap is ${problem.gap} mm`));

  checkCounts(problem, items, layout, faults);
  checkFixed(problem, layout, places, faults);

  const together = new Map<string, { place: Place; placed: Placed[] }>();
  for (const placement of layout.placements) {
    const item = items.get(placement.item);
    if (!item) continue; // reported by checkCounts
    const place = places.get(placement.container);
    const shape = checkAlone(placement, item, place, faults);
    if (!shape || !place) continue;
    const key = JSON.stringify([placement.container, placement.containerCopy]);
    const group = together.get(key) ?? { place, placed: [] };
    group.placed.push({ placement, shape });
    together.set(key, group);
  }
  let length = 0;
  for (const { place, placed } of together.values()) {
    checkPairs(placed, problem.gap, place.tolerance, faults);
    if (place.container.kind !== 'strip') continue;
    for (const { shape } of placed) length = Math.max(length, shape.box.maxX);
  }
  checkLength(problem, length, longestPiece, layout, faults);
  return faults;
}

/** What can be said about one placement without the others. Returns its shape if others can be held against it. */
function checkAlone(
  placement: Placement,
  item: Item,
  place: Place | undefined,
  faults: Fault[],
): Shape | null {
  const name = nameOf(placement);
  const { containerCopy } = placement;
  if (![placement.x, placement.y, placement.rotation].every(Number.isFinite)) {
    const text = `${name}: x ${placement.x}, y ${placement.y}, rotation ${placement.rotation}`;
    faults.push(fault('malformed', [placement], 0, text));
    return null;
  }
  if (!isOutline(item.outline)) {
    faults.push(fault('malformed', [placement], 0, `${name} has no usable outline`));
    return null;
  }
  const quantity = place?.container.kind === 'sheet' ? place.container.quantity : 1;
  if (!place || !Number.isInteger(containerCopy) || containerCopy < 0 || containerCopy >= quantity) {
    const text = `${name}: there is no container ${placement.container}, number ${containerCopy}`;
    faults.push(fault('unknown-container', [placement], 0, text));
    return null;
  }
  const { id } = place.container;
  if (item.containers && !item.containers.includes(id))
    faults.push(fault('wrong-container', [placement], 0, `${name} may not go into ${id}`));
  checkPose(placement, item, faults);
  checkLattice(placement, item, place.tolerance, faults);
  const shape = shapeOf(placeOutline(item.outline, placement));
  checkPlace(placement, item, shape, place, faults);
  return shape;
}

/** The length is the largest x of any placed point on a strip, and 0 for sheets or an empty strip. */
function checkLength(
  problem: Problem,
  length: number,
  longestPiece: number,
  layout: Layout,
  faults: Fault[],
) {
  const strip = problem.containers.find((container) => container.kind === 'strip');
  const offBy = Math.abs(length - layout.length);
  if (offBy <= (strip ? toleranceOf(strip, longestPiece) : 0)) return;
  const text = `the length is ${length} mm, not ${layout.length} mm`;
  if (Number.isFinite(offBy)) faults.push(fault('length', [], offBy, text));
  else faults.push(fault('malformed', [], 0, text));
}

/** The greatest extent of any piece along the axes it is drawn in, in mm; unusable outlines don't count. */
function longestOf(items: readonly Item[]): number {
  return items.reduce(
    (longest, { outline }) => Math.max(longest, isOutline(outline) ? extentsOf(outline)[1] : 0),
    0,
  );
}
