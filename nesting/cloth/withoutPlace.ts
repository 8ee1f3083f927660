import { difference, intersection } from '../geometry/boolean.ts';
import { offsetRing } from '../geometry/offset.ts';
import type { Polygon } from '../geometry/points.ts';
import { boundingBox, counterClockwise, signedArea } from '../geometry/rings.ts';
import { placeRing } from '../geometry/transforms.ts';
import { proveImpossible } from '../packing/impossibility.ts';
import { Model } from '../packing/model.ts';
import type { Impossibility, Item, Lattice, Outline, Point, Pose, Problem } from '../packing/types.ts';

/** Less area than this over an edge is rounding, mm²: no more than the checker tolerates along an edge of a metre. */
const SLIVER_MM2 = 1;
/** Places so far over the edge are looked at as well, mm: a lattice that just reaches it may be rounded off. */
const SLACK_MM = 0.01;
/** Of a finer repeat not every place is tried: there nothing is told. */
const MOST_PLACES = 4_000;

/**
 * Items of which not even one copy, alone on the cloth, finds a place, with the reason for each: too large, or on the
 * repeat nowhere within a sheet and clear of what is blocked. What this tells is proved; an item that it does not name
 * may still find no place beside the others.
 */
export function withoutPlace(problem: Problem): readonly Impossibility[] {
  return problem.items.flatMap((item) => {
    const alone = { ...problem, items: [{ ...item, quantity: 1 }] };
    return proveImpossible(new Model(alone)) ?? offLattice(item, problem) ?? [];
  });
}

function offLattice(item: Item, { containers }: Problem): Impossibility | null {
  const canLie = containers.some((container) => {
    if (item.containers?.includes(container.id) === false) return false;
    if (container.kind === 'strip') return true;
    const { outline, blocked = [] } = container;
    return item.poses.some((pose) => mayLieOn(outline, blocked, item.outline, pose));
  });
  if (canLie) return null;
  return {
    kind: 'no-pose',
    items: [item.id],
    shortBy: 0,
    reason: `no place of ${item.id} on its lattice is inside the outline and clear of what is blocked`,
  };
}

/** False only where every place on the pose's lattice is looked at and none is free. */
function mayLieOn(
  sheet: Outline,
  blocked: readonly Outline[],
  outline: Outline,
  { rotation, mirrored, lattice }: Pose,
): boolean {
  if (!lattice) return true;
  const placed = counterClockwise(placeRing(outline, rotation, mirrored));
  // As far as it may miss the repeat it is drawn in: what is left lies inside wherever it lies.
  const away = (lattice.tolerance ?? 0) * Math.SQRT2;
  const cores = away === 0 ? [placed] : offsetRing(placed, -away, { join: 'miter', miterLimit: 2 });
  if (cores.length === 0) return true;
  const [room, piece] = [boundingBox(sheet), boundingBox(placed)];
  const places = pointsWithin(lattice, {
    minX: room.minX - piece.minX - away - SLACK_MM,
    minY: room.minY - piece.minY - away - SLACK_MM,
    maxX: room.maxX - piece.maxX + away + SLACK_MM,
    maxY: room.maxY - piece.maxY + away + SLACK_MM,
  });
  if (places === null) return true;
  return places.some(([x, y]) => {
    const there = cores.map((ring) => placeRing(ring, 0, false, x, y));
    return (
      areaOf(difference(there, [sheet])) <= SLIVER_MM2 &&
      (blocked.length === 0 || areaOf(intersection(there, blocked)) <= SLIVER_MM2)
    );
  });
}

const areaOf = (polygons: readonly Polygon[]): number =>
  polygons.reduce(
    (sum, polygon) =>
      sum +
      Math.abs(signedArea(polygon.outer)) -
      polygon.holes.reduce((holes, ring) => holes + Math.abs(signedArea(ring)), 0),
    0,
  );

/** The points of a lattice in a box; null where there are too many to look at, or where the piece slides freely. */
function pointsWithin(
  { origin: [ox, oy], u, v }: Lattice,
  { minX, minY, maxX, maxY }: ReturnType<typeof boundingBox>,
): Point[] | null {
  if (v === null) return null;
  if (minX > maxX || minY > maxY) return [];
  const span = u[0] * v[1] - u[1] * v[0];
  const corners = [minX, maxX].flatMap((x) => [minY, maxY].map((y) => [x - ox, y - oy] as const));
  const range = (of: (corner: Point) => number): [number, number] => {
    const values = corners.map(of);
    return [Math.ceil(Math.min(...values)), Math.floor(Math.max(...values))];
  };
  const [i0, i1] = range(([x, y]) => (x * v[1] - y * v[0]) / span);
  const [j0, j1] = range(([x, y]) => (u[0] * y - u[1] * x) / span);
  if ((i1 - i0 + 1) * (j1 - j0 + 1) > MOST_PLACES) return null;
  const found: Point[] = [];
  for (let i = i0; i <= i1; i++) {
    for (let j = j0; j <= j1; j++) {
      const [x, y] = [ox + i * u[0] + j * v[0], oy + i * u[1] + j * v[1]];
      if (x >= minX && x <= maxX && y >= minY && y <= maxY) found.push([x, y]);
    }
  }
  return found;
}
