import { offsetRing } from '../geometry/offset.ts';
import type { Ring } from '../geometry/points.ts';
import { boundingBox, cleanRing, counterClockwise, signedArea } from '../geometry/rings.ts';
import { simplifyInwards, simplifyOutwards } from '../geometry/simplify.ts';
import { normaliseDegrees } from '../geometry/transforms.ts';
import { insideBlocked, outsideSheet } from '../nfp/noFit.ts';
import { PairTables } from '../nfp/pairTables.ts';
import { Poses, type Shape } from '../nfp/poses.ts';
import { LatticeSteps } from './lattice.ts';
import { withLikelyAngles } from './turning.ts';
import type { Container, Item, Pose, Problem } from './types.ts';

/** How closely outlines are followed while searching; every detail level contains the true outlines. */
export interface Detail {
  /** Outlines with more vertices are simplified outwards … */
  readonly vertices: number;
  /** … as long as no more than this part of their area is added. */
  readonly maxAreaRatio: number;
}

/**
 * Grid cells over the positions of a pose on a sheet: a sheet is much larger than a piece, and hides have hundreds of
 * vertices.
 */
const SHEET_CELLS = 4096;

/** Outlines as they are. */
export const TRUE_OUTLINES: Detail = {
  vertices: Number.POSITIVE_INFINITY,
  maxAreaRatio: 0,
};

/** One sheet or the strip, each copy by itself. */
export interface Room {
  readonly container: number;
  readonly copy: number;
}

/** One copy of an item. */
export interface Copy {
  readonly item: number;
  readonly copy: number;
}

/**
 * A problem made ready for searching: outlines cleaned, spaced by the gap and simplified, poses numbered,
 * copies listed one by one, tables at hand. Everything that does not change during a search.
 */
export class Model {
  readonly problem: Problem;
  readonly poses: Poses;
  readonly pairs: PairTables;
  readonly copies: readonly Copy[];
  readonly rooms: readonly Room[];
  /** Width of the strip, of the widest if there are several; 0 for sheets. */
  readonly stripWidth: number;
  /** Longest strip allowed, of several the least, perhaps infinite. */
  readonly maxLength: number;
  /** What each pose's positions are confined to; null for most. */
  readonly lattices: (LatticeSteps | null)[] = [];
  /** Pose numbers of each item. */
  readonly itemPoses: readonly Int32Array[];
  /** True area of each item. */
  readonly itemArea: readonly number[];
  /** Whether item i may go into container c: `allowed[i][c]`. */
  readonly allowed: readonly (readonly boolean[])[];
  readonly containerArea: readonly number[];
  /** Typical length in this problem: what relative tolerances refer to. */
  readonly size: number;
  readonly totalArea: number;
  readonly #roomTables = new Map<number, number>();
  readonly #tidyOutlines = new Map<number, { outline: Ring | null; blocked: Ring[] }>();
  readonly #detail: Detail;
  /** Strips with nothing blocked. */
  readonly #isPlain: boolean;

  constructor(problem: Problem, detail: Detail = TRUE_OUTLINES) {
    this.problem = problem;
    const likely = withLikelyAngles(problem);
    this.#detail = detail;
    const strips = problem.containers.filter((c) => c.kind === 'strip');
    this.#isPlain =
      strips.length > 0 && strips.every(({ blocked }) => blocked === undefined || blocked.length === 0);
    this.stripWidth = Math.max(0, ...strips.map(({ width }) => width));
    const longest = strips.map(({ maxLength }) => maxLength ?? Number.POSITIVE_INFINITY);
    this.maxLength = strips.length > 0 ? Math.min(...longest) : 0;
    const shapes = new ShapeList(problem.gap, detail);
    const shapeOf = problem.items.map((item) => shapes.add(item.outline));
    this.poses = new Poses(shapes.list);
    this.pairs = new PairTables(this.poses);
    this.itemPoses = likely.items.map((item, i) =>
      Int32Array.from(
        new Set(
          admissiblePoses(item).map(({ rotation, mirrored, lattice }) => {
            const tag = lattice ? JSON.stringify(lattice) : '';
            const pose = this.poses.add(shapeOf[i] as number, rotation, mirrored, tag);
            this.lattices[pose] ??= lattice ? new LatticeSteps(lattice) : null;
            return pose;
          }),
        ),
      ),
    );
    this.itemArea = problem.items.map((item) => Math.abs(signedArea(item.outline)));
    this.allowed = problem.items.map((item) =>
      problem.containers.map((c) => item.containers === undefined || item.containers.includes(c.id)),
    );
    this.copies = problem.items.flatMap((item, i) =>
      Array.from({ length: item.quantity }, (_, copy) => ({ item: i, copy })),
    );
    // More sheets than copies are never used.
    this.rooms = problem.containers.flatMap((c, container) =>
      Array.from(
        {
          length: c.kind === 'strip' ? 1 : Math.min(c.quantity, this.copies.length),
        },
        (_, copy) => ({ container, copy }),
      ),
    );
    this.containerArea = problem.containers.map(areaOf);
    this.totalArea = this.copies.reduce((sum, { item }) => sum + (this.itemArea[item] as number), 0);
    this.size = sizeOf(problem, this.stripWidth);
  }

  /** The same problem with outlines simplified, or this one if none is affected. */
  simplified(detail: Detail): Model {
    const isFine = this.poses.shapes.every(
      ({ body, spaced }) => body.length <= detail.vertices && spaced.length <= detail.vertices,
    );
    const areSheetsFine = this.problem.containers.every(
      (c) =>
        (c.kind === 'strip' || c.outline.length <= detail.vertices) &&
        (c.blocked ?? []).every((ring) => ring.length <= detail.vertices),
    );
    return isFine && areSheetsFine ? this : new Model(this.problem, detail);
  }

