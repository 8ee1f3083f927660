import { boundingBox } from '../geometry/rings.ts';
import { placePoint, placeRing, turnBy } from '../geometry/transforms.ts';
import type { Lattice, Outline, Point, Pose } from '../packing/types.ts';
import type { Anchor, Repeat } from './types.ts';

/**
 * The positions of a pose's reference point that put the piece's anchor on the repeat. `across` is where the roll's
 * y = 0 lies in the axes of the stretch.
 */
export function latticeFor(pose: Pose, anchor: Anchor, repeat: Repeat, across: number): Lattice {
  const [ax, ay] = placePoint(anchor.at, turnBy(pose.rotation), pose.mirrored, 0, 0);
  const origin: Point = [
    repeat.origin[0] + anchor.onMotif[0] - ax,
    repeat.origin[1] + anchor.onMotif[1] + across - ay,
  ];
  const { along, across: wide, kind } = repeat;
  const tolerance = anchor.toleranceMm > 0 ? { tolerance: anchor.toleranceMm } : {};
  const turned = ([x, y]: Point): Point => placePoint([x, y], turnBy(repeat.skewDeg ?? 0), false, 0, 0);
  // What recurs one way only leaves the piece free to slide the other way: along a stripe.
  if (wide === 0) return { origin, u: turned([along, 0]), v: null, ...tolerance };
  if (along === 0) return { origin, u: turned([0, wide]), v: null, ...tolerance };
  switch (kind) {
    case 'straight':
      return { origin, u: turned([along, 0]), v: turned([0, wide]), ...tolerance };
    case 'halfDrop':
      return { origin, u: turned([along, 0]), v: turned([along / 2, wide]), ...tolerance };
    case 'brick':
      return { origin, u: turned([along, wide / 2]), v: turned([0, wide]), ...tolerance };
  }
}

/** The poses with the places that the repeat leaves them; a tilt would carry the anchor off it, so there is none. */
export function onRepeat(
  poses: readonly Pose[],
  anchor: Anchor | undefined,
  repeat: Repeat | undefined,
  across: number,
): readonly Pose[] {
  if (!anchor || !repeat || (repeat.along === 0 && repeat.across === 0)) return poses;
  return poses.map((pose) => ({
    rotation: pose.rotation,
    mirrored: pose.mirrored,
    lattice: latticeFor(pose, anchor, repeat, across),
  }));
}

/** Slack for positions that just fit, mm: sums of decimal measures miss by rounding. */
const FIT_SLACK_MM = 1e-6;

/** Whether a piece in this pose can lie on its lattice somewhere on a strip so wide. */
export function canLie(outline: Outline, { rotation, mirrored, lattice }: Pose, width: number): boolean {
  if (!lattice) return true;
  const { minY, maxY } = boundingBox(placeRing(outline, rotation, mirrored));
  const [low, high] = [-minY - FIT_SLACK_MM, width - maxY + FIT_SLACK_MM];
  if (low > high) return false;
  const { origin, u, v, tolerance = 0 } = lattice;
  // Turned off the grain, its points lie at every height.
  if (u[1] !== 0 && (v === null ? u[0] !== 0 : v[0] !== 0 && v[1] !== 0)) return true;
  // All heights of the lattice are whole steps apart: half a repeat across in a brick, else a whole one.
  const step = v === null ? Math.abs(u[1]) : Math.min(...[u[1], v[1]].map(Math.abs).filter((y) => y > 0));
  if (step === 0 || !Number.isFinite(step)) return true;
  const first = origin[1] + Math.ceil((low - tolerance - origin[1]) / step) * step;
  return first <= high + tolerance;
}
