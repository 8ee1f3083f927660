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
 * With `stubsAside`, lines that lead nowhere (an end meets nothing, or only such lines) don't count as meeting others.
 */
export function joinLines(
  lines: readonly (readonly Point[])[],
  reach: number,
  stubsAside = false,
): JoinedRing[] {
  // Ends are numbered 2·line (first point) and 2·line + 1 (last point).
  const ends: Point[] = [];
  for (const line of lines) ends.push(line[0] as Point, line[line.length - 1] as Point);
  const meetings = meetingsOf(ends, reach);
  const loose = stubsAside ? looseLines(meetings, lines.length) : new Uint8Array(lines.length);
  const partner = partners(meetings, loose);
  const used = loose.slice();
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

/** Meetings beyond this are a heap of lines through one point, in which no one finds a ring. */
const MOST_MEETINGS = 32;

/** For each end the other ends it meets, at most `MOST_MEETINGS` of them. */
function meetingsOf(ends: readonly Point[], reach: number): number[][] {
  const cells = new Map<string, number[]>();
  const cellOf = (value: number): number => Math.floor(value / reach);
  ends.forEach(([x, y], end) => {
    const key = `${cellOf(x)},${cellOf(y)}`;
    const cell = cells.get(key);
    if (cell) cell.push(end);
    else cells.set(key, [end]);
  });
  return ends.map(([x, y], end) => {
    const met: number[] = [];
    for (let i = -1; i <= 1; i++)
      for (let j = -1; j <= 1; j++)
        for (const other of cells.get(`${cellOf(x) + i},${cellOf(y) + j}`) ?? []) {
          if (met.length >= MOST_MEETINGS) return met;
          const [otherX, otherY] = ends[other] as Point;
          if (other !== end && Math.hypot(otherX - x, otherY - y) <= reach) met.push(other);
        }
    return met;
  });
}

/** 1 for each line that hangs loose at an end, or does once such lines are gone. */
function looseLines(meetings: readonly (readonly number[])[], lines: number): Uint8Array {
  const loose = new Uint8Array(lines);
  const left = meetings.map((met) => met.length);
  const hanging: number[] = [];
  left.forEach((count, end) => {
    if (count === 0) hanging.push(end >> 1);
  });
  for (let line = hanging.pop(); line !== undefined; line = hanging.pop()) {
    if (loose[line]) continue;
    loose[line] = 1;
    for (const end of [2 * line, 2 * line + 1])
      for (const other of meetings[end] ?? []) {
        left[other] = (left[other] ?? 0) - 1;
        if (left[other] === 0) hanging.push(other >> 1);
      }
  }
  return loose;
}

/** For each end the one other end it meets; −1 if it meets none or several, or is one of a loose line. */
function partners(meetings: readonly (readonly number[])[], loose: Uint8Array): Int32Array {
  const partner = new Int32Array(meetings.length).fill(-1);
  meetings.forEach((met, end) => {
    if (loose[end >> 1]) return;
    const there = met.filter((other) => !loose[other >> 1]);
    if (there.length === 1) partner[end] = there[0] as number;
  });
  // Both must see it so.
  return partner.map((other, end) => (other >= 0 && partner[other] === end ? other : -1));
}