  /**
   * The pose to try first: of those that fit the strip's width, or all on sheets, the one with the shortest extent
   * along the cloth. −1 if there is none, or none that is free of a lattice.
   */
  favouritePose(item: number): number {
    const { bodyBox } = this.poses;
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    for (const pose of this.itemPoses[item] as Int32Array) {
      const length = (bodyBox[4 * pose + 2] as number) - (bodyBox[4 * pose] as number);
      const height = (bodyBox[4 * pose + 3] as number) - (bodyBox[4 * pose + 1] as number);
      if (this.lattices[pose]) continue;
      if ((this.stripWidth > 0 && height > this.widestFor(item)) || length >= least) continue;
      best = pose;
      least = length;
    }
    return best;
  }

  /** Width of the widest strip that the item may go into. */
  widestFor(item: number): number {
    return this.problem.containers.reduce(
      (most, c, i) => (c.kind === 'strip' && this.allowed[item]?.[i] ? Math.max(most, c.width) : most),
      0,
    );
  }

  /**
   * Table of the positions at which a pose reaches out of a room's sheet or into what is blocked in it; −1 for a strip
   * with nothing blocked, where the range of positions says it all.
   */
  roomTable(room: number, pose: number): number {
    if (this.#isPlain) return -1;
    const { container } = this.rooms[room] as Room;
    const key = container * 2 ** 24 + pose;
    const known = this.#roomTables.get(key);
    if (known !== undefined) return known;
    const place = this.problem.containers[container] as Container;
    const { outline, blocked } = this.#roomOutlines(container, place);
    const body = this.poses.body(pose);
    let table = -1;
    if (outline) table = this.pairs.tables.add(outsideSheet(outline, blocked, body), SHEET_CELLS);
    else if (blocked.length > 0) table = this.pairs.tables.add(insideBlocked(blocked, body));
    this.#roomTables.set(key, table);
    return table;
  }

  /** A sheet's outline, and blocked areas, cleaned and as closely as this model follows outlines. */
  #roomOutlines(container: number, place: Container): { outline: Ring | null; blocked: Ring[] } {
    const known = this.#tidyOutlines.get(container);
    if (known) return known;
    const { vertices, maxAreaRatio } = this.#detail;
    const options = { maxAreaRatio, targetVertices: vertices };
    const isTrue = vertices === Number.POSITIVE_INFINITY;
    const tidy = (ring: Ring) => cleanRing(counterClockwise(ring));
    const outlines = {
      outline:
        place.kind === 'strip'
          ? null
          : isTrue
            ? tidy(place.outline)
            : simplifyInwards(place.outline, options),
      blocked: (place.blocked ?? [])
        .map((ring) => (isTrue ? tidy(ring) : simplifyOutwards(ring, options)))
        .filter((ring) => ring.length >= 3),
    };
    this.#tidyOutlines.set(container, outlines);
    return outlines;
  }
}

/** Collects different outlines; equal ones share a number. */
class ShapeList {
  readonly list: Shape[] = [];
  readonly #byKey = new Map<string, number>();
  readonly #gap: number;
  readonly #detail: Detail;

  constructor(gap: number, detail: Detail) {
    this.#gap = gap;
    this.#detail = detail;
  }

  add(outline: Ring): number {
    const key = outline.map(([x, y]) => `${x} ${y}`).join();
    const known = this.#byKey.get(key);
    if (known !== undefined) return known;
    const body = cleanRing(counterClockwise(outline));
    if (body.length < 3) throw new RangeError(`an outline of ${outline.length} points has no area`);
    const spaced = this.#gap > 0 ? withMargin(body, this.#gap / 2) : body;
    const simple = this.#simplified(body);
    const id = this.list.length;
    this.list.push({
      outline: body,
      body: simple,
      spaced: this.#gap > 0 ? this.#simplified(spaced) : simple,
    });
    this.#byKey.set(key, id);
    return id;
  }

  #simplified(ring: Ring): Ring {
    const { vertices, maxAreaRatio } = this.#detail;
    return ring.length <= vertices
      ? ring
      : simplifyOutwards(ring, { maxAreaRatio, targetVertices: vertices });
  }
}

/** The outline grown by a distance, round at the corners; a cavity that closes is filled. */
function withMargin(ring: Ring, distance: number): Ring {
  const grown = offsetRing(ring, distance, { join: 'round' });
  return grown.reduce((a, b) => (signedArea(a) > signedArea(b) ? a : b));
}

/** All poses an item may take; intervals of angles become sets of likely ones. */
export function admissiblePoses(item: Item): readonly Pose[] {
  return item.poses.map((pose) => ({ ...pose, rotation: normaliseDegrees(pose.rotation) }));
}

function areaOf(container: Container): number {
  if (container.kind === 'strip') return container.width * (container.maxLength ?? Number.POSITIVE_INFINITY);
  return Math.abs(signedArea(container.outline));
}

function sizeOf(problem: Problem, stripWidth: number): number {
  if (stripWidth > 0) return stripWidth;
  let size = 0;
  for (const container of problem.containers)
    if (container.kind === 'sheet') {
      const box = boundingBox(container.outline);
      size = Math.max(size, Math.min(box.maxX - box.minX, box.maxY - box.minY));
    }
  return size || 1;
}
