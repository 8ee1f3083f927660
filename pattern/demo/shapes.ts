import type { Outline } from '../../nesting/packing/types.ts';
import { flatten } from '../reading/flatten.ts';
import { FLATTENING_MM } from '../reading/limits.ts';
import { IDENTITY } from '../reading/matrix.ts';
import type { PathCommand } from '../reading/pathCommands.ts';

/**
 * The shapes of the demo pattern, a saddle roll with its picnic gear, our own invention. Millimetres, y up,
 * counter-clockwise, box starting at (0, 0). `demoPaths` holds the true curves, the functions give them flattened.
 */
export const demoPaths = {
  /** Side of the saddle roll, 320 × 140: low at the front, no symmetry of any kind. Cut as a mirrored pair. */
  sideGusset: [
    ['M', 45, 0],
    ['L', 180, 0],
    ['C', 240, 0, 290, 20, 320, 62],
    ['L', 308, 104],
    ['C', 250, 112, 200, 140, 120, 140],
    ['L', 30, 140],
    ['C', 12, 140, 0, 126, 0, 108],
    ['L', 0, 45],
    ['C', 0, 20, 20, 0, 45, 0],
    ['Z'],
  ],
  /** Main body, 460 × 310, lower corners rounded; its own mirror image. */
  bodyPanel: [
    ['M', 60, 0],
    ['L', 400, 0],
    ['C', 433, 0, 460, 27, 460, 60],
    ['L', 460, 310],
    ['L', 0, 310],
    ['L', 0, 60],
    ['C', 0, 27, 27, 0, 60, 0],
    ['Z'],
  ],
  /** Flap, 300 × 220, front edge curved, hinge edge at the top; its own mirror image. */
  flap: [
    ['M', 0, 220],
    ['L', 0, 80],
    ['C', 0, 30, 60, 0, 150, 0],
    ['C', 240, 0, 300, 30, 300, 80],
    ['L', 300, 220],
    ['Z'],
  ],
  /** Right half of the body for the lining, 230 × 310: edge 0, from (0, 310) down to (0, 0), lies on the fold. */
  liningBodyHalf: [
    ['M', 0, 310],
    ['L', 0, 0],
    ['L', 170, 0],
    ['C', 203, 0, 230, 27, 230, 60],
    ['L', 230, 310],
    ['Z'],
  ],
  /** Front pocket, 240 × 170, one corner cut off for the hand: left and right differ. */
  frontPocket: [['M', 0, 0], ['L', 240, 0], ['L', 240, 115], ['L', 170, 170], ['L', 0, 170], ['Z']],
} as const satisfies Record<string, readonly PathCommand[]>;

/** Index of the edge of `liningBodyHalf()` that lies on the fold: from (0, 310) down to (0, 0). */
export const LINING_FOLD_EDGE = 0;

/** A closed path without its repeated first point, curves within `FLATTENING_MM`. */
function ringOf(path: readonly PathCommand[]): Outline {
  const points = flatten(path, IDENTITY, FLATTENING_MM)[0]?.points ?? [];
  const first = points[0];
  const last = points[points.length - 1];
  return first && last && first[0] === last[0] && first[1] === last[1] ? points.slice(0, -1) : points;
}

export const sideGusset = (): Outline => ringOf(demoPaths.sideGusset);
export const bodyPanel = (): Outline => ringOf(demoPaths.bodyPanel);
export const flap = (): Outline => ringOf(demoPaths.flap);
export const liningBodyHalf = (): Outline => ringOf(demoPaths.liningBodyHalf);
export const frontPocket = (): Outline => ringOf(demoPaths.frontPocket);
