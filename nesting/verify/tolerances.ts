import type { Container } from '../packing/types.ts';
import { extentsOf } from './shapes.ts';

/**
 * Largest depth still called touching, as a share of the container's smaller extent. It must exceed what rounding
 * does to coordinates (about 1e-12 of them) and stay far under anything a cutter can see: 1.5 µm on a cloth 1.5 m wide.
 */
const TOUCH_TOLERANCE_SHARE = 1e-6;

/**
 * The same as a share of the longest extent at hand, which counts where it is greater: on a strip of leather 40 mm
 * wide, straps of 3 m lie end to end, and rounding grows with the greater of the two.
 */
const LONG_TOUCH_TOLERANCE_SHARE = 2.5e-7;

/** Degrees by which a rotation may differ from an admissible one: rounding of sums of angles, nothing more. */
export const ANGLE_TOLERANCE_DEG = 1e-9;

/** The depth in mm that still counts as touching in this container, with pieces no longer than `longestPiece`. */
export function toleranceOf(container: Container, longestPiece = 0): number {
  const [shorter, longer] =
    container.kind === 'strip' ? [container.width, longestPiece] : extentsOf(container.outline);
  return Math.max(TOUCH_TOLERANCE_SHARE * shorter, LONG_TOUCH_TOLERANCE_SHARE * longer);
}
