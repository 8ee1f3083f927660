import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DepthTables } from '../../nesting/nfp/depthTables.ts';
import { FreeRegion } from '../../nesting/nfp/freeRegion.ts';
import { noFitPolygon } from '../../nesting/nfp/noFit.ts';
import { starRing } from '../geometry/arbitraryRings.ts';

const RUNS = { numRuns: 300 };
const TOUCH = 1e-9;
const share = fc.double({ min: -0.2, max: 1.2, noNaN: true });

/** Positions around the no-fit polygon of two outlines, as parts of its bounding box. */
function regionAround(
  a: Parameters<typeof noFitPolygon>[0],
  b: Parameters<typeof noFitPolygon>[1],
  [sx, sy]: readonly [number, number],
  reachPart: number,
) {
  const tables = new DepthTables();
  const table = tables.add(noFitPolygon(a, b));
  const [left, low, width, height] = tables.box as unknown as [number, number, number, number];
  const x = left + sx * width;
  const y = low + sy * height;
  const reach = reachPart * Math.max(width, height);
  const region = new FreeRegion(tables);
  region.around(table, x, y, reach, TOUCH);
  const isIn = (px: number, py: number, slack: number) => {
    for (let k = 0; k < region.count; k++) {
      const [nx, ny, c] = region.planes.subarray(3 * k, 3 * k + 3) as unknown as [number, number, number];
      if (nx * px + ny * py < c + slack) return false;
    }
    return true;
  };
  return { tables, table, region, x, y, reach, isIn };
}

describe('the free region around a position', () => {
  const places = fc.array(
    fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 360, noNaN: true })),
    { minLength: 40, maxLength: 40 },
  );

  it('property: nothing overlaps in any of its half-planes, as far as the reach', () => {
    let inside = 0;
    fc.assert(
      fc.property(starRing(), starRing(), fc.tuple(share, share), places, (a, b, at, samples) => {
        const { tables, table, x, y, reach, isIn } = regionAround(a, b, at, 0.3);
        for (const [part, angle] of samples) {
          const px = x + part * reach * Math.cos((angle * Math.PI) / 180);
          const py = y + part * reach * Math.sin((angle * Math.PI) / 180);
          if (!isIn(px, py, 0)) continue;
          inside++;
          expect(tables.depth(table, px, py)).toBeLessThan(1e-6);
        }
      }),
      RUNS,
    );
    expect(inside).toBeGreaterThan(1000);
  });

  it('property: holds the position if that is free, else the nearest that is', () => {
    fc.assert(
      fc.property(starRing(), starRing(), fc.tuple(share, share), (a, b, at) => {
        const { tables, table, x, y, isIn } = regionAround(a, b, at, 0.3);
        const depth = tables.depth(table, x, y);
        if (depth === 0) expect(isIn(x, y, -1e-6)).toBe(true);
        else {
          const e = tables.probe[3] as number;
          const [ax, ay, ux, uy, length] = tables.edges.subarray(e, e + 5) as unknown as number[];
          const along = Math.min(
            Math.max((x - (ax as number)) * (ux as number) + (y - (ay as number)) * (uy as number), 0),
            length as number,
          );
          expect(
            isIn((ax as number) + along * (ux as number), (ay as number) + along * (uy as number), -1e-6),
          ).toBe(true);
        }
      }),
      RUNS,
    );
  });

  it('has no half-planes where nothing is within reach', () => {
    const square = [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ] as const;
    expect(regionAround(square, square, [1.2, 0.5], 0.1).region.count).toBe(0);
    expect(regionAround(square, square, [1.05, 0.5], 0.1).region.count).toBe(1);
  });

  it('leaves a notch by two half-planes', () => {
    const wedge = [
      [0, 0],
      [30, 0],
      [30, 30],
      [15, 10],
      [0, 30],
    ] as const;
    const dot = [
      [0, 0],
      [0.01, 0],
      [0.01, 0.01],
      [0, 0.01],
    ] as const;
    // Just above the notch's bottom, which lies two thirds down and in the middle.
    const { region, isIn } = regionAround(wedge, dot, [0.5, 0.4], 0.2);
    expect(region.count).toBeGreaterThanOrEqual(2);
    expect(isIn(15, 12, 0)).toBe(true);
    expect(isIn(12, 12, 0)).toBe(false);
    expect(isIn(18, 12, 0)).toBe(false);
  });
});
