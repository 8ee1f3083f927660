import fc from 'fast-check';
import SvgPath from 'svgpath';
import { describe, expect, test } from 'vitest';
import type { Point } from '../../nesting/packing/types.ts';
import { flatten } from '../../pattern/reading/flatten.ts';
import { compose, IDENTITY, type Matrix, rotation, scaling } from '../../pattern/reading/matrix.ts';
import type { PathCommand } from '../../pattern/reading/pathCommands.ts';
import { parsePathData } from '../../pattern/reading/pathData.ts';

const TOLERANCE = 0.05;
const coordinate = fc.double({ min: -800, max: 800, noNaN: true });
const point = fc.tuple(coordinate, coordinate);
const matrix: fc.Arbitrary<Matrix> = fc
  .tuple(
    fc.double({ min: 0, max: 360, noNaN: true }),
    fc.double({ min: 0.2, max: 3, noNaN: true }),
    fc.double({ min: -3, max: -0.2, noNaN: true }),
  )
  .map(([angle, across, up]) => compose(rotation(angle), compose(scaling(across, up), rotation(angle / 3))));

const place = (m: Matrix, [x, y]: Point): Point => [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]];

/** Naive distance from a point to a polyline: every segment is tried. */
function distanceTo(points: readonly Point[], [x, y]: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < points.length; i++) {
    const [ax, ay] = points[i - 1] as Point;
    const [bx, by] = points[i] as Point;
    const squared = (bx - ax) ** 2 + (by - ay) ** 2;
    const along =
      squared === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / squared));
    least = Math.min(least, Math.hypot(x - ax - along * (bx - ax), y - ay - along * (by - ay)));
  }
  return least;
}

/** Both ways: no sample of the curve is far from the chords, no middle of a chord is far from the curve. */
function expectClose(chords: readonly Point[], samples: readonly Point[]): void {
  for (const sample of samples) expect(distanceTo(chords, sample)).toBeLessThanOrEqual(TOLERANCE + 1e-6);
  for (let i = 1; i < chords.length; i++) {
    const [ax, ay] = chords[i - 1] as Point;
    const [bx, by] = chords[i] as Point;
    // Samples lie apart, so the distance to their polyline stands for the distance to the curve.
    expect(distanceTo(samples, [(ax + bx) / 2, (ay + by) / 2])).toBeLessThanOrEqual(TOLERANCE * 1.2);
  }
}

/** de Casteljau, the definition of a Bézier curve. */
function bezierAt(handles: readonly Point[], t: number): Point {
  let level = [...handles];
  while (level.length > 1)
    level = level.slice(1).map(([x, y], i) => {
      const [px, py] = level[i] as Point;
      return [px + (x - px) * t, py + (y - py) * t] as Point;
    });
  return level[0] as Point;
}

const SAMPLES = 600;
const steps = Array.from({ length: SAMPLES + 1 }, (_, i) => i / SAMPLES);

const onlyLine = (commands: readonly PathCommand[], m: Matrix): readonly Point[] => {
  const lines = flatten(commands, m, TOLERANCE);
  expect(lines).toHaveLength(1);
  return (lines[0] as { points: Point[] }).points;
};

