import type { Placement } from '../packing/types.ts';
import { type Fault, fault, nameOf } from './faults.ts';
import type { Shape } from './shapes.ts';
import { boundaryDistance, overlapDepth } from './twoShapes.ts';

/** A placement with the shape it takes on the cloth. */
export interface Placed {
  readonly placement: Placement;
  readonly shape: Shape;
}

/** Pieces in one copy of a container neither overlap nor come closer than the gap; all lengths in mm. */
export function checkPairs(placed: readonly Placed[], gap: number, tolerance: number, faults: Fault[]) {
  const clearance = Math.max(0, gap - tolerance);
  const byLeft = [...placed].sort((p, q) => p.shape.box.minX - q.shape.box.minX);
  for (const [i, p] of byLeft.entries()) {
    for (let j = i + 1; j < byLeft.length; j++) {
      const q = byLeft[j]!;
      if (q.shape.box.minX >= p.shape.box.maxX + clearance) break; // all further ones lie still more to the right
      const copies = [p.placement, q.placement];
      const both = `${nameOf(p.placement)} and ${nameOf(q.placement)}`;
      const depth = overlapDepth(p.shape, q.shape, tolerance);
      if (depth > 0) faults.push(fault('overlap', copies, depth, `${both} overlap by ${depth} mm`));
      else if (clearance > 0) {
        const distance = boundaryDistance(p.shape, q.shape, clearance);
        const text = `${both} are ${distance} mm apart, ${gap} mm is the least`;
        if (distance < clearance) faults.push(fault('gap', copies, gap - distance, text));
      }
    }
  }
}
