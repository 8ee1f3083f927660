import type { Point, Ring } from '../geometry/points.ts';
import { boundingBox } from '../geometry/rings.ts';
import { normaliseDegrees, placeRing, turnBy } from '../geometry/transforms.ts';

/** An outline in three versions, all counter-clockwise. */
export interface Shape {
  /** The true one; extents are taken from it. */
  readonly outline: Ring;
  /** What must stay inside the container and out of blocked areas. */
  readonly body: Ring;
  /** What must not overlap other pieces: the body and half the gap around it. */
  readonly spaced: Ring;
}

/**
 * Shapes in the rotations and hands that the problem admits, numbered; the unit of everything below. Boxes and
 * matrices are flat: pose p has `spacedBox[4p … 4p+3]` = minX, minY, maxX, maxY and `matrix[4p … 4p+3]` = a, b,
 * c, d with (x, y) → (ax + by, cx + dy).
 */
export class Poses {
  readonly shapes: readonly Shape[];
  shape: Int32Array = new Int32Array(16);
  rotation: Float64Array = new Float64Array(16);
  mirrored: Uint8Array = new Uint8Array(16);
  matrix: Float64Array = new Float64Array(64);
  bodyBox: Float64Array = new Float64Array(64);
  spacedBox: Float64Array = new Float64Array(64);
  count = 0;
  readonly #byKey = new Map<string, number>();

  constructor(shapes: readonly Shape[]) {
    this.shapes = shapes;
  }

  /**
   * Number of the pose of a shape; the same question gets the same number. Poses with different tags are told apart
   * though they look alike, because something else is demanded of each.
   */
  add(shape: number, rotation: number, mirrored: boolean, tag = ''): number {
    const angle = normaliseDegrees(rotation);
    const key = `${shape},${angle},${mirrored},${tag}`;
    const known = this.#byKey.get(key);
    if (known !== undefined) return known;
    const pose = this.count++;
    this.#byKey.set(key, pose);
    if (pose >= this.shape.length) this.#grow();
    this.shape[pose] = shape;
    this.rotation[pose] = angle;
    this.mirrored[pose] = mirrored ? 1 : 0;
    const { cos, sin } = turnBy(angle);
    const flip = mirrored ? -1 : 1;
    this.matrix.set([cos * flip, -sin, sin * flip, cos], 4 * pose);
    this.bodyBox.set(boxOf(this.#posed(pose, 'outline')), 4 * pose);
    this.spacedBox.set(boxOf(this.spaced(pose)), 4 * pose);
    return pose;
  }

  /** The body in this pose, reference point at the origin, counter-clockwise. */
  body(pose: number): Ring {
    return this.#posed(pose, 'body');
  }

  /** The body and half the gap in this pose. */
  spaced(pose: number): Ring {
    return this.#posed(pose, 'spaced');
  }

  #posed(pose: number, which: keyof Shape): Ring {
    const shape = this.shapes[this.shape[pose] as number] as Shape;
    return placeRing(shape[which], this.rotation[pose] as number, this.mirrored[pose] === 1);
  }

  #grow(): void {
    const longer = <T extends Float64Array | Int32Array | Uint8Array>(array: T): T => {
      const Kind = array.constructor as new (length: number) => T;
      const larger = new Kind(2 * array.length);
      larger.set(array);
      return larger;
    };
    this.shape = longer(this.shape);
    this.rotation = longer(this.rotation);
    this.mirrored = longer(this.mirrored);
    this.matrix = longer(this.matrix);
    this.bodyBox = longer(this.bodyBox);
    this.spacedBox = longer(this.spacedBox);
  }
}

function boxOf(ring: readonly Point[]): number[] {
  const { minX, minY, maxX, maxY } = boundingBox(ring);
  return [minX, minY, maxX, maxY];
}