describe('flattening', () => {
  test('cubic curves stay within the tolerance of dense samples of the true curve', () => {
    fc.assert(
      fc.property(fc.tuple(point, point, point, point), matrix, (handles, m) => {
        const [a, b, c, d] = handles;
        const chords = onlyLine(
          [
            ['M', ...a],
            ['C', ...b, ...c, ...d],
          ],
          m,
        );
        expectClose(
          chords,
          steps.map((t) => place(m, bezierAt(handles, t))),
        );
      }),
      { numRuns: 40 },
    );
  });

  test('quadratic curves too', () => {
    fc.assert(
      fc.property(fc.tuple(point, point, point), matrix, (handles, m) => {
        const [a, b, c] = handles;
        const chords = onlyLine(
          [
            ['M', ...a],
            ['Q', ...b, ...c],
          ],
          m,
        );
        expectClose(
          chords,
          steps.map((t) => place(m, bezierAt(handles, t))),
        );
      }),
      { numRuns: 40 },
    );
  });

  test('elliptical arcs too, whatever the flags (ellipse drawn from its centre as the true curve)', () => {
    const angle = fc.double({ min: 0, max: 2 * Math.PI, noNaN: true });
    fc.assert(
      fc.property(
        point,
        fc.double({ min: 1, max: 600, noNaN: true }),
        fc.double({ min: 1, max: 600, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        angle,
        fc.double({ min: 0.05, max: 2 * Math.PI - 0.05, noNaN: true }),
        fc.boolean(),
        matrix,
        ([cx, cy], rx, ry, tilt, from, span, sweep, m) => {
          const turned = (tilt * Math.PI) / 180;
          const at = (theta: number): Point => [
            cx + rx * Math.cos(theta) * Math.cos(turned) - ry * Math.sin(theta) * Math.sin(turned),
            cy + rx * Math.cos(theta) * Math.sin(turned) + ry * Math.sin(theta) * Math.cos(turned),
          ];
          const turn = sweep ? span : -span;
          const chords = onlyLine(
            [
              ['M', ...at(from)],
              ['A', rx, ry, tilt, span > Math.PI, sweep, ...at(from + turn)],
            ],
            m,
          );
          expectClose(
            chords,
            steps.map((t) => place(m, at(from + turn * t))),
          );
        },
      ),
      { numRuns: 40 },
    );
  });

  test('a large circle is closer to its arc than a conversion to Béziers would be', () => {
    // Four Béziers to the circle err by 0.027 % of the radius; chords of this step by 0.05 mm.
    const [line] = flatten(
      [
        ['M', 500, 0],
        ['A', 500, 500, 0, false, true, -500, 0],
      ],
      IDENTITY,
      TOLERANCE,
    );
    for (const [x, y] of line?.points ?? []) expect(Math.hypot(x, y)).toBeCloseTo(500, 9);
  });

  test('the box is that of the true curve, not only nearly', () => {
    // x(t) = 3·100·t(1 − t)² + 3·100·t²(1 − t) is largest at t = ½: 75.
    const chords = onlyLine(
      [
        ['M', 0, 0],
        ['C', 100, 0, 100, 60, 0, 60],
      ],
      IDENTITY,
    );
    expect(Math.max(...chords.map(([x]) => x))).toBeCloseTo(75, 12);
    const circle = onlyLine(
      [
        ['M', 10, 0],
        ['A', 10, 10, 0, true, true, 8, -6],
      ],
      rotation(-33),
    );
    expect(Math.max(...circle.map(([x]) => x))).toBeCloseTo(10, 12);
    expect(Math.max(...circle.map(([, y]) => y))).toBeCloseTo(10, 12);
  });

  test('straight "curves" need no points between', () => {
    expect(
      onlyLine(
        [
          ['M', 0, 0],
          ['C', 30, 30, 60, 60, 90, 90],
        ],
        IDENTITY,
      ),
    ).toHaveLength(2);
  });

  test('arcs that SVG corrects: no radius is a line, too small a radius grows to reach', () => {
    expect(
      onlyLine(
        [
          ['M', 0, 0],
          ['A', 0, 5, 0, false, true, 10, 0],
        ],
        IDENTITY,
      ),
    ).toEqual([
      [0, 0],
      [10, 0],
    ]);
    const half = onlyLine(
      [
        ['M', 0, 0],
        ['A', 1, 1, 0, false, true, 10, 0],
      ],
      IDENTITY,
    );
    expect(Math.min(...half.map(([, y]) => y))).toBeCloseTo(-5, 9);
  });

  test('the pen goes on from the start of a closed part', () => {
    const lines = flatten([['M', 1, 1], ['L', 5, 1], ['L', 5, 5], ['Z'], ['L', 9, 9]], IDENTITY, TOLERANCE);
    expect(lines.map(({ points, closed }) => ({ points, closed }))).toEqual([
      {
        points: [
          [1, 1],
          [5, 1],
          [5, 5],
        ],
        closed: true,
      },
      {
        points: [
          [1, 1],
          [9, 9],
        ],
        closed: false,
      },
    ]);
  });
});

describe('path data', () => {
  const number = fc.oneof(
    fc.integer({ min: -999, max: 999 }),
    fc.double({ min: -999, max: 999, noNaN: true }).map((v) => Number(v.toFixed(3))),
  );
  const segment = fc.oneof(
    fc.tuple(fc.constantFrom('m', 'M', 'l', 'L', 't', 'T'), fc.tuple(number, number)),
    fc.tuple(fc.constantFrom('h', 'H', 'v', 'V'), fc.tuple(number)),
    fc.tuple(fc.constantFrom('c', 'C'), fc.tuple(number, number, number, number, number, number)),
    fc.tuple(fc.constantFrom('s', 'S', 'q', 'Q'), fc.tuple(number, number, number, number)),
    fc.tuple(fc.constantFrom('z', 'Z'), fc.constant([] as number[])),
  );

  test('gives the same absolute curves as another parser (svgpath)', () => {
    fc.assert(
      fc.property(fc.array(segment, { maxLength: 12 }), (segments) => {
        const text = `M1 2${segments.map(([letter, values]) => letter + values.join(' ')).join('')}`;
        const parsed = parsePathData(text, 1_000);
        expect(parsed.faultAt).toBeNull();
        // The other parser keeps H and V; spell them out, and compare end points and handles.
        let x = 0;
        let y = 0;
        let start: readonly [number, number] = [0, 0];
        const theirs = new SvgPath(text).abs().unshort();
        const list: unknown[] = [];
        theirs.iterate(([letter, ...values]) => {
          const last = values.slice(-2) as [number, number];
          if (letter === 'H') x = values[0] as number;
          else if (letter === 'V') y = values[0] as number;
          else if (letter === 'Z') [x, y] = start;
          else [x, y] = last;
          if (letter === 'M') start = [x, y];
          list.push(letter === 'H' || letter === 'V' ? ['L', x, y] : [letter, ...values]);
        });
        expect(parsed.commands.length).toBe(list.length);
        parsed.commands.forEach((command, i) => {
          const other = list[i] as (string | number)[];
          expect(command[0]).toBe(other[0]);
          command.slice(1).forEach((value, k) => {
            expect(value as number).toBeCloseTo(other[k + 1] as number, 6);
          });
        });
      }),
    );
  });

  test('numbers and flags run together as SVG allows', () => {
    expect(parsePathData('M.5.5-1-1e1L+3,4', 9).commands).toEqual([
      ['M', 0.5, 0.5],
      ['L', -1, -10],
      ['L', 3, 4],
    ]);
    expect(parsePathData('m0 0a25,26-30 01.5.5', 9).commands[1]).toEqual([
      'A',
      25,
      26,
      -30,
      false,
      true,
      0.5,
      0.5,
    ]);
  });

  test('what comes before a fault is kept', () => {
    const parsed = parsePathData('M0 0 L10 0 L10 ? 5', 9);
    expect(parsed.commands).toEqual([
      ['M', 0, 0],
      ['L', 10, 0],
    ]);
    expect(parsed.faultAt).toBe(11);
    expect(parsePathData('L1 1', 9)).toEqual({ commands: [], faultAt: 0, cutShort: false });
    expect(parsePathData('M0 0 1 1 2 2', 2)).toMatchObject({ cutShort: true });
  });
});
