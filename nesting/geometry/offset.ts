import { union } from './boolean.ts';
import type { Point, Ring } from './points.ts';
import { turn } from './predicates.ts';
import { boundingBox, cleanRing, counterClockwise } from './rings.ts';
import { ARC_STEP_RADIANS } from './tolerances.ts';

export interface OffsetOptions {
  /**
   * What happens at corners that open outwards: `miter` prolongs both sides until they meet, `round` goes
   * around the corner, `bevel` cuts straight across.
   */
  readonly join: 'miter' | 'round' | 'bevel';
  /** A mitre may reach so many distances from the corner; a longer one becomes a bevel. 2 unless given. */
  readonly miterLimit?: number;
  /** Largest angle between the tangents that stand for an arc, radians. */
  readonly arcStep?: number;
}

/**
 * The ring moved outwards by `distance` mm (inwards if negative): the outer rings of the result,
 * counter-clockwise. Inwards, a ring can vanish or fall apart; outwards, a cavity may close, and is then filled.
 *
 * A round join is drawn around its arc, not inside it, so that nowhere less than the distance is kept: with the
 * default step up to 2 % more right at the corner.
 *
 * Method: each edge is shifted along its normal, corners are joined, concave ones run back through the vertex;
 * of the curve that results, the parts around which it winds positively are kept (Chen & McMains 2005).
 */
export function offsetRing(ring: Ring, distance: number, options: OffsetOptions): Ring[] {
  const outline = cleanRing(counterClockwise(ring));
  if (outline.length < 3) return [];
  if (distance === 0) return [outline];
  if (distance > 0)
    return union([shifted(outline, distance, options)], 'positive').map((polygon) => polygon.outer);
  // Inwards: what is outside grows. It is a frame around the ring, the ring being its hole.
  const box = boundingBox(outline);
  const margin = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  const frame: Ring = [
    [box.minX - margin, box.minY - margin],
    [box.maxX + margin, box.minY - margin],
    [box.maxX + margin, box.maxY + margin],
    [box.minX - margin, box.maxY + margin],
  ];
  const hole = shifted([...outline].reverse(), -distance, options);
  return union([frame, hole], 'positive').flatMap((polygon) =>
    polygon.holes.map((found) => counterClockwise(found)),
  );
}

/** The curve of all edges shifted to the right by `distance`, with joins; it may cross itself. */
function shifted(
  ring: Ring,
  distance: number,
  { join, miterLimit = 2, arcStep = ARC_STEP_RADIANS }: OffsetOptions,
): Ring {
  const n = ring.length;
  const out: Point[] = [];
  for (let i = 0; i < n; i++) {
    const [ax, ay] = ring[(i + n - 1) % n] as Point;
    const [bx, by] = ring[i] as Point;
    const [cx, cy] = ring[(i + 1) % n] as Point;
    const before = Math.hypot(bx - ax, by - ay);
    const after = Math.hypot(cx - bx, cy - by);
    // Unit normals to the right of the edge that comes in and of the one that goes out.
    const mx = (by - ay) / before;
    const my = (ax - bx) / before;
    const nx = (cy - by) / after;
    const ny = (bx - cx) / after;
    const first: Point = [bx + distance * mx, by + distance * my];
    const last: Point = [bx + distance * nx, by + distance * ny];
    if (turn(bx - ax, by - ay, cx - bx, cy - by) < 0) {
      out.push(first, [bx, by], last);
      continue;
    }
    const angle = Math.acos(Math.max(-1, Math.min(1, mx * nx + my * ny)));
    // A mitre reaches 1 / cos(angle / 2) distances from the corner.
    if (join === 'round') {
      const steps = Math.max(1, Math.ceil(angle / arcStep - 1e-9));
      const half = angle / steps / 2;
      const reach = distance / Math.cos(half);
      const start = Math.atan2(my, mx);
      out.push(first);
      for (let k = 0; k < steps; k++) {
        const at = start + (2 * k + 1) * half;
        out.push([bx + reach * Math.cos(at), by + reach * Math.sin(at)]);
      }
      out.push(last);
    } else if (join === 'miter' && 1 / Math.cos(angle / 2) <= miterLimit) {
      const reach = distance / (1 + mx * nx + my * ny);
      out.push([bx + reach * (mx + nx), by + reach * (my + ny)]);
    } else out.push(first, last);
  }
  return out;
}
