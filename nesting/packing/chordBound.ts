import type { Ring } from '../geometry/points.ts';
import { cleanRing, counterClockwise } from '../geometry/rings.ts';
import { simplifyInwards } from '../geometry/simplify.ts';
import { placeRing } from '../geometry/transforms.ts';
import type { Item } from './types.ts';

/**
 * Lower bounds on the length of a strip from the widths of its pieces, by dual feasible functions.
 *
 * A line across a strip of width 1 cuts the pieces in chords that are disjoint, so their lengths add up to 1 at most. A
 * function f is dual feasible if then their f add up to 1 at most, too. Summed over all lines: the integral of f over all
 * chords of all pieces is no more than the length of the strip. For rectangles this is the bound of Fekete & Schepers
 * (2001); chords make it hold for any outline.
 */

/** Outlines with more vertices are drawn in first: what lies inside a piece has no longer chords. */
const MOST_VERTICES = 200;
const DRAWN_IN = { targetVertices: MOST_VERTICES, maxAreaRatio: 0.01 };

/** Chords are taken for shorter by this part of the strip's width where a step of f decides: rounding of what was read. */
const STEP_MARGIN = 1e-9;

/** Steps of the functions: so many of the classes, and of the widths, are tried. */
const MOST_CLASSES = 6;
const MOST_WIDTHS = 40;

/** Flat list of trapezes that fill an outline: length along the strip, chord at either end; in parts of its width. */
type Trapezes = readonly (readonly [length: number, from: number, to: number])[];

/** A function of chords, given by the integral over a trapeze. */
type Dual = (length: number, from: number, to: number) => number;

/** No strip of this width that holds all copies of the items can be shorter, in mm. Items that turn freely are left out. */
export function chordBound(items: readonly Item[], width: number): number {
  const parts = items
    .filter(({ quantity }) => quantity > 0)
    .map(({ outline, quantity, poses }) => ({
      quantity,
      poses: distinct(poses).map(({ rotation, mirrored }) =>
        trapezesOf(placeRing(tidy(outline), rotation, mirrored), width),
      ),
    }));
  const duals: Dual[] = [
    ...Array.from({ length: MOST_CLASSES }, (_, k) => classes(k + 1)),
    ...thresholds(parts.flatMap(({ poses }) => poses)).map(largeAndSmall),
  ];
  return duals.reduce((most, dual) => {
    const length = parts.reduce(
      (sum, { quantity, poses }) => sum + quantity * Math.min(...poses.map((pose) => integral(pose, dual))),
      0,
    );
    return Math.max(most, length);
  }, 0);
}

/** Half turns and mirror images leave lengths of chords as they are, so one pose of each kind is enough. */
function distinct(poses: Item['poses']): Item['poses'] {
  const known = new Map(
    poses.map((pose) => [`${((((pose.mirrored ? -1 : 1) * pose.rotation) % 180) + 180) % 180}`, pose]),
  );
  return [...known.values()];
}

function tidy(outline: Ring): Ring {
  const ring = cleanRing(counterClockwise(outline));
  return ring.length > MOST_VERTICES ? simplifyInwards(ring, DRAWN_IN) : ring;
}

function integral(trapezes: Trapezes, dual: Dual): number {
  return trapezes.reduce((sum, [length, from, to]) => sum + dual(length, from, to), 0);
}

/** Cuts an outline by the lines across the strip through all its vertices. */
function trapezesOf(ring: Ring, width: number): Trapezes {
  const lines = [...new Set(ring.map(([x]) => x))].sort((a, b) => a - b);
  const trapezes: [number, number, number][] = [];
  for (let k = 0; k + 1 < lines.length; k++) {
    const left = lines[k] as number;
    const right = lines[k + 1] as number;
    const sides: [low: number, high: number][] = [];
    ring.forEach(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length] as readonly [number, number];
      if (Math.min(ax, bx) > left || Math.max(ax, bx) < right) return;
      const at = (x: number) => ay + ((x - ax) / (bx - ax)) * (by - ay);
      sides.push([at(left), at(right)]);
    });
    sides.sort((p, q) => p[0] + p[1] - q[0] - q[1]);
    for (let s = 0; s + 1 < sides.length; s += 2) {
      const [lowLeft, lowRight] = sides[s] as [number, number];
      const [highLeft, highRight] = sides[s + 1] as [number, number];
      trapezes.push([
        right - left,
        Math.max(0, highLeft - lowLeft) / width,
        Math.max(0, highRight - lowRight) / width,
      ]);
    }
  }
  return trapezes;
}

/** Length within a trapeze where its chord is longer than `step`. */
function lengthAbove(length: number, from: number, to: number, step: number): number {
  const limit = step + STEP_MARGIN;
  const [short, long] = from < to ? [from, to] : [to, from];
  if (short > limit) return length;
  if (long <= limit) return 0;
  return (length * (long - limit)) / (long - short);
}

/**
 * f(x) = m / k for x between m / (k + 1) and (m + 1) / (k + 1): of chords longer than half the strip no two lie abreast, of
 * those longer than a third no three, and so on. (At the steps themselves less, which keeps it dual feasible.)
 */
function classes(k: number): Dual {
  return (length, from, to) => {
    let sum = 0;
    for (let m = 1; m <= k; m++) sum += lengthAbove(length, from, to, m / (k + 1)) / k;
    return sum;
  };
}

/** f(x) = 1 for x above 1 − ε, 0 for x below ε, x between: beside what is nearly as wide as the strip only slivers fit. */
function largeAndSmall(epsilon: number): Dual {
  return (length, from, to) => {
    const above = lengthAbove(length, from, to, 1 - epsilon);
    const notSmall = lengthAbove(length, from, to, epsilon);
    const middle = notSmall - above;
    if (middle <= 0) return above;
    // Chords change evenly along a trapeze, so those in the middle part have the mean of its ends on average.
    const [short, long] = from < to ? [from, to] : [to, from];
    const low = Math.max(short, epsilon);
    const high = Math.min(long, 1 - epsilon);
    return above + (middle * (low + Math.max(low, high))) / 2;
  };
}

/** Values of ε worth trying: a hair to either side of the chords that pieces have, and of what these leave of the width. */
function thresholds(all: readonly Trapezes[]): number[] {
  const found = new Set([0.5]);
  for (const trapezes of all)
    for (const [, from, to] of trapezes)
      for (const chord of [from, to])
        for (const step of [chord, 1 - chord])
          for (const epsilon of [step - 2 * STEP_MARGIN, step + 2 * STEP_MARGIN])
            if (epsilon > 0 && epsilon < 0.5) found.add(epsilon);
  const sorted = [...found].sort((a, b) => a - b);
  const count = Math.min(sorted.length, MOST_WIDTHS);
  const stride = sorted.length / count;
  return Array.from({ length: count }, (_, i) => sorted[Math.floor(i * stride)] as number);
}
