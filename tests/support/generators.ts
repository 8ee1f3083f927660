import fc from 'fast-check';
import type { Item, Outline, Placement, Point, Pose, Problem } from '../../nesting/packing/types.ts';
import { at, item, problem, rectangle, sheet, strip } from './layouts.ts';

/** fast-check arbitraries for outlines and packing problems. Millimetres, counter-clockwise, simple. */

const HANDS = [false, true] as const;

/** A polygon whose vertices lie round its centre at rising angles: simple, usually not convex. */
export function starPolygon(maxRadius = 100): fc.Arbitrary<Outline> {
  return fc
    .array(
      fc.tuple(fc.double({ min: 0.2, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true })),
      {
        minLength: 3,
        maxLength: 12,
      },
    )
    .map((spokes) =>
      spokes.map(([radius, within], k): Point => {
        // Each vertex keeps to its own sector, less a margin, so that the order of the angles is certain.
        const angle = ((k + 0.1 + 0.6 * within) / spokes.length) * 2 * Math.PI;
        return [maxRadius * radius * Math.cos(angle), maxRadius * radius * Math.sin(angle)];
      }),
    );
}

/** A rectangle of whole or fractional sides. */
export function rectangleOutline(maxSide = 100): fc.Arbitrary<Outline> {
  const side = fc.oneof(
    fc.integer({ min: 1, max: maxSide }),
    fc.double({ min: 0.5, max: maxSide, noNaN: true }),
  );
  return fc.tuple(side, side).map(([width, height]) => rectangle(width, height));
}

/** A rectangle with a rectangular bay cut into its top: L, U or anything between. */
export function bayOutline(maxSide = 100): fc.Arbitrary<Outline> {
  const share = fc.double({ min: 0.1, max: 0.9, noNaN: true });
  const side = fc.double({ min: 5, max: maxSide, noNaN: true });
  return fc.tuple(side, side, share, share, share).map(([width, height, start, span, depth]) => {
    const left = width * start;
    const right = left + (width - left) * span;
    const floor = height * (1 - depth);
    return [
      [0, 0],
      [width, 0],
      [width, height],
      [right, height],
      [right, floor],
      [left, floor],
      [left, height],
      [0, height],
    ];
  });
}

/** Any of the outlines above. */
export function simpleOutline(maxSide = 100): fc.Arbitrary<Outline> {
  return fc.oneof(starPolygon(maxSide / 2), rectangleOutline(maxSide), bayOutline(maxSide));
}

const QUARTERS = [0, 90, 180, 270];

/** At least one admissible pose: some quarter turns, perhaps odd angles, one hand or both. */
export function poses(): fc.Arbitrary<readonly Pose[]> {
  const rotations = fc.oneof(
    { weight: 4, arbitrary: fc.subarray(QUARTERS, { minLength: 1 }) },
    fc.uniqueArray(fc.integer({ min: 0, max: 359 }), { minLength: 1, maxLength: 3 }),
  );
  return fc
    .tuple(rotations, fc.subarray([...HANDS], { minLength: 1 }))
    .map(([turns, hands]) => hands.flatMap((mirrored) => turns.map((rotation) => ({ rotation, mirrored }))));
}

/** A strip with up to `maxItems` items of a few copies each; a piece may be too wide for it. */
export function stripProblem(maxItems = 6): fc.Arbitrary<Problem> {
  const one = fc.record({
    outline: simpleOutline(),
    quantity: fc.integer({ min: 1, max: 4 }),
    poses: poses(),
  });
  return fc
    .tuple(
      fc.array(one, { minLength: 1, maxLength: maxItems }),
      fc.integer({ min: 60, max: 300 }),
      fc.constantFrom(0, 0, 3),
    )
    .map(([items, width, gap]) =>
      problem(
        strip(width),
        items.map(({ outline, ...more }, i) => item(`item-${i}`, outline, more)),
        gap,
      ),
    );
}

