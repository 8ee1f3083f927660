/** A point in the plane; millimetres unless a function says otherwise. */
export type Point = readonly [x: number, y: number];

/** A closed ring of points; the first is not repeated at the end. */
export type Ring = readonly Point[];

/** One outer ring, counter-clockwise, with clockwise holes in it. */
export interface Polygon {
  readonly outer: Ring;
  readonly holes: readonly Ring[];
}

export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}
