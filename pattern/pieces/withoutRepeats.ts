import { extent } from '../../nesting/geometry/rings.ts';
import { SAME_POINT_RELATIVE } from '../../nesting/geometry/tolerances.ts';
import type { Outline } from '../../nesting/packing/types.ts';

/** The ring without points that repeat the one before, the last one included. */
export function withoutRepeats(ring: Outline): Outline {
  const same = extent(ring) * SAME_POINT_RELATIVE;
  const kept = ring.filter((p, i) => {
    const before = ring[(i + ring.length - 1) % ring.length]!;
    return !(Math.hypot(p[0] - before[0], p[1] - before[1]) <= same);
  });
  return kept.length === 0 ? ring : kept;
}
