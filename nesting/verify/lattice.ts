import type { Item, Lattice, Placement } from '../packing/types.ts';
import { type Fault, fault, nameOf } from './faults.ts';
import { turnBetween } from './poses.ts';
import { ANGLE_TOLERANCE_DEG } from './tolerances.ts';

/** On the lattice of one of the poses that look like this one; a pose without a lattice may lie anywhere. */
export function checkLattice(placement: Placement, item: Item, tolerance: number, faults: Fault[]) {
  const alike = item.poses.filter(
    ({ mirrored, rotation }) =>
      mirrored === placement.mirrored &&
      Math.abs(turnBetween(rotation, placement.rotation)) <= ANGLE_TOLERANCE_DEG,
  );
  if (alike.length === 0 || alike.some(({ lattice }) => lattice === undefined)) return;
  const off = Math.min(...alike.map(({ lattice }) => (lattice ? missOf(lattice, placement) : 0)));
  if (!(off <= tolerance)) {
    const text = `${nameOf(placement)} lies ${off} mm beside its lattice`;
    faults.push(fault('lattice', [placement], off, text));
  }
}

/** How far a position is beyond what a lattice allows, in mm. */
function missOf({ origin, u, v, tolerance = 0 }: Lattice, { x, y }: Placement): number {
  const [dx, dy] = [x - origin[0], y - origin[1]];
  if (v === null) {
    const length = Math.hypot(u[0], u[1]);
    const along = (dx * u[0] + dy * u[1]) / length;
    return Math.abs(along - Math.round(along / length) * length) - tolerance;
  }
  // The nearest points are among those whose steps, counted in real numbers, are nearest; a skew lattice needs a few more.
  const det = u[0] * v[1] - u[1] * v[0];
  const a = Math.round((dx * v[1] - dy * v[0]) / det);
  const b = Math.round((u[0] * dy - u[1] * dx) / det);
  let least = Number.POSITIVE_INFINITY;
  for (let i = a - 3; i <= a + 3; i++)
    for (let j = b - 3; j <= b + 3; j++) {
      const offX = Math.abs(dx - i * u[0] - j * v[0]) - tolerance;
      const offY = Math.abs(dy - i * u[1] - j * v[1]) - tolerance;
      least = Math.min(least, Math.max(offX, offY));
    }
  return least;
}
