import type { Point } from '../../nesting/packing/types.ts';

/** Straight pieces miss a drawn arc by no more than this, mm: a twentieth of what chalk draws. */
const ARC_MISS_MM = 0.05;

/**
 * Points on an arc about (x, y), from one angle to another (radians, counter-clockwise where `to` is larger), both ends
 * included. Their chords miss the arc by at most `ARC_MISS_MM`.
 */
export function arc(x: number, y: number, radius: number, from: number, to: number): Point[] {
  if (radius <= 0) return [[x, y]];
  // Sagitta of a chord: r · (1 − cos(step / 2)).
  const step = 2 * Math.acos(Math.max(0, 1 - ARC_MISS_MM / radius));
  const count = Math.max(1, Math.ceil(Math.abs(to - from) / Math.max(step, 1e-3)));
  return Array.from({ length: count + 1 }, (_, i): Point => {
    const angle = from + ((to - from) * i) / count;
    return [x + radius * snapped(Math.cos(angle)), y + radius * snapped(Math.sin(angle))];
  });
}

/** Quarter turns are exact, so that straight sides meet their arcs without a kink. */
function snapped(value: number): number {
  const near = Math.round(value);
  return Math.abs(value - near) < 1e-12 ? near : value;
}
