import type { Ring } from '../geometry/points.ts';
import { boundingBox } from '../geometry/rings.ts';
import type { ForbiddenRegion } from './noFit.ts';

/** Stands in `cells` for a cell that nobody has asked for yet. */
export const UNKNOWN_CELL = -1;

/**
 * A factor a few roundings below 1, for the scale from positions to cells: without it a point just inside the upper
 * border could be rounded into a column or row that does not exist.
 */
const BELOW_ONE = 1 - 2 ** -50;

/** A factor below 1 by more than a float's rounding. */
const BELOW_FLOAT = 1 - 2 ** -22;

/** Widening of a cell's radius, relative: above the rounding of a few operations. */
const CELL_MARGIN = 1e-9;

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
 * point of the cell, mostly one to six; a cell wholly outside has the empty list. So a lookup costs a product
 * and a few distances whatever the number of edges. Lists are made when a cell is first looked at. All regions
 * share a few flat arrays:
 *
 *     box     [minX minY width height  columns/width rows/height]        6 doubles a region
 *     place   [columns  firstCell  firstEdge  endEdge  forbiddenOutside] 5 ints a region
 *     cells   [offset into lists]                                        1 int a cell, or UNKNOWN_CELL
 *     floors  [least depth in the cell]                                  1 float a cell; 0 unless it is wholly inside
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
  floors = new Float32Array(1 << 14);
  /** Offset 0 is the empty list. */
  lists = new Int32Array(1 << 14);
  edges = new Float64Array(8 << 10);
  #cellCount = 0;
  #listCount = 1;
  #edgeCount = 0;
  #distances = new Float64Array(256);
  /**
   * Question and answer of `lookUp`: x, y; depth, and the offset in `edges` of the nearest edge if that is not 0; and the
   * depth that is enough to know.
   */
  readonly probe = new Float64Array([0, 0, 0, 0, Number.POSITIVE_INFINITY]);
  readonly #finest: number;

  /** `cells` is the wanted number of grid cells a region, a power of two. */
  constructor(cells = 512) {
    this.#finest = cells;
  }

  /** Takes a region in; returns its number. `cells` is the wanted number of its grid cells, if not the usual one. */
  add(region: ForbiddenRegion, cells = this.#finest): number {
    const id = this.count++;
    const firstEdge = this.#edgeCount;
    for (const ring of region.rings) this.#addRing(ring);
    const box = boundingBox(region.rings.flat());
    const empty = firstEdge === this.#edgeCount;
    const width = empty ? 0 : box.maxX - box.minX;
    const height = empty ? 0 : box.maxY - box.minY;
    let columns = 1;
    let rows = 1;
    while (columns * rows < cells)
      if (width / columns > height / rows) columns *= 2;
      else rows *= 2;
    this.box = roomFor(this.box, 6 * this.count);
    this.place = roomFor(this.place, 5 * this.count);
    this.box.set(
      [
        box.minX,
        box.minY,
        width,
        height,
        (columns / (width || 1)) * BELOW_ONE,
        (rows / (height || 1)) * BELOW_ONE,
      ],
      6 * id,
    );
    const firstCell = this.#cellCount;
    this.place.set([columns, firstCell, firstEdge, this.#edgeCount, region.forbiddenOutside ? 1 : 0], 5 * id);
    this.#cellCount += columns * rows;
    this.cells = roomFor(this.cells, this.#cellCount);
    this.floors = roomFor(this.floors, this.#cellCount);
    this.cells.fill(empty ? 0 : UNKNOWN_CELL, firstCell, this.#cellCount);
    if (this.#edgeCount - firstEdge > this.#distances.length)
      this.#distances = new Float64Array(2 * (this.#edgeCount - firstEdge));
    return id;
  }

  /** Depth of the point (x, y) in a region; 0 if it is free. */
  depth(id: number, x: number, y: number): number {
    const probe = this.probe;
    probe[0] = x;
    probe[1] = y;
    probe[4] = Number.POSITIVE_INFINITY;
    this.lookUp(id);
    return probe[2] as number;
  }

  /**
   * The depth in a region of the point in `probe`, where the answer goes too: numbers handed to and from a method too large
   * to be inlined would be boxed one by one. This is where a search spends its time.
   *
   * Where all of the point's cell is at least as deep as is enough to know, the answer is a lower bound of the depth, and
   * no edge: nine samples of ten are far too deep to be of use, and one look at the cell tells.
   */
  lookUp(id: number): void {
    const probe = this.probe;
    const x = probe[0] as number;
    const y = probe[1] as number;
    const box = this.box;
    const place = this.place;
    const h = 6 * id;
    const p = 5 * id;
    const px = x - (box[h] as number);
    const py = y - (box[h + 1] as number);
    probe[2] = 0;
    if (!(px > 0 && py > 0 && px < (box[h + 2] as number) && py < (box[h + 3] as number))) {
      if (place[p + 4] === 0) return;
      // Positions on the very border are common on a sheet: that is where a range ends.
      if (!(px >= 0 && py >= 0 && px <= (box[h + 2] as number) && py <= (box[h + 3] as number))) {
        this.#lookUpOutside(id);
        return;
      }
    }
    const column = (px * (box[h + 4] as number)) | 0;
    const row = (py * (box[h + 5] as number)) | 0;
    const cell = (place[p + 1] as number) + row * (place[p] as number) + column;
    const floor = this.floors[cell] as number;
    if (floor > (probe[4] as number)) {
      probe[2] = floor;
      return;
    }
    let k = this.cells[cell] as number;
    if (k <= 0) {
      if (k === UNKNOWN_CELL) k = this.fillCell(id, column, row);
      if (k === 0) return;
    }
    const lists = this.lists;
    const edges = this.edges;
    const end = k + (lists[k] as number);
    let least = Number.POSITIVE_INFINITY;
    let inside = false;
    let nearest = 0;
    while (k < end) {
      const e = (lists[++k] as number) << 3;
      const qx = x - (edges[e] as number);
      const qy = y - (edges[e + 1] as number);
      const ux = edges[e + 2] as number;
      const uy = edges[e + 3] as number;
      const along = qx * ux + qy * uy;
      const across = ux * qy - uy * qx;
      if (along <= 0) {
        const square = qx * qx + qy * qy;
        if (square < least) {
          least = square;
          nearest = e;
          const flags = edges[e + 5] as number;
          inside = (flags & 4) !== 0 ? across > 0 : (flags & 1) !== 0;
        }
        continue;
      }
      const over = along - (edges[e + 4] as number);
      const square = across * across + (over > 0 ? over * over : 0);
      if (square < least) {
        least = square;
        nearest = e;
        const flags = edges[e + 5] as number;
        inside = over > 0 && (flags & 8) === 0 ? (flags & 2) !== 0 : across > 0;
      }
    }
    if (!inside) return;
    probe[2] = Math.sqrt(least);
    probe[3] = nearest;
  }

  /** Distance to the boundary of a region that has no outside, from beyond its box; infinite if it has no boundary. */
  #lookUpOutside(id: number): void {
    const probe = this.probe;
    const from = this.place[5 * id + 2] as number;
    const to = this.place[5 * id + 3] as number;
    let least = Number.POSITIVE_INFINITY;
    for (let e = 8 * from; e < 8 * to; e += 8) {
      const square = this.#squareDistance(e, probe[0] as number, probe[1] as number);
      if (square >= least) continue;
      least = square;
      probe[3] = e;
    }
    probe[2] = Math.sqrt(least);
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

  /**
   * Works out the list of a cell, when it is first looked at; returns its offset, 0 for a cell wholly outside.
   * With r the distance from the cell's middle to its corners and d that from the middle to the nearest edge, any
   * edge that is the nearest to some point of the cell is within d + 2r of the middle.
   */
  fillCell(id: number, column: number, row: number): number {
    const place = this.place;
    const p = 5 * id;
    const cell = (place[p + 1] as number) + row * (place[p] as number) + column;
    const from = place[p + 2] as number;
    const to = place[p + 3] as number;
    const h = 6 * id;
    const width = 1 / (this.box[h + 4] as number);
    const height = 1 / (this.box[h + 5] as number);
    const x = (this.box[h] as number) + (column + 0.5) * width;
    const y = (this.box[h + 1] as number) + (row + 0.5) * height;
    const reach = (Math.sqrt(width * width + height * height) / 2) * (1 + CELL_MARGIN);
    const distances = this.#distances;
    let least = Number.POSITIVE_INFINITY;
    let nearest = from;
    for (let e = from; e < to; e++) {
      const d = Math.sqrt(this.#squareDistance(8 * e, x, y));
      distances[e - from] = d;
      if (d < least) {
        least = d;
        nearest = e;
      }
    }
    if (least > reach) {
      if (!this.#isInsideAt(8 * nearest, x, y)) {
        this.cells[cell] = 0;
        return 0;
      }
      this.floors[cell] = (least - reach) * BELOW_FLOAT;
    }
    const limit = least + 2 * reach;
    let count = 0;
    for (let k = 0; k < to - from; k++) if ((distances[k] as number) <= limit) count++;
    const offset = this.#listCount;
    this.#listCount += count + 1;
    this.lists = roomFor(this.lists, this.#listCount);
    const lists = this.lists;
    lists[offset] = count;
    let at = offset;
    for (let k = 0; k < to - from; k++) if ((distances[k] as number) <= limit) lists[++at] = from + k;
    this.cells[cell] = offset;
    return offset;
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
}

/** The same array, or a copy at least twice as long if `length` does not fit. */
function roomFor<T extends Float64Array | Float32Array | Int32Array>(array: T, length: number): T {
  if (length <= array.length) return array;
  const Kind = array.constructor as new (length: number) => T;
  const larger = new Kind(Math.max(length, 2 * array.length));
  larger.set(array);
  return larger;
}
