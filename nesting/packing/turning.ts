import { convexHull } from '../geometry/convexHull.ts';
import type { Ring } from '../geometry/points.ts';
import { SAME_ANGLE_DEGREES } from '../geometry/tolerances.ts';
import { normaliseDegrees } from '../geometry/transforms.ts';
import type { Container, Item, Layout, Outline, Pose, Problem } from './types.ts';

/**
 * Angles that may be anything within an interval, or anything at all. The search knows finite sets of poses only, so it
 * goes in stages: first likely angles, then for each copy the angle it has and a step to either side, with smaller and
 * smaller steps. What a stage has found is where the next begins.
 */

/** Steps of the stages after the first, in degrees for free rotation; a tilt is divided in the same proportion. */
export const FINER_STEPS = [6, 1.5, 0.3] as const;
/** Free rotation counts as an interval so wide when its steps are scaled. Degrees either way. */
const FREE_DEGREES = 24;
/** Angles tried for a copy without a place are so many steps apart, but no closer than this. Degrees. */
const GRID_STEPS = 2.5;
const LEAST_GRID_DEGREES = 2;
/** A tilt is divided into at least so many steps for such a copy. */
const LEAST_TILTS = 8;
/** At most so many different angles of an item are refined; the commonest first. */
const MOST_ANGLES = 8;
/**
 * Sides of a piece and edges of all sheets that are laid along each other, the longest ones. Edges shorter than this part
 * of a side are no edges to lie along: a hide has a thousand of them.
 */
const PIECE_SIDES = 4;
const SHEET_EDGES = 6;
const LEAST_EDGE = 0.5;

/** Whether the item may be turned within an interval or freely: its poses then say nothing about its extents. */
export function turnsFreely(item: Item): boolean {
  return item.anyAngle === true || item.poses.some((pose) => (pose.tilt ?? 0) > 0);
}

export function hasFreeAngles(problem: Problem): boolean {
  return problem.items.some(turnsFreely);
}

/** The problem with finite sets of likely angles in the place of intervals. */
export function withLikelyAngles(problem: Problem): Problem {
  return {
    ...problem,
    items: problem.items.map((item) => withPoses(item, likelyPoses(item, problem.containers))),
  };
}

/**
 * The problem with, for each item that may be turned, the angles its copies have in a layout and a step to either side
 * of each; an item of which a copy is missing keeps its likely angles as well.
 *
 * @param step for free rotation, in degrees; see `FINER_STEPS`
 */
export function withAnglesAround(problem: Problem, layout: Layout, step: number): Problem {
  const items = problem.items.map((item) => {
    if (!turnsFreely(item)) return item;
    const placed = layout.placements.filter((placement) => placement.item === item.id);
    const counts = new Map<string, { pose: Pose; count: number }>();
    for (const { rotation, mirrored } of placed) {
      const key = `${rotation} ${mirrored}`;
      const known = counts.get(key);
      counts.set(key, { pose: { rotation, mirrored }, count: (known?.count ?? 0) + 1 });
    }
    const byCount = [...counts.values()].sort((a, b) => b.count - a.count);
    const around = byCount.flatMap(({ pose }, rank) => [
      pose,
      ...(rank < MOST_ANGLES ? [-1, 1].flatMap((sign) => stepped(item, pose, sign * step)) : []),
    ]);
    const isMissing = placed.length < item.quantity;
    if (!isMissing) return withPoses(item, around);
    return withPoses(item, [...around, ...likelyPoses(item, problem.containers), ...allAround(item, step)]);
  });
  return { ...problem, items };
}

/** Angles all around for a copy that has found no place at likely ones, closer together from stage to stage. */
function allAround(item: Item, step: number): Pose[] {
  const apart = GRID_STEPS * step;
  if (!item.anyAngle) {
    const count = Math.max(LEAST_TILTS, Math.round((2 * FREE_DEGREES) / apart));
    const parts = Array.from({ length: count + 1 }, (_, i) => (2 * i) / count - 1);
    return item.poses.flatMap((pose) => parts.flatMap((part) => stepped(item, pose, part * FREE_DEGREES)));
  }
  const flags = [...new Set(item.poses.map((pose) => pose.mirrored))];
  return flags.flatMap((mirrored) =>
    Array.from({ length: Math.round(360 / Math.max(LEAST_GRID_DEGREES, apart)) }, (_, i) => ({
      rotation: i * Math.max(LEAST_GRID_DEGREES, apart),
      mirrored,
    })),
  );
}

