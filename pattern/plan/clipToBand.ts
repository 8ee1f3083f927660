import type { DrawnPoint } from './drawing.ts';
import type { Ring } from './intervals.ts';

/**
 * The part of a closed ring with `fromX` ≤ x ≤ `toX` (Sutherland & Hodgman 1974, "Reentrant polygon clipping",
 * against two upright lines). A ring that leaves and re-enters is joined along the line: right for filling;
 * for its outline use `clipEdges`. Empty if nothing is left.
 */
export function clipRing(ring: Ring, fromX: number, toX: number): DrawnPoint[] {
  return clipHalf(clipHalf(ring, fromX, 1), toX, -1);
}

function clipHalf(ring: Ring, at: number, side: 1 | -1): DrawnPoint[] {
  const out: DrawnPoint[] = [];
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i] as DrawnPoint;
    const b = ring[(i + 1) % ring.length] as DrawnPoint;
    const aIn = (a[0] - at) * side >= 0;
    const bIn = (b[0] - at) * side >= 0;
    if (aIn) out.push(a);
    if (aIn !== bIn) out.push([at, a[1] + ((at - a[0]) / (b[0] - a[0])) * (b[1] - a[1])]);
  }
  return out.length < 3 ? [] : out;
}

/** The ring's own edges between the two lines, as open lines: no edge runs along a cut that isn't the piece's. */
export function clipEdges(ring: Ring, fromX: number, toX: number): DrawnPoint[][] {
  const lines: DrawnPoint[][] = [];
  let current: DrawnPoint[] = [];
  for (let i = 0; i < ring.length; i++) {
    const part = clipSegment(ring[i] as DrawnPoint, ring[(i + 1) % ring.length] as DrawnPoint, fromX, toX);
    if (part === null) continue;
    const last = current.at(-1);
    if (last && last[0] === part[0][0] && last[1] === part[0][1]) current.push(part[1]);
    else {
      if (current.length > 1) lines.push(current);
      current = [...part];
    }
  }
  if (current.length > 1) lines.push(current);
  return lines;
}

/** The part of one edge between the two lines, or `null`. */
export function clipSegment(
  a: DrawnPoint,
  b: DrawnPoint,
  fromX: number,
  toX: number,
): [DrawnPoint, DrawnPoint] | null {
  if (Math.max(a[0], b[0]) < fromX || Math.min(a[0], b[0]) > toX) return null;
  const at = (x: number): DrawnPoint => [x, a[1] + ((x - a[0]) / (b[0] - a[0])) * (b[1] - a[1])];
  const clip = (p: DrawnPoint) => (p[0] < fromX ? at(fromX) : p[0] > toX ? at(toX) : p);
  return [clip(a), clip(b)];
}
