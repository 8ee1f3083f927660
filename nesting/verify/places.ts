import type { Container, Item, Placement, StripContainer } from '../packing/types.ts';
import { type Fault, fault, nameOf } from './faults.ts';
import { type Box, extentsOf, isOutline, type Shape, shapeOf } from './shapes.ts';
import { toleranceOf } from './tolerances.ts';
import { overlapDepth, reachOutside } from './twoShapes.ts';

/** A container with what all its pieces are held against. */
export interface Place {
  readonly container: Container;
  /** The depth in mm that still counts as touching. */
  readonly tolerance: number;
  /** Empty for a strip, which is judged by its bounding box alone. */
  readonly outline: readonly Shape[];
  readonly blocked: readonly Shape[];
}

/** Whether a container can be judged: positive finite extents, usable outlines, a length that is a number. */
export function isWellFormed(container: Container): boolean {
  const shorter = container.kind === 'strip' ? container.width : extentsOf(container.outline)[0];
  if (!(shorter > 0 && Number.isFinite(shorter))) return false;
  if (!(container.blocked ?? []).every(isOutline)) return false;
  if (container.kind === 'strip') return !Number.isNaN(container.maxLength ?? 0);
  return isOutline(container.outline);
}

/** What the pieces in a container are held against; `longestPiece` in mm widens the tolerance. */
export function placeOf(container: Container, longestPiece: number): Place {
  const sheet = container.kind === 'sheet';
  return {
    container,
    tolerance: toleranceOf(container, longestPiece),
    outline: sheet ? [shapeOf(container.outline)] : [],
    blocked: (container.blocked ?? []).map(shapeOf),
  };
}

/** Inside the container, clear of what is blocked, on the fold. */
export function checkPlace(placement: Placement, item: Item, shape: Shape, place: Place, faults: Fault[]) {
  const name = nameOf(placement);
  const { container, tolerance } = place;
  const { box } = shape;
  const out = container.kind === 'strip' ? reachOutsideStrip(box, container) : 0;
  const reach = Math.max(out, ...place.outline.map((outline) => reachOutside(shape, outline, tolerance)));
  if (!(reach <= tolerance))
    faults.push(fault('outside', [placement], reach, `${name} reaches ${reach} mm out of ${container.id}`));
  for (const blocked of place.blocked) {
    const depth = overlapDepth(shape, blocked, tolerance);
    const text = `${name} lies ${depth} mm deep in a blocked place of ${container.id}`;
    if (depth > 0) faults.push(fault('blocked', [placement], depth, text));
  }
  if (item.onFold && !(Math.abs(box.minY) <= tolerance)) {
    const text = `${name} belongs on the fold and lies ${box.minY} mm from it`;
    faults.push(fault('fold', [placement], Math.abs(box.minY), text));
  }
}

/** How far a shape reaches over the edges of a strip, in mm. */
function reachOutsideStrip(box: Box, { width, maxLength }: StripContainer): number {
  return Math.max(-box.minX, -box.minY, box.maxY - width, box.maxX - (maxLength ?? Infinity));
}