/** One or two sheets with a bay, perhaps a hole, for up to `maxItems` items of a few copies each. */
export function sheetProblem(maxItems = 6): fc.Arbitrary<Problem> {
  const one = fc.record({
    outline: simpleOutline(),
    quantity: fc.integer({ min: 1, max: 4 }),
    poses: poses(),
    anyAngle: fc.boolean(),
  });
  const container = fc.record({
    outline: bayOutline(400),
    quantity: fc.integer({ min: 1, max: 2 }),
    hole: fc.option(fc.tuple(starPolygon(30), fc.nat(200), fc.nat(200))),
  });
  return fc
    .tuple(
      fc.array(one, { minLength: 1, maxLength: maxItems }),
      fc.array(container, { minLength: 1, maxLength: 2 }),
      fc.constantFrom(0, 0, 3),
    )
    .map(([items, containers, gap]) =>
      problem(
        containers.map(({ outline, quantity, hole }, i) =>
          sheet(outline, {
            id: `sheet-${i}`,
            quantity,
            blocked: hole ? [hole[0].map(([x, y]): Point => [x + hole[1], y + hole[2]])] : [],
          }),
        ),
        items.map(({ outline, ...more }, i) => item(`item-${i}`, outline, more)),
        gap,
      ),
    );
}

/** A problem together with a layout that fills its strip without loss: its length is the best there is. */
export interface Jigsaw {
  readonly problem: Problem;
  readonly placements: readonly Placement[];
  readonly length: number;
}

/**
 * A rectangle cut up again and again by straight cuts, each through a convex part, so that the parts touch along
 * whole edges and fill the rectangle. Every part becomes an item, moved to its own axes.
 */
export function jigsaw(maxCuts = 12): fc.Arbitrary<Jigsaw> {
  const cut = fc.record({
    which: fc.nat(),
    edge: fc.nat(),
    skip: fc.nat(),
    share: fc.double({ min: 0.15, max: 0.85, noNaN: true }),
    otherShare: fc.double({ min: 0.15, max: 0.85, noNaN: true }),
    toCorner: fc.boolean(),
  });
  return fc
    .tuple(
      fc.integer({ min: 50, max: 2_000 }),
      fc.integer({ min: 50, max: 2_000 }),
      fc.array(cut, { minLength: 1, maxLength: maxCuts }),
    )
    .map(([length, width, cuts]) => {
      let parts: Outline[] = [rectangle(length, width)];
      for (const { which, edge, skip, share, otherShare, toCorner } of cuts) {
        const index = which % parts.length;
        const part = parts[index]!;
        const first = edge % part.length;
        const second = (first + 1 + (skip % (part.length - 1))) % part.length;
        const halves = split(part, Math.min(first, second), Math.max(first, second), {
          share,
          otherShare: toCorner ? 0 : otherShare,
        });
        if (halves) parts = [...parts.slice(0, index), ...halves, ...parts.slice(index + 1)];
      }
      return toJigsaw(parts, width, length);
    });
}

/** Cuts a convex ring from a point on one edge to a point on another (or to that edge's first corner). */
function split(
  part: Outline,
  first: number,
  second: number,
  { share, otherShare }: { share: number; otherShare: number },
): [Outline, Outline] | null {
  const from = between(part[first]!, part[first + 1]!, share);
  const to = between(part[second]!, part[(second + 1) % part.length]!, otherShare);
  const corner = otherShare === 0 ? [] : [to];
  const near = [from, ...part.slice(first + 1, second + 1), ...corner];
  const far = [to, ...part.slice(second + 1), ...part.slice(0, first + 1), from];
  return near.length >= 3 && far.length >= 3 ? [near, far] : null;
}

function between([ax, ay]: Point, [bx, by]: Point, share: number): Point {
  return [ax + share * (bx - ax), ay + share * (by - ay)];
}

function toJigsaw(parts: readonly Outline[], width: number, length: number): Jigsaw {
  const items: Item[] = [];
  const placements: Placement[] = [];
  for (const [i, part] of parts.entries()) {
    const [ox, oy] = part[0]!;
    const id = `part-${i}`;
    items.push(
      item(
        id,
        part.map(([x, y]) => [x - ox, y - oy]),
      ),
    );
    placements.push(at(id, ox, oy));
  }
  return { problem: problem(strip(width), items), placements, length };
}
