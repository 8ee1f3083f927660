import type { Point, Ring } from '../../nesting/geometry/points.ts';
import { boundingBox } from '../../nesting/geometry/rings.ts';
import { placePoint, turnBy } from '../../nesting/geometry/transforms.ts';
import type { Piece } from '../exchange/project.ts';

/** Corners closer than this are the same shape, mm: less than anyone cuts. */
const SAME_MM = 0.2;

/** The halves of a piece that ran over, each with its top up. One half where both are alike. */
export interface SplitOver {
  readonly halves: readonly Pick<Piece, 'outline' | 'holes' | 'marks'>[];
  /** How many of the halves one whole piece takes. */
  readonly perPiece: 1 | 2;
}

/**
 * Divides a piece that is front and back in one across its middle, so that a print stands upright on both: the tops of
 * the halves point away from the new seam where that is a bottom, and to it where it is the top of a strap. Where the
 * outline is the line to cut, each half gets `allowanceMm` for the new seam; a sew line gets its own. Null where the middle does not divide it into two pieces: a notch there would fall apart.
 */
export function splitOver(piece: Piece, allowanceMm: number): SplitOver | null {
  // Drawn upright: the top above.
  const upright =
    (by: number) =>
    (ring: Ring): Ring =>
      ring.map((point) => placePoint(point, turnBy(by - piece.topDeg), false, 0, 0));
  const more = piece.line === 'cut' ? allowanceMm : 0;
  // Halves are worked out with the new seam below; that of a strap lies above.
  const home = piece.topDeg - 90 + (piece.turnsAt === 'top' ? 180 : 0);
  const half = (by: number): SplitOver['halves'][number] | null => {
    const turn = upright(by);
    const outline = turn(piece.outline);
    const { minY, maxY } = boundingBox(outline);
    const level = (minY + maxY) / 2 - more;
    const cut = above(outline, level);
    if (cut === null) return null;
    const back = (ring: Ring): Ring => ring.map((point) => placePoint(point, turnBy(home), false, 0, 0));
    const isKept = (ring: Ring): boolean => ring.every(([, y]) => y > level);
    return {
      outline: back(cut),
      holes: piece.holes.map(turn).filter(isKept).map(back),
      marks: piece.marks
        .map((mark) => ({ ...mark, points: turn(mark.points) }))
        .filter(({ points }) => isKept(points))
        .map((mark) => ({ ...mark, points: back(mark.points) })),
    };
  };
  const [front, rear] = [half(90), half(270)];
  if (!front || !rear) return null;
  return isSame(front.outline, rear.outline)
    ? { halves: [front], perPiece: 2 }
    : { halves: [front, rear], perPiece: 1 };
}

/** The part of a ring above a level line; null where that is not one simple stretch of it. */
function above(ring: Ring, level: number): Ring | null {
  const kept: Point[] = [];
  let crossings = 0;
  for (const [i, [x, y]] of ring.entries()) {
    const [u, v] = ring[(i + 1) % ring.length]!;
    if (y >= level) kept.push([x, y]);
    if (y >= level !== v >= level) {
      crossings += 1;
      kept.push([x + ((level - y) / (v - y)) * (u - x), level]);
    }
  }
  return crossings === 2 && kept.length >= 3 ? kept : null;
}

/** Two outlines are the same but for where they lie. */
function isSame(a: Ring, b: Ring): boolean {
  const [boxA, boxB] = [boundingBox(a), boundingBox(b)];
  const shifted = b.map(([x, y]): Point => [x - boxB.minX + boxA.minX, y - boxB.minY + boxA.minY]);
  const isOn = (ring: Ring, [x, y]: Point): boolean =>
    ring.some(([u, v]) => Math.hypot(u - x, v - y) < SAME_MM);
  return a.every((point) => isOn(shifted, point)) && shifted.every((point) => isOn(a, point));
}