function withPoses({ anyAngle: _, ...item }: Item, poses: readonly Pose[]): Item {
  const kept: Pose[] = [];
  for (const pose of poses) {
    const isKnown = kept.some(
      (other) =>
        other.mirrored === pose.mirrored &&
        other.lattice === pose.lattice &&
        differenceOf(other.rotation, pose.rotation) < SAME_ANGLE_DEGREES,
    );
    if (!isKnown) kept.push(pose);
  }
  return { ...item, poses: kept };
}

/** The pose a step further, if the item may be turned so far; a tilt goes to its end at most. */
function stepped(item: Item, { rotation, mirrored }: Pose, step: number): Pose[] {
  if (item.anyAngle) return [{ rotation: normaliseDegrees(rotation + step), mirrored }];
  return item.poses.flatMap((pose): Pose[] => {
    const tilt = pose.tilt ?? 0;
    if (tilt === 0 || pose.lattice || pose.mirrored !== mirrored) return [];
    const off = signedDifference(rotation, pose.rotation);
    if (Math.abs(off) > tilt + SAME_ANGLE_DEGREES) return [];
    const to = Math.max(-tilt, Math.min(tilt, off + (step * tilt) / FREE_DEGREES));
    return [{ rotation: normaliseDegrees(pose.rotation + to), mirrored }];
  });
}

function likelyPoses(item: Item, containers: readonly Container[]): Pose[] {
  if (item.anyAngle) {
    const flags = [...new Set(item.poses.map((pose) => pose.mirrored))];
    return flags.flatMap((mirrored) =>
      likelyAngles(item.outline, mirrored, containers).map((rotation) => ({ rotation, mirrored })),
    );
  }
  return item.poses.flatMap(({ tilt = 0, ...pose }): Pose[] => {
    if (tilt === 0 || pose.lattice) return [pose];
    return [0, -1, 1, -0.5, 0.5].map((part) => ({
      ...pose,
      rotation: normaliseDegrees(pose.rotation + part * tilt),
    }));
  });
}

/**
 * Angles worth trying for a freely turning outline: steps of 45°; each of the longest sides of its hull level, either
 * way up, or upright; and along each of the longest edges of the sheets.
 */
export function likelyAngles(
  outline: Outline,
  mirrored: boolean,
  containers: readonly Container[],
): number[] {
  const sides = directions([convexHull(outline)], PIECE_SIDES).map(({ length, degrees }) => ({
    length,
    degrees: mirrored ? 180 - degrees : degrees,
  }));
  const edges = directions(
    containers.flatMap((container) => (container.kind === 'sheet' ? [container.outline] : [])),
    SHEET_EDGES,
  );
  const angles: number[] = [];
  const add = (degrees: number): void => {
    const angle = normaliseDegrees(degrees);
    if (!angles.some((other) => differenceOf(angle, other) < SAME_ANGLE_DEGREES)) angles.push(angle);
  };
  for (const step of [0, 90, 180, 270, 45, 135, 225, 315]) add(step);
  for (const side of sides) for (const quarter of [0, 90, 180, 270]) add(quarter - side.degrees);
  for (const side of sides.slice(0, 2))
    for (const edge of edges)
      if (edge.length >= LEAST_EDGE * side.length)
        for (const turn of [0, 180]) add(edge.degrees - side.degrees + turn);
  return angles;
}

/** Lengths and directions, in degrees, of the longest sides of some rings. */
function directions(rings: readonly Ring[], most: number): { length: number; degrees: number }[] {
  return rings
    .flatMap((ring) =>
      ring.map((a, i) => {
        const b = ring[(i + 1) % ring.length] as readonly [number, number];
        const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
        return { length: Math.hypot(dx, dy), degrees: (Math.atan2(dy, dx) * 180) / Math.PI };
      }),
    )
    .sort((p, q) => q.length - p.length)
    .slice(0, most);
}

function signedDifference(a: number, b: number): number {
  const rest = normaliseDegrees(a - b);
  return rest > 180 ? rest - 360 : rest;
}

function differenceOf(a: number, b: number): number {
  return Math.abs(signedDifference(a, b));
}
