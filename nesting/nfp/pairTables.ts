import { normaliseDegrees, placeRing } from '../geometry/transforms.ts';
import { DepthTables } from './depthTables.ts';
import { noFitPolygon } from './noFit.ts';
import type { Poses, Shape } from './poses.ts';

/**
 * No-fit tables of pairs of poses, built when first asked for and shared between all pairs that are the same up
 * to a common rotation or mirroring, and between the two orders of a pair.
 *
 * Cache key: (shape A, shape B, rotation of B seen from A, mirrored relative to A), A being the lower number.
 * If pose p of A is the map P and pose q of B is Q, their no-fit polygon is P applied to that of A and P⁻¹Q(B);
 * and NFP(B, A) = −NFP(A, B). So a pair stores its table and whose frame to look it up in:
 *
 *     link(p, q) = 2 · table       look up P⁻¹ · (position of q − position of p)
 *                = 2 · table + 1   look up Q⁻¹ · (position of p − position of q)
 */
export class PairTables {
  readonly poses: Poses;
  readonly tables: DepthTables;
  readonly #tableByKey = new Map<string, number>();
  #columns: Int32Array[] = [];

  constructor(poses: Poses, tables = new DepthTables()) {
    this.poses = poses;
    this.tables = tables;
  }

  /** Links of every pose to pose q, −1 where not yet built. Valid until poses are added. */
  column(q: number): Int32Array {
    const known = this.#columns[q];
    if (known && known.length >= this.poses.count) return known;
    const column = new Int32Array(this.poses.count).fill(-1);
    if (known) column.set(known);
    this.#columns[q] = column;
    return column;
  }

  /** The link of a pair, built if needed. */
  link(p: number, q: number): number {
    const column = this.column(q);
    const known = column[p] as number;
    if (known >= 0) return known;
    const { poses } = this;
    const turned = (poses.shape[p] as number) > (poses.shape[q] as number);
    const link = turned ? 2 * this.#table(q, p) + 1 : 2 * this.#table(p, q);
    column[p] = link;
    return link;
  }

  /** Depth of overlap of pose q at (qx, qy) with pose p at (px, py). */
  depth(p: number, px: number, py: number, q: number, qx: number, qy: number): number {
    const link = this.link(p, q);
    const swapped = (link & 1) !== 0;
    const dx = swapped ? px - qx : qx - px;
    const dy = swapped ? py - qy : qy - py;
    const m = 4 * (swapped ? q : p);
    const matrix = this.poses.matrix;
    // The inverse of a rotation or reflection is its transpose.
    return this.tables.depth(
      link >> 1,
      (matrix[m] as number) * dx + (matrix[m + 2] as number) * dy,
      (matrix[m + 1] as number) * dx + (matrix[m + 3] as number) * dy,
    );
  }

  #table(p: number, q: number): number {
    const { poses } = this;
    const difference = (poses.rotation[q] as number) - (poses.rotation[p] as number);
    const rotation = normaliseDegrees(poses.mirrored[p] === 1 ? -difference : difference);
    const mirrored = poses.mirrored[p] !== poses.mirrored[q];
    const a = poses.shape[p] as number;
    const b = poses.shape[q] as number;
    const key = `${a},${b},${rotation.toFixed(6)},${mirrored}`;
    const known = this.#tableByKey.get(key);
    if (known !== undefined) return known;
    const table = this.tables.add(
      noFitPolygon(
        (poses.shapes[a] as Shape).spaced,
        placeRing((poses.shapes[b] as Shape).spaced, rotation, mirrored),
      ),
    );
    this.#tableByKey.set(key, table);
    return table;
  }
}
