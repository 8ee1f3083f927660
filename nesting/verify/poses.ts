import type { Item, Outline, Placement, Point } from '../packing/types.ts';
import { type Fault, fault, nameOf } from './faults.ts';
import { ANGLE_TOLERANCE_DEG } from './tolerances.ts';

/** A hand and a rotation that the item's poses admit. */
export function checkPose(placement: Placement, item: Item, faults: Fault[]) {
  const sameHand = item.poses.filter((pose) => pose.mirrored === placement.mirrored);
  if (sameHand.length === 0) {
    const hand = placement.mirrored ? 'mirrored' : 'as drawn';
    faults.push(fault('pose', [placement], 0, `${nameOf(placement)} may not be laid ${hand}`));
    return;
  }
  if (item.anyAngle) return;
  const offBy = Math.min(
    ...sameHand.map(({ rotation, tilt = 0 }) =>
      Math.max(0, Math.abs(turnBetween(rotation, placement.rotation)) - tilt),
    ),
  );
  if (!(offBy <= ANGLE_TOLERANCE_DEG)) {
    const text = `${nameOf(placement)} may not be turned by ${placement.rotation}°, the nearest admissible angle is ${offBy}° away`;
    faults.push(fault('pose', [placement], offBy, text));
  }
}

/** Mirror (x → −x), then turn counter-clockwise about the origin, then shift. Quarter turns are exact. */
export function placeOutline(outline: Outline, { rotation, mirrored, x, y }: Placement): Point[] {
  const [cos, sin] = cosSin(rotation);
  return outline.map(([px, py]) => {
    const mx = mirrored ? -px : px;
    return [mx * cos - py * sin + x, mx * sin + py * cos + y];
  });
}

/** Exact for quarter turns, where `Math.cos` and `Math.sin` leave a trace. */
function cosSin(degrees: number): [cos: number, sin: number] {
  const turned = ((degrees % 360) + 360) % 360;
  if (turned === 0) return [1, 0];
  if (turned === 90) return [0, 1];
  if (turned === 180) return [-1, 0];
  if (turned === 270) return [0, -1];
  const radians = (turned * Math.PI) / 180;
  return [Math.cos(radians), Math.sin(radians)];
}

/** The turn from one angle to another in degrees, −180 to 180. */
export function turnBetween(from: number, to: number): number {
  const turn = (((to - from) % 360) + 360) % 360;
  return turn > 180 ? turn - 360 : turn;
}
