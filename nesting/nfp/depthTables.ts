import type { Ring } from '../geometry/points.ts';
import { boundingBox } from '../geometry/rings.ts';
import type { ForbiddenRegion } from './noFit.ts';

/**
 * Sine of a turn too small to tell its side: at such a vertex rounding can put a point into the wedge between
 * both normals from the wrong side. Distances are off by less than its square, relatively.
 */
const STRAIGHT_SINE = 1e-6;

/**
 * Depth of penetration, looked up: for a forbidden region (a no-fit polygon, or what is outside a sheet), how
 * far a reference point inside it is from its boundary, exactly; 0 outside or on it.
 *
 * Over the bounding box of each region lies a grid. Each cell lists the edges that can be the nearest to some
 * point of the cell, mostly one to six; a cell wholly outside has the empty list. So a lookup costs a division
 * and a few distances whatever the number of edges. All regions share a few flat arrays:
 *
 *     box     [minX minY width height  columns/width rows/height]        6 doubles a region
 *     place   [columns  firstCell  firstEdge  endEdge  forbiddenOutside] 5 ints a region
 *     cells   [offset into lists]                                        1 int a cell; equal neighbours share a list
 *     lists   [count e0 e1 …]                                            edges counted over all regions
 *     edges   [ax ay ux uy length flags bx by]                           8 doubles (one cache line) an edge
 *
 * An edge runs from a to b with unit direction u, the forbidden side to its left. A point whose nearest boundary
 * point is a vertex is inside exactly if the boundary turns right there: flag 1 for a, 2 for b. Where the
 * boundary runs (nearly) straight on, flag 4 for a, 8 for b, and everywhere else, the side of the edge tells.
 */
export class DepthTables {
  count = 0;
  box = new Float64Array(6 * 64);
  place = new Int32Array(5 * 64);
  cells = new Int32Array(1 << 14);
  /** Offset 0 is the empty list. */
  lists = new Int32Array(1 << 14);
  edges = new Float64Array(8 << 10);
  #cellCount = 0;
  #listCount = 1;
  #edgeCount = 0;
  readonly #finest: number;

  /** `cells` is the wanted number of grid cells a region, a power of two. */
  constructor(cells = 256) {
    this.#finest = cells;
  }

