import type { Point } from '../../nesting/packing/types.ts';

/** A closed ring made of open lines laid end to end. */
export interface JoinedRing {
  readonly ring: readonly Point[];
  /** Indices of the lines it was made of, in the order they follow each other. */
  readonly from: readonly number[];
}

/**
 * Finds the closed rings that open lines make together. Ends no farther apart than `reach` meet. Only where every
 * meeting is one of exactly two ends is there one way to go on; lines that meet three to a point stay open.
 */
export function joinLines(lines: readonly (readonly Point[])[], reach: number): JoinedRing[] {
  // Ends are numbered 2·line (first point) and 2·line + 1 (last point).
  const ends: Point[] = [];
  for (const line of lines) ends.push(line[0] as Point, line[line.length - 1] as Point);
  const partner = partners(ends, reach);
  const used = new Uint8Array(lines.length);
  const rings: JoinedRing[] = [];

  for (let first = 0; first < lines.length; first++) {
    if (used[first]) continue;
    const from: number[] = [];
    const ring: Point[] = [];
    // Go through the first line forwards, on from its last end, until back at its first end.
    let entry = 2 * first;
    let closed = false;
    for (;;) {
      const line = entry >> 1;
      if (used[line]) break;
      // Whatever is walked over is settled: a chain with a loose end closes from none of its lines.
      used[line] = 1;
      from.push(line);
      const points = lines[line] as readonly Point[];
      const walked = entry % 2 === 0 ? points : [...points].reverse();
      // The shared point is taken once, from the line before.
      for (const point of walked.slice(from.length === 1 ? 0 : 1)) ring.push(point);
      const next = partner[entry ^ 1] ?? -1;
      if (next < 0) break;
      if (next === 2 * first) {
        closed = true;
        break;
      }
      entry = next;
    }
    if (!closed) continue;
    ring.pop();
    rings.push({ ring, from });
  }
  return rings;
}

/** For each end the one other end it meets; −1 if it meets none or several. */
function partners(ends: readonly Point[], reach: number): Int32Array {
  const cells = new Map<string, number[]>();
  const cellOf = (value: number): number => Math.floor(value / reach);
  ends.forEach(([x, y], end) => {
    const key = `${cellOf(x)},${cellOf(y)}`;
    const cell = cells.get(key);
    if (cell) cell.push(end);
    else cells.set(key, [end]);
  });
  const partner = new Int32Array(ends.length).fill(-1);
  ends.forEach(([x, y], end) => {
    let found = -1;
    let count = 0;
    for (let i = -1; i <= 1 && count < 2; i++) {
      for (let j = -1; j <= 1 && count < 2; j++) {
        for (const other of cells.get(`${cellOf(x) + i},${cellOf(y) + j}`) ?? []) {
          const [otherX, otherY] = ends[other] as Point;
          if (other === end || Math.hypot(otherX - x, otherY - y) > reach) continue;
          found = other;
          count += 1;
          if (count > 1) break;
        }
      }
    }
    if (count === 1) partner[end] = found;
  });
  // Both must see it so.
  return partner.map((other, end) => (other >= 0 && partner[other] === end ? other : -1));
}
