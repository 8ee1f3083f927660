import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline } from '../../nesting/packing/types.ts';
import { cutOut, opensOnto } from '../../pattern/reading/cutOut.ts';

const rectangle = (x: number, y: number, width: number, height: number): Outline => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];
const halfDisc = (radius: number): Outline =>
  Array.from({ length: 181 }, (_, i) => {
    const angle = (i * Math.PI) / 180;
    return [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
  });

describe('what is cut out at an edge', () => {
  test('a half disc without a smaller one on its straight side is a half ring', () => {
    const [outer, inner] = [halfDisc(620), halfDisc(220)];
    expect(opensOnto(inner, outer)).toBe(true);
    const ring = cutOut(outer, [inner]) as Outline;
    expect(signedArea(ring)).toBeCloseTo(signedArea(outer) - signedArea(inner), -1);
    const radii = ring.map(([x, y]) => Math.hypot(x, y));
    expect(Math.min(...radii)).toBeGreaterThan(219.9);
    expect(Math.max(...radii)).toBeLessThan(620.1);
  });

  test('no sliver stays where the two edges differ by a hair', () => {
    const ring = cutOut(rectangle(0, 0, 200, 100), [rectangle(50, 0.03, 60, 40)]) as Outline;
    expect(ring).toHaveLength(8);
    const { minX, minY, maxX, maxY } = boundingBox(ring);
    for (const [is, should] of [
      [minX, 0],
      [minY, 0],
      [maxX, 200],
      [maxY, 100],
    ] as const)
      expect(is).toBeCloseTo(should, 3);
  });

  test('nothing is left where all is cut out', () => {
    expect(cutOut(rectangle(0, 0, 10, 10), [rectangle(-1, -1, 20, 20)])).toBeNull();
  });

  test('the area is what is left, wherever the mouth lies on the edge', () => {
    const size = fc.integer({ min: 5, max: 60 });
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 120 }), size, size, (x, width, height) => {
        const ring = cutOut(rectangle(0, 0, 200, 100), [rectangle(x, 0, width, height)]) as Outline;
        expect(signedArea(ring)).toBeCloseTo(200 * 100 - width * height, 3);
      }),
    );
  });
});
