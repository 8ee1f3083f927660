import ClipperLib from 'clipper-lib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Layout, Outline, Placement, Point, Problem } from '../../nesting/packing/types.ts';
import { toleranceOf, verify } from '../../nesting/verify/index.ts';
import { jigsaw, simpleOutline } from '../support/generators.ts';
import { at, item, layout, problem, rectangle, sheet, strip } from '../support/layouts.ts';

const WIDTH = 1_000;
const TOLERANCE = toleranceOf(strip(WIDTH));

/** Area common to two outlines by clipper-lib, in mm²: a second opinion with integer arithmetic (10 nm steps). */
function clipperCommonArea(a: Outline, b: Outline): number {
  const scale = 1e5;
  const path = (outline: Outline) =>
    outline.map(([x, y]) => ({ X: Math.round(x * scale), Y: Math.round(y * scale) }));
  const clipper = new ClipperLib.Clipper();
  clipper.AddPath(path(a), ClipperLib.PolyType.ptSubject, true);
  clipper.AddPath(path(b), ClipperLib.PolyType.ptClip, true);
  const common: ClipperLib.Paths = [];
  const fill = ClipperLib.PolyFillType.pftEvenOdd;
  clipper.Execute(ClipperLib.ClipType.ctIntersection, common, fill, fill);
  return common.reduce((sum, ring) => sum + ClipperLib.Clipper.Area(ring), 0) / scale ** 2;
}

const perimeterOf = (outline: Outline) =>
  outline.reduce((sum, [x, y], i) => {
    const [u, v] = outline[(i + 1) % outline.length]!;
    return sum + Math.hypot(u - x, v - y);
  }, 0);

const shift = (outline: Outline, dx: number, dy: number): Outline =>
  outline.map(([x, y]): Point => [x + dx, y + dy]);

/** Overlap in mm that verify reports for two outlines in the middle of a wide strip. */
function overlap(a: Outline, b: Outline): number {
  const p = problem(strip(WIDTH), [item('a', a), item('b', b)]);
  const placements = [at('a', 400, 400), at('b', 400, 400)];
  const length = 400 + Math.max(...[...a, ...b].map(([x]) => x));
  const faults = verify(p, layout(placements, length));
  expect(faults.filter(({ kind }) => kind !== 'overlap')).toEqual([]);
  return faults[0]?.amountMm ?? 0;
}

const offset = fc.oneof(fc.integer({ min: -60, max: 60 }), fc.double({ min: -60, max: 60, noNaN: true }));

describe('verify against clipper-lib', () => {
  test('two outlines overlap exactly where they have area in common', () => {
    fc.assert(
      fc.property(simpleOutline(), simpleOutline(), offset, offset, (a, other, dx, dy) => {
        const b = shift(other, dx, dy);
        const area = clipperCommonArea(a, b);
        const depth = overlap(a, b);
        // A common region no deeper than the tolerance can hold no more than that along the shorter boundary.
        if (depth === 0)
          expect(area).toBeLessThanOrEqual(3 * TOLERANCE * Math.min(perimeterOf(a), perimeterOf(b)));
        else expect(area).toBeGreaterThan(0);
      }),
      { numRuns: 400 },
    );
  });
});

describe('verify', () => {
  test('treats two pieces alike, whichever comes first, whichever vertex starts, whichever way round', () => {
    fc.assert(
      fc.property(simpleOutline(), simpleOutline(), offset, offset, fc.nat(11), (a, other, dx, dy, start) => {
        const b = shift(other, dx, dy);
        const s = start % b.length;
        const turned = [...b.slice(s), ...b.slice(0, s)].reverse();
        const depth = overlap(a, b);
        expect(overlap(b, a)).toBeCloseTo(depth, 6);
        expect(overlap(a, turned)).toBeCloseTo(depth, 2 - Math.ceil(Math.log10(1 + depth)));
      }),
    );
  });

  test('finds any outline on top of itself, wherever it lies', () => {
    fc.assert(
      fc.property(simpleOutline(), (outline) => {
        expect(overlap(outline, outline)).toBeGreaterThan(0);
      }),
    );
  });

  test('lets pieces touch: an outline and the rectangle cut away around its side', () => {
    fc.assert(
      fc.property(simpleOutline(), (outline) => {
        const right = Math.max(...outline.map(([x]) => x));
        const low = Math.min(...outline.map(([, y]) => y));
        expect(overlap(outline, shift(rectangle(10, 200), right, low))).toBe(0);
      }),
    );
  });
});

