import { union } from '../../nesting/geometry/boolean.ts';
import { offsetRing } from '../../nesting/geometry/offset.ts';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import { distanceToSegment } from './flatten.ts';
import { simplifyRing } from './simplify.ts';

/** Several outlines made one. Both kinds of rings run counter-clockwise. */
export interface UnitedOutline {
  readonly ring: Outline;
  readonly holes: readonly Outline[];
}

/** Long enough for every corner a pattern has to keep its point when the line is moved out and back. */
const MITRE = 50;
/** Steps this small come from rounding, or from parts that abut a hair out of line. */
const STEP_MM = 0.02;

/** Parts drawn side by side are often some tenths of a millimetre apart; no two pieces are drawn so near. */
export const UNITING_MM = 0.5;

/**
 * Unites outlines that overlap or abut: a piece drawn as rectangles side by side, or a finished shape with its
 * allowance as strips around it. Gaps up to `reachMm` are closed. Several outlines come back if there is more than
 * one heap, the largest first; none for an empty list. May throw `GeometryError` on figures the clipper cannot do.
 */
export function uniteOutlines(rings: readonly Outline[], reachMm = UNITING_MM): UnitedOutline[] {
  // Moved out by half the reach, united, moved back: what lies no farther apart grows together.
  const grown = rings.flatMap((ring) => moved(ring, reachMm / 2));
  return union(grown)
    .flatMap(({ outer, holes }) => {
      const backOuter = moved(outer, -reachMm / 2);
      const backHoles = holes.flatMap((hole) => moved(hole, reachMm / 2));
      // A neck no wider than the reach may part again: holes go with the part they lie in.
      return backOuter.map((ring) => ({
        ring: tidy(ring),
        holes: backHoles
          .filter((hole) => boxIn(hole, ring) && Math.abs(signedArea(hole)) > reachMm * reachMm)
          .map(tidy),
      }));
    })
    .filter(({ ring }) => ring.length >= 3)
    .sort((p, q) => signedArea(q.ring) - signedArea(p.ring));
}

const moved = (ring: Outline, distance: number): Outline[] =>
  offsetRing(ring, distance, { join: 'miter', miterLimit: MITRE });

function tidy(ring: Outline): Outline {
  const points = [...simplifyRing(ring, STEP_MM, { left: Number.POSITIVE_INFINITY })];
  // Simplifying keeps the outermost points, even those that stick out by a hair.
  for (let i = 0; i < points.length && points.length > 3; ) {
    const before = points[(i + points.length - 1) % points.length] as Point;
    const after = points[(i + 1) % points.length] as Point;
    if (distanceToSegment(points[i] as Point, before, after) > STEP_MM / 4) i += 1;
    else {
      points.splice(i, 1);
      i = Math.max(0, i - 1);
    }
  }
  return signedArea(points) < 0 ? points.reverse() : points;
}

function boxIn(inner: Outline, outer: Outline): boolean {
  const a = boundingBox(inner);
  const b = boundingBox(outer);
  return a.minX >= b.minX && a.maxX <= b.maxX && a.minY >= b.minY && a.maxY <= b.maxY;
}