  /** Takes a region in; returns its number. */
  add(region: ForbiddenRegion): number {
    const id = this.count++;
    const firstEdge = this.#edgeCount;
    for (const ring of region.rings) this.#addRing(ring);
    const box = boundingBox(region.rings.flat());
    const empty = firstEdge === this.#edgeCount;
    const width = empty ? 0 : box.maxX - box.minX;
    const height = empty ? 0 : box.maxY - box.minY;
    let columns = 1;
    let rows = 1;
    while (columns * rows < this.#finest)
      if (width / columns > height / rows) columns *= 2;
      else rows *= 2;
    this.box = roomFor(this.box, 6 * this.count);
    this.place = roomFor(this.place, 5 * this.count);
    this.box.set([box.minX, box.minY, width, height, columns / (width || 1), rows / (height || 1)], 6 * id);
    const firstCell = this.#cellCount;
    this.place.set([columns, firstCell, firstEdge, this.#edgeCount, region.forbiddenOutside ? 1 : 0], 5 * id);
    if (empty) return id;
    this.#cellCount += columns * rows;
    this.cells = roomFor(this.cells, this.#cellCount);
    const all = new Int32Array(this.#edgeCount - firstEdge).map((_, i) => firstEdge + i);
    this.#fill({
      firstCell,
      columns,
      minX: box.minX,
      minY: box.minY,
      cellWidth: width / columns,
      cellHeight: height / rows,
    }).block(0, 0, columns, rows, all);
    return id;
  }

  /** Depth of the point (x, y) in a region; 0 if it is free. Outside the box of a sheet's region: infinite. */
  depth(id: number, x: number, y: number): number {
    const box = this.box;
    const place = this.place;
    const h = 6 * id;
    const p = 5 * id;
    const px = x - (box[h] as number);
    const py = y - (box[h + 1] as number);
    if (!(px > 0 && py > 0 && px < (box[h + 2] as number) && py < (box[h + 3] as number))) {
      if (place[p + 4] === 0) return 0;
      return this.#outsideDepth(id, x, y);
    }
    const column = (px * (box[h + 4] as number)) | 0;
    const row = (py * (box[h + 5] as number)) | 0;
    let k = this.cells[(place[p + 1] as number) + row * (place[p] as number) + column] as number;
    if (k === 0) return 0;
    const lists = this.lists;
    const edges = this.edges;
    const end = k + (lists[k] as number);
    let least = Number.POSITIVE_INFINITY;
    let inside = false;
    while (k < end) {
      const e = (lists[++k] as number) << 3;
      const qx = x - (edges[e] as number);
      const qy = y - (edges[e + 1] as number);
      const ux = edges[e + 2] as number;
      const uy = edges[e + 3] as number;
      const along = qx * ux + qy * uy;
      if (along <= 0) {
        const square = qx * qx + qy * qy;
        if (square < least) {
          least = square;
          const flags = edges[e + 5] as number;
          inside = (flags & 4) !== 0 ? ux * qy - uy * qx > 0 : (flags & 1) !== 0;
        }
        continue;
      }
      const over = along - (edges[e + 4] as number);
      const across = ux * qy - uy * qx;
      const square = across * across + (over > 0 ? over * over : 0);
      if (square < least) {
        least = square;
        const flags = edges[e + 5] as number;
        inside = over > 0 && (flags & 8) === 0 ? (flags & 2) !== 0 : across > 0;
      }
    }
    return inside ? Math.sqrt(least) : 0;
  }

  /** Distance to the boundary of a region that has no outside, from beyond its box or on its border. */
  #outsideDepth(id: number, x: number, y: number): number {
    const from = this.place[5 * id + 2] as number;
    const to = this.place[5 * id + 3] as number;
    let least = Number.POSITIVE_INFINITY;
    for (let e = 8 * from; e < 8 * to; e += 8) {
      const square = this.#squareDistance(e, x, y);
      if (square < least) least = square;
    }
    const h = 6 * id;
    const onBorder =
      x >= (this.box[h] as number) &&
      y >= (this.box[h + 1] as number) &&
      x <= (this.box[h] as number) + (this.box[h + 2] as number) &&
      y <= (this.box[h + 1] as number) + (this.box[h + 3] as number);
    return onBorder && least === 0 ? 0 : Math.sqrt(least);
  }

  #squareDistance(e: number, x: number, y: number): number {
    const edges = this.edges;
    const qx = x - (edges[e] as number);
    const qy = y - (edges[e + 1] as number);
    const ux = edges[e + 2] as number;
    const uy = edges[e + 3] as number;
    const along = qx * ux + qy * uy;
    if (along <= 0) return qx * qx + qy * qy;
    const over = along - (edges[e + 4] as number);
    const across = ux * qy - uy * qx;
    return across * across + (over > 0 ? over * over : 0);
  }

  #addRing(ring: Ring): void {
    const n = ring.length;
    this.edges = roomFor(this.edges, 8 * (this.#edgeCount + n));
    const edges = this.edges;
    const first = 8 * this.#edgeCount;
    for (let i = 0; i < n; i++) {
      const [ax, ay] = ring[i] as readonly [number, number];
      const [bx, by] = ring[(i + 1) % n] as readonly [number, number];
      const length = Math.hypot(bx - ax, by - ay);
      edges.set([ax, ay, (bx - ax) / length, (by - ay) / length, length, 0, bx, by], first + 8 * i);
    }
    for (let i = 0; i < n; i++) {
      const e = first + 8 * i;
      const f = first + 8 * ((i + 1) % n);
      const left =
        (edges[e + 2] as number) * (edges[f + 3] as number) -
        (edges[e + 3] as number) * (edges[f + 2] as number);
      const ahead =
        (edges[e + 2] as number) * (edges[f + 2] as number) +
        (edges[e + 3] as number) * (edges[f + 3] as number);
      const straight = ahead > 0 && Math.abs(left) < STRAIGHT_SINE;
      if (!straight && left >= 0) continue;
      edges[e + 5] = (edges[e + 5] as number) | (straight ? 8 : 2);
      edges[f + 5] = (edges[f + 5] as number) | (straight ? 4 : 1);
    }
    this.#edgeCount += n;
  }

  /** Fills the cells of a grid block by block, halving blocks as long as that shortens their lists. */
  #fill(grid: {
    firstCell: number;
    columns: number;
    minX: number;
    minY: number;
    cellWidth: number;
    cellHeight: number;
  }) {
    const block = (
      column: number,
      row: number,
      columns: number,
      rows: number,
      candidates: Int32Array,
    ): void => {
      const halfWidth = (columns * grid.cellWidth) / 2;
      const halfHeight = (rows * grid.cellHeight) / 2;
      const x = grid.minX + column * grid.cellWidth + halfWidth;
      const y = grid.minY + row * grid.cellHeight + halfHeight;
      const reach = Math.hypot(halfWidth, halfHeight) * (1 + 1e-9);
      const distances = new Float64Array(candidates.length);
      let least = Number.POSITIVE_INFINITY;
      let inside = false;
      candidates.forEach((edge, k) => {
        const d = Math.sqrt(this.#squareDistance(8 * edge, x, y));
        distances[k] = d;
        if (d < least) {
          least = d;
          inside = this.#isInsideAt(8 * edge, x, y);
        }
      });
      if (!inside && least > reach) {
        this.#setBlock(grid, column, row, columns, rows, 0);
        return;
      }
      const near = candidates.filter((_, k) => (distances[k] as number) <= least + 2 * reach);
      if (near.length <= 1 || columns * rows === 1) {
        const offset = this.#listCount;
        this.#listCount += near.length + 1;
        this.lists = roomFor(this.lists, this.#listCount);
        this.lists[offset] = near.length;
        this.lists.set(near, offset + 1);
        this.#setBlock(grid, column, row, columns, rows, offset);
        return;
      }
      if (columns >= rows) {
        block(column, row, columns / 2, rows, near);
        block(column + columns / 2, row, columns / 2, rows, near);
      } else {
        block(column, row, columns, rows / 2, near);
        block(column, row + rows / 2, columns, rows / 2, near);
      }
    };
    return { block };
  }

  /** Whether (x, y) is inside, given that edge e is the nearest. */
  #isInsideAt(e: number, x: number, y: number): boolean {
    const edges = this.edges;
    const qx = x - (edges[e] as number);
    const qy = y - (edges[e + 1] as number);
    const ux = edges[e + 2] as number;
    const uy = edges[e + 3] as number;
    const along = qx * ux + qy * uy;
    const flags = edges[e + 5] as number;
    if (along <= 0 && (flags & 4) === 0) return (flags & 1) !== 0;
    if (along > (edges[e + 4] as number) && (flags & 8) === 0) return (flags & 2) !== 0;
    return ux * qy - uy * qx > 0;
  }

  #setBlock(
    grid: { firstCell: number; columns: number },
    column: number,
    row: number,
    columns: number,
    rows: number,
    offset: number,
  ): void {
    for (let r = row; r < row + rows; r++) {
      const start = grid.firstCell + r * grid.columns + column;
      this.cells.fill(offset, start, start + columns);
    }
  }
}

/** The same array, or a copy at least twice as long if `length` does not fit. */
function roomFor<T extends Float64Array | Int32Array>(array: T, length: number): T {
  if (length <= array.length) return array;
  const Kind = array.constructor as new (length: number) => T;
  const larger = new Kind(Math.max(length, 2 * array.length));
  larger.set(array);
  return larger;
}
