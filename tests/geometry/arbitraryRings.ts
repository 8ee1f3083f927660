import fc from 'fast-check';
import { convexHull } from '../../nesting/geometry/convexHull.ts';
import type { Point, Ring } from '../../nesting/geometry/points.ts';

/**
 * A simple counter-clockwise ring, star-shaped about the origin: radii at sorted angles, on a grid of hundredths
 * so that failing cases can be read. No two angles are nearer than half a degree.
 */
export function starRing(options: { min?: number; max?: number } = {}): fc.Arbitrary<Ring> {
  const { min = 3, max = 14 } = options;
  return fc
    .array(fc.tuple(fc.integer({ min: 0, max: 719 }), fc.integer({ min: 300, max: 6000 })), {
      minLength: min,
      maxLength: max,
    })
    .map((spokes) => {
      const radii = new Map(spokes);
      // Three spokes at least, spread so that the origin is inside.
      for (const angle of [20, 260, 500]) if (!radii.has(angle)) radii.set(angle, 2500);
      return [...radii.entries()]
        .sort(([a], [b]) => a - b)
        .map(([half, radius]): Point => {
          const angle = (half * Math.PI) / 360;
          return [Math.round(radius * Math.cos(angle)) / 100, Math.round(radius * Math.sin(angle)) / 100];
        });
    });
}

/** A convex counter-clockwise ring. */
export function convexRing(): fc.Arbitrary<Ring> {
  return starRing({ min: 4, max: 12 }).map((ring) => convexHull(ring));
}
