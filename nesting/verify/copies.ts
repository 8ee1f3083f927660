import type { Item, Layout, Problem } from '../packing/types.ts';
import { type Fault, fault, keyOf, nameOf } from './faults.ts';
import type { Place } from './places.ts';
import { turnBetween } from './poses.ts';
import { ANGLE_TOLERANCE_DEG } from './tolerances.ts';

/** Each copy exactly once, placed or listed as unplaced, and nothing else. */
export function checkCounts(
  problem: Problem,
  items: ReadonlyMap<string, Item>,
  layout: Layout,
  faults: Fault[],
) {
  const seen = new Set<string>();
  for (const copy of [...layout.placements, ...layout.unplaced]) {
    const quantity = items.get(copy.item)?.quantity ?? 0;
    const known = Number.isInteger(copy.copy) && copy.copy >= 0 && copy.copy < quantity;
    const key = keyOf(copy);
    if (!known) faults.push(fault('unknown-copy', [copy], 0, `there is no ${nameOf(copy)}`));
    else if (seen.has(key)) faults.push(fault('twice', [copy], 0, `${nameOf(copy)} is listed twice`));
    seen.add(key);
  }
  for (const item of problem.items) {
    for (let copy = 0; copy < item.quantity; copy++) {
      const one = { item: item.id, copy };
      if (!seen.has(keyOf(one)))
        faults.push(fault('missing', [one], 0, `${nameOf(one)} is neither placed nor listed as unplaced`));
    }
  }
}

/** Fixed copies lie where they are fixed. */
export function checkFixed(
  { fixed = [] }: Problem,
  layout: Layout,
  places: ReadonlyMap<string, Place>,
  faults: Fault[],
) {
  for (const wanted of fixed) {
    const found = layout.placements.find((p) => p.item === wanted.item && p.copy === wanted.copy);
    const off = found ? Math.hypot(found.x - wanted.x, found.y - wanted.y) : 0;
    const isThere =
      found !== undefined &&
      found.container === wanted.container &&
      found.containerCopy === wanted.containerCopy &&
      found.mirrored === wanted.mirrored &&
      Math.abs(turnBetween(found.rotation, wanted.rotation)) <= ANGLE_TOLERANCE_DEG &&
      off <= (places.get(wanted.container)?.tolerance ?? 0);
    if (!isThere) faults.push(fault('fixed', [wanted], off, `${nameOf(wanted)} is fixed and lies elsewhere`));
  }
}
