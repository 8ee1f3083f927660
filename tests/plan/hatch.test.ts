import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hatchLines } from '../../pattern/plan/hatch.ts';
import { inside, overlap, type Ring, subtract, turned } from '../../pattern/plan/intervals.ts';

const length = (lines: readonly (readonly (readonly [number, number])[])[]) =>
  lines.reduce((sum, [a, b]) => sum + Math.hypot(b![0] - a![0], b![1] - a![1]), 0);

const triangle: Ring = [
  [0, 0],
  [40, 0],
  [0, 30],
];

describe('hatchLines', () => {
  it('covers the area: length of the lines times their spacing (Cavalieri)', () => {
    fc.assert(
      fc.property(fc.double({ min: -180, max: 180, noNaN: true }), (angleDeg) => {
        const covered = length(hatchLines([triangle], { angleDeg, spacing: 0.1, double: 0 })) * 0.1;
        expect(covered).toBeGreaterThan(600 * 0.98);
        expect(covered).toBeLessThan(600 * 1.02);
      }),
    );
  });

  it('runs at the angle asked for, counter-clockwise as seen on a page whose y points down', () => {
    for (const [a, b] of hatchLines([triangle], { angleDeg: 45, spacing: 5, double: 0 })) {
      // Rising to the right: x grows as y shrinks.
      expect((b![1] - a![1]) / (b![0] - a![0])).toBeCloseTo(-1, 9);
    }
  });

  it('leaves holes and labels clear', () => {
    const hole: Ring = [
      [5, 5],
      [5, 15],
      [15, 15],
      [15, 5],
    ];
    const all = length(hatchLines([triangle], { angleDeg: 30, spacing: 0.2, double: 0 }));
    const holed = length(hatchLines([triangle, hole], { angleDeg: 30, spacing: 0.2, double: 0 }));
    const labelled = length(hatchLines([triangle], { angleDeg: 30, spacing: 0.2, double: 0 }, [hole]));
    expect((all - holed) * 0.2).toBeCloseTo(100, 0);
    expect(labelled).toBeCloseTo(holed, 6);
  });

  it('lines up across neighbours', () => {
    const ys = (ring: Ring) =>
      hatchLines([ring], { angleDeg: 0, spacing: 2, double: 0 }).map(([a]) => a![1] % 2);
    const neighbour = triangle.map(([x, y]): readonly [number, number] => [x + 13.37, y + 5.21]);
    for (const y of [...ys(triangle), ...ys(neighbour)]) expect(Math.min(y, 2 - y)).toBeLessThan(1e-9);
  });
});

describe('intervals', () => {
  it('subtracts and intersects', () => {
    expect(
      subtract(
        [[0, 10]],
        [
          [2, 3],
          [9, 12],
          [-5, -1],
        ],
      ),
    ).toEqual([
      [0, 2],
      [3, 9],
    ]);
    expect(
      overlap(
        [
          [0, 4],
          [6, 9],
        ],
        [[3, 7]],
      ),
    ).toEqual([
      [3, 4],
      [6, 7],
    ]);
  });

  it('finds the inside by even and odd', () => {
    expect(inside([triangle], 15)).toEqual([[0, 20]]);
    expect(inside([triangle, triangle], 15)).toEqual([]);
    expect(inside([triangle], 31)).toEqual([]);
  });

  it('turns by quarters exactly', () => {
    expect(turned([[3, 4]], 90)).toEqual([[-4, 3]]);
    expect(turned([[3, 4]], -90)).toEqual([[4, -3]]);
    expect(turned([[3, 4]], 540)).toEqual([[-3, -4]]);
  });
});
