import { boundingBox } from '../geometry/rings.ts';
import { placeRing } from '../geometry/transforms.ts';
import type { Lattice, Outline, Pose } from '../packing/types.ts';
import { admissiblePoses } from './poses.ts';
import { latticeFor } from './repeats.ts';
import type { Anchor, Border, ClothRules, Demand, Repeat } from './types.ts';

/** Farther than any cloth is wide, mm. */
const BEYOND_MM = 1e6;
/** Slack where a piece just fits beside the border, mm: sums of decimal measures miss by rounding. */
const FIT_SLACK_MM = 1e-6;

/** Rules for a piece on the border: it stands upright on it, whatever grain and nap say. */
export const uprightRules = (rules: ClothRules, stands: 1 | -1 = 1): ClothRules => ({
  ...rules,
  nap: 'none',
  upDeg: stands === 1 ? 90 : 270,
});

/**
 * Poses of a piece of one hand that stands with its lower edge on the border, free to slide along it; where it also lies
 * on a motif, at every repeat along. `across` is where the roll's y = 0 lies in the axes of the stretch.
 */
export function posesOnBorder(
  demand: Pick<Demand, 'outline' | 'grainDeg' | 'topDeg' | 'turn' | 'anchor'>,
  rules: ClothRules,
  { lines }: Pick<Border, 'lines'>,
  {
    beyondMm,
    mirrored,
    across,
    repeat,
  }: {
    readonly beyondMm: number;
    readonly mirrored: boolean;
    readonly across: number;
    readonly repeat: Repeat | undefined;
  },
): readonly Pose[] {
  return lines.flatMap(({ at, stands }) =>
    admissiblePoses(demand, uprightRules(rules, stands), mirrored).map((pose): Pose => {
      const { minY, maxY } = boundingBox(placeRing(demand.outline, pose.rotation, pose.mirrored));
      const y = stands === 1 ? at + across - beyondMm - minY : at + across + beyondMm - maxY;
      return { rotation: pose.rotation, mirrored, lattice: onLine(y, pose, demand.anchor, repeat, across) };
    }),
  );
}

function onLine(
  y: number,
  pose: Pose,
  anchor: Anchor | undefined,
  repeat: Repeat | undefined,
  across: number,
): Lattice {
  if (!anchor || !repeat || repeat.along === 0) return { origin: [0, y], u: [0, BEYOND_MM], v: null };
  const { origin } = latticeFor(pose, anchor, repeat, across);
  return { origin: [origin[0], y], u: [repeat.along, 0], v: [0, BEYOND_MM] };
}

/** The poses with the places beside the border; those for which it leaves no room are left out. */
export function besideBorder(
  poses: readonly Pose[],
  outline: Outline,
  { field }: Pick<Border, 'field'>,
  across: number,
): readonly Pose[] {
  if (field === null) return poses;
  return poses.flatMap((pose): Pose[] => {
    // What keeps to motifs has its places already.
    if (pose.lattice) return [pose];
    const { rotation, mirrored } = pose;
    const { minY, maxY } = boundingBox(placeRing(outline, rotation, mirrored));
    const [low, high] = [field.from + across - minY, field.to + across - maxY];
    if (high < low - FIT_SLACK_MM) return [];
    const lattice: Lattice = {
      origin: [0, (low + high) / 2],
      u: [0, BEYOND_MM],
      v: null,
      tolerance: Math.max(0, (high - low) / 2),
    };
    return [{ rotation, mirrored, lattice }];
  });
}