describe('jigsaws', () => {
  test('a rectangle cut to pieces is accepted as it lies', () => {
    fc.assert(
      fc.property(jigsaw(), ({ problem: p, placements, length }) => {
        expect(verify(p, layout(placements, length))).toEqual([]);
      }),
    );
  });

  test('with any piece moved by a hundredth, or left in and listed as unplaced, it is refused', () => {
    fc.assert(
      fc.property(jigsaw(), fc.nat(), fc.double({ min: 0, max: 6.28, noNaN: true }), (cut, which, angle) => {
        const step =
          0.01 * Math.max(...cut.problem.containers.map((c) => (c.kind === 'strip' ? c.width : 0)));
        const index = which % cut.placements.length;
        const placements = cut.placements.map((p, i) =>
          i === index ? { ...p, x: p.x + step * Math.cos(angle), y: p.y + step * Math.sin(angle) } : p,
        );
        const closed = {
          ...cut.problem,
          containers: [
            strip(cut.problem.containers.flatMap((c) => (c.kind === 'strip' ? [c.width] : []))[0]!, {
              maxLength: cut.length,
            }),
          ],
        };
        const kinds = verify(closed, layout(placements, cut.length)).map(({ kind }) => kind);
        expect(kinds).toContainEqual(expect.stringMatching(/overlap|outside/));

        const listed = [{ item: cut.placements[index]!.item, copy: 0 }];
        expect(
          verify(cut.problem, layout(cut.placements, cut.length, listed)).map(({ kind }) => kind),
        ).toEqual(['twice']);
      }),
    );
  });

  test('its verdict does not hang on the size of things, on quarter turns, or on where a sheet lies', () => {
    fc.assert(
      fc.property(
        jigsaw(8),
        fc.constantFrom(1e-3, 1, 1e3),
        fc.constantFrom(0, 90, 180, 270),
        fc.boolean(),
        fc.integer({ min: -5_000, max: 5_000 }),
        (cut, scale, rotation, legal, far) => {
          const onSheet = transformedOntoSheet(cut, scale, rotation, far * scale);
          const first = onSheet.placements[0]!;
          const placements = legal
            ? onSheet.placements
            : [
                { ...first, x: first.x + 0.5 * scale, y: first.y + 0.5 * scale },
                ...onSheet.placements.slice(1),
              ];
          const faults = verify(onSheet.problem, layout(placements, 0));
          if (legal) expect(faults).toEqual([]);
          else expect(faults.length).toBeGreaterThan(0);
        },
      ),
    );
  });
});

/** The jigsaw scaled, turned about the origin and moved, on a sheet that it fills exactly. */
function transformedOntoSheet(
  cut: { problem: Problem; placements: readonly Placement[]; length: number },
  scale: number,
  rotation: number,
  far: number,
): { problem: Problem; placements: Layout['placements'] } {
  const cos = [1, 0, -1, 0][rotation / 90]!;
  const sin = [0, 1, 0, -1][rotation / 90]!;
  const move = ([x, y]: Point): Point => [
    scale * (x * cos - y * sin) + far,
    scale * (x * sin + y * cos) + far,
  ];
  const width = cut.problem.containers.flatMap((c) => (c.kind === 'strip' ? [c.width] : []))[0]!;
  const items = cut.problem.items.map((one) => ({
    ...one,
    outline: one.outline.map(([x, y]): Point => [scale * x, scale * y]),
    poses: [{ rotation, mirrored: false }],
  }));
  const placements = cut.placements.map((p) => {
    const [x, y] = move([p.x, p.y]);
    return { ...p, container: 'sheet', rotation, x, y };
  });
  return { problem: problem(sheet(rectangle(cut.length, width).map(move)), items), placements };
}
