import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { catchEdge, type Greys } from '../../pattern/photo/catchEdge.ts';

const SIZE = 80;
/** So many samples a pixel and way: what a lens does to an edge. */
const FINE = 4;

/** A picture of what is bright where `isBright` says so, with some grain. */
function picture(isBright: (x: number, y: number) => boolean, grain = 0): Greys {
  const values = new Uint8Array(SIZE * SIZE);
  for (let y = 0; y < SIZE; y++)
    for (let x = 0; x < SIZE; x++) {
      let sum = 0;
      for (let i = 0; i < FINE; i++)
        for (let j = 0; j < FINE; j++) sum += isBright(x + (i + 0.5) / FINE, y + (j + 0.5) / FINE) ? 200 : 70;
      values[y * SIZE + x] = Math.round(sum / FINE ** 2 + grain * Math.sin(x * 12.9898 + y * 78.233));
    }
  return { width: SIZE, height: SIZE, values };
}

const off = ([x, y]: readonly [number, number], [u, v]: readonly [number, number]): number =>
  Math.hypot(x - u, y - v);

describe('catching on what is seen', () => {
  it('finds a corner to half a pixel from anywhere near, however it is turned', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: 36, max: 44, noNaN: true }),
        fc.double({ min: 36, max: 44, noNaN: true }),
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (turn, cx, cy, way, far) => {
          const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
          const corner = picture((x, y) => {
            const [dx, dy] = [x - cx, y - cy];
            return dx * cos + dy * sin > 0 && dy * cos - dx * sin > 0;
          }, 2);
          const caught = catchEdge(corner, [cx + far * Math.cos(way), cy + far * Math.sin(way)], 8);
          expect(off(caught, [cx, cy])).toBeLessThan(0.5);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('comes onto an edge square to it, and stays where it is along it', () => {
    const edge = picture((x) => x > 40.3);
    const [x, y] = catchEdge(edge, [44, 31.5], 8);
    expect(x).toBeCloseTo(40.3, 0);
    expect(Math.abs(x - 40.3)).toBeLessThan(0.3);
    expect(Math.abs(y - 31.5)).toBeLessThan(0.1);
  });

  it('leaves a point alone where nothing plain is near', () => {
    const plain = picture(() => true, 2);
    expect(catchEdge(plain, [40, 40], 8)).toEqual([40, 40]);
    const far = picture((x) => x > 60);
    expect(catchEdge(far, [40, 40], 8)).toEqual([40, 40]);
    expect(catchEdge(plain, [-5, 200], 8)).toEqual([-5, 200]);
  });
});
