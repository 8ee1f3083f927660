import type { Point } from '../../nesting/packing/types.ts';

/** Points this near are one, but for what files round off. Millimetres. */
const SAME_POINT_MM = 0.02;

const isSamePoint = ([ax, ay]: Point, [bx, by]: Point): boolean =>
  Math.hypot(bx - ax, by - ay) <= SAME_POINT_MM;

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
  // A dot joins nothing.
  const isDot = lines.map((line) => line.every((point) => isSamePoint(point, line[0] as Point)));
  const meetings = meetingsOf(ends, reach, isDot);
  const loose = stubsAside ? looseLines(meetings, lines.length) : new Uint8Array(lines.length);
  const partner = partners(ends, meetings, loose);
  const used = loose.map((isLoose, line) => (isDot[line] ? 1 : isLoose));
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

/**
 * Which ends meet which: those that `end` meets stand in `met` from `start[end]` to before `start[end + 1]`. Flat, as a
 * drawing of single strokes has some hundred thousand ends, and a list for each would take a multiple of the memory.
 */
interface Meetings {
  readonly start: Int32Array;
  readonly met: Int32Array;
}

const metBy = ({ start, met }: Meetings, end: number): Int32Array =>
  met.subarray(start[end] as number, start[end + 1] as number);

/** For each end the other ends it meets, at most `MOST_MEETINGS` of them; those of dots meet nothing. */
function meetingsOf(ends: readonly Point[], reach: number, isDot: readonly boolean[]): Meetings {
  // Ends sorted by x: those within reach of one another stand near each other in the list.
  const byX = ends.map((_, end) => end).filter((end) => !isDot[end >> 1]);
  byX.sort((p, q) => (ends[p] as Point)[0] - (ends[q] as Point)[0]);
  const counts = new Int32Array(ends.length);
  /** Who meets whom, in pairs. */
  const pairs: number[] = [];
  const note = (end: number, other: number): void => {
    if ((counts[end] as number) >= MOST_MEETINGS) return;
    counts[end] = (counts[end] as number) + 1;
    pairs.push(end, other);
  };
  for (let i = 0; i < byX.length; i++) {
    const end = byX[i] as number;
    const [x, y] = ends[end] as Point;
    for (let k = i + 1; k < byX.length; k++) {
      const other = byX[k] as number;
      const [otherX, otherY] = ends[other] as Point;
      if (otherX - x > reach) break;
      if (Math.abs(otherY - y) > reach || Math.hypot(otherX - x, otherY - y) > reach) continue;
      note(end, other);
      note(other, end);
    }
  }
  const start = new Int32Array(ends.length + 1);
  counts.forEach((count, end) => {
    start[end + 1] = (start[end] as number) + count;
  });
  const met = new Int32Array(pairs.length / 2);
  const next = start.slice();
  for (let i = 0; i < pairs.length; i += 2) {
    const end = pairs[i] as number;
    met[next[end] as number] = pairs[i + 1] as number;
    next[end] = (next[end] as number) + 1;
  }
  return { start, met };
}

/** 1 for each line that hangs loose at an end, or does once such lines are gone. */
function looseLines(meetings: Meetings, lines: number): Uint8Array {
  const loose = new Uint8Array(lines);
  const { start } = meetings;
  const left = Int32Array.from(
    { length: 2 * lines },
    (_, end) => (start[end + 1] as number) - (start[end] as number),
  );
  const hanging: number[] = [];
  left.forEach((count, end) => {
    if (count === 0) hanging.push(end >> 1);
  });
  for (let line = hanging.pop(); line !== undefined; line = hanging.pop()) {
    if (loose[line]) continue;
    loose[line] = 1;
    for (const end of [2 * line, 2 * line + 1])
      for (const other of metBy(meetings, end)) {
        left[other] = (left[other] ?? 0) - 1;
        if (left[other] === 0) hanging.push(other >> 1);
      }
  }
  return loose;
}

/**
 * For each end the one other end it meets; −1 if it meets none or several, or is one of a loose line. An end at the same
 * point goes before others within reach: of lines shorter than the reach both ends are near to all that meet there.
 */
function partners(ends: readonly Point[], meetings: Meetings, loose: Uint8Array): Int32Array {
  /** The only end that `end` meets of those that count; −1 for none or several. */
  const only = (end: number, counts: (other: number) => boolean): number => {
    let found = -1;
    if (loose[end >> 1]) return -1;
    for (const other of metBy(meetings, end)) {
      if (loose[other >> 1] || !counts(other)) continue;
      if (found >= 0) return -1;
      found = other;
    }
    return found;
  };
  const same = Int32Array.from(ends, (at, end) =>
    only(end, (other) => isSamePoint(ends[other] as Point, at)),
  );
  const isSettled = (end: number): boolean => same[end] !== -1 && same[same[end] as number] === end;
  const partner = Int32Array.from(ends, (_, end) =>
    isSettled(end) ? (same[end] as number) : only(end, (other) => !isSettled(other)),
  );
  // Both must see it so.
  return partner.map((other, end) => (other >= 0 && partner[other] === end ? other : -1));
}
