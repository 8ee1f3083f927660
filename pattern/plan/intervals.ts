import type { Box } from '../../nesting/geometry/points.ts';
import { boundingBox } from '../../nesting/geometry/rings.ts';
import type { DrawnPoint } from './drawing.ts';

/** Stretches of a line inside closed rings, for hatches and for finding room. All on paper: y down. */

export type Interval = readonly [from: number, to: number];
export type Ring = readonly DrawnPoint[];

/** The points turned by `degrees` clockwise as seen (y down), about the origin. */
export function turned(ring: Ring, degrees: number): DrawnPoint[] {
  const [cos, sin] = cosSin(degrees);
  return ring.map(([x, y]) => [x * cos - y * sin, x * sin + y * cos]);
}

/** Quarter turns are exact. */
export function cosSin(degrees: number): readonly [number, number] {
  const whole = ((degrees % 360) + 360) % 360;
  if (whole === 0) return [1, 0];
  if (whole === 90) return [0, 1];
  if (whole === 180) return [-1, 0];
  if (whole === 270) return [0, -1];
  const radians = (whole * Math.PI) / 180;
  return [Math.cos(radians), Math.sin(radians)];
}

/** Where the horizontal line at `y` runs inside the rings (even-odd), in order. */
export function inside(rings: readonly Ring[], y: number): Interval[] {
  const crossings: number[] = [];
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i++) {
      const [ax, ay] = ring[i] as DrawnPoint;
      const [bx, by] = ring[(i + 1) % ring.length] as DrawnPoint;
      if (ay <= y !== by <= y) crossings.push(ax + ((y - ay) / (by - ay)) * (bx - ax));
    }
  }
  crossings.sort((a, b) => a - b);
  const found: Interval[] = [];
  for (let i = 0; i + 1 < crossings.length; i += 2) {
    const from = crossings[i] as number;
    const to = crossings[i + 1] as number;
    if (to > from) found.push([from, to]);
  }
  return found;
}

/** What is left of `intervals` without `without`. */
export function subtract(intervals: readonly Interval[], without: readonly Interval[]): Interval[] {
  let left = [...intervals];
  for (const [from, to] of without) {
    left = left.flatMap(([a, b]): Interval[] => {
      if (to <= a || from >= b) return [[a, b]];
      const parts: Interval[] = [];
      if (from > a) parts.push([a, from]);
      if (to < b) parts.push([to, b]);
      return parts;
    });
  }
  return left;
}

/** What two lists have in common. */
export function overlap(one: readonly Interval[], other: readonly Interval[]): Interval[] {
  const found: Interval[] = [];
  for (const [a, b] of one) {
    for (const [c, d] of other) {
      const from = Math.max(a, c);
      const to = Math.min(b, d);
      if (to > from) found.push([from, to]);
    }
  }
  return found;
}

/** The box round a ring on paper. */
export type Bounds = Box;
export const bounds: (ring: Ring) => Bounds = boundingBox;

/** A rectangle from its upper left corner. */
export function rectangle(x: number, y: number, width: number, height: number): DrawnPoint[] {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}
