import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthBound, type Outline, type Problem } from '../../nesting/index.ts';

const box = (w: number, h: number): Outline => [
  [0, 0],
  [w, 0],
  [w, h],
  [0, h],
];
const upright = [
  { rotation: 0, mirrored: false },
  { rotation: 180, mirrored: false },
];
const strip = (width: number, items: Problem['items']): Problem => ({
  name: 'bound',
  containers: [{ kind: 'strip', id: 's', width }],
  items,
  gap: 0,
});

/** Cuts a rectangle of the strip's width by guillotine cuts: the parts fill it, so its length is the optimum. */
function guillotine(length: number, width: number, cuts: readonly { at: number; along: boolean }[]): Problem {
  let parts: [number, number][] = [[length, width]];
  for (const [i, { at, along }] of cuts.entries()) {
    const [l, w] = parts.splice(i % parts.length, 1)[0]!;
    parts = parts.concat(
      along
        ? [
            [l * at, w],
            [l * (1 - at), w],
          ]
        : [
            [l, w * at],
            [l, w * (1 - at)],
          ],
    );
  }
  return strip(
    width,
    parts.map(([l, w], i) => ({ id: `p${i}`, outline: box(l, w), quantity: 1, poses: upright })),
  );
}

describe('lower bound on the length', () => {
  it('property: never exceeds the known optimum of a rectangle cut into parts', () => {
    const cut = fc.record({ at: fc.double({ min: 0.1, max: 0.9, noNaN: true }), along: fc.boolean() });
    const size = fc.double({ min: 10, max: 5000, noNaN: true });
    fc.assert(
      fc.property(size, size, fc.array(cut, { maxLength: 12 }), (length, width, cuts) => {
        const { length: bound } = lengthBound(guillotine(length, width, cuts));
        expect(bound).toBeLessThanOrEqual(length * (1 + 1e-9));
        // The parts fill the rectangle, so the area alone gives the optimum.
        expect(bound).toBeGreaterThanOrEqual(length * (1 - 1e-9));
      }),
    );
  });

  it('is the longest piece where that says more than the area', () => {
    const problem = strip(1000, [{ id: 'strap', outline: box(700, 20), quantity: 1, poses: upright }]);
    expect(lengthBound(problem)).toEqual({ length: 700, from: 'longest' });
  });

  it('takes the shortest admissible pose of a piece that may be turned', () => {
    const turned = [...upright, { rotation: 90, mirrored: false }];
    const problem = strip(1000, [{ id: 'strap', outline: box(700, 20), quantity: 1, poses: turned }]);
    expect(lengthBound(problem).length).toBeCloseTo(20, 9);
  });

  it('adds up rectangles wider than half the strip, but not those that share it', () => {
    const panels = (width: number): Problem =>
      strip(1000, [{ id: 'panel', outline: box(300, width), quantity: 3, poses: upright }]);
    expect(lengthBound(panels(501))).toEqual({ length: 900, from: 'abreast' });
    expect(lengthBound(panels(500)).length).toBeCloseTo((3 * 300 * 500) / 1000, 9);
  });

  it('does not take a triangle for a rectangle: two may interlock although each is wide', () => {
    const triangle: Outline = [
      [0, 0],
      [400, 0],
      [0, 900],
    ];
    // Turned by 180° the second one fills the first one's box: 400 × 900 on a strip 1000 wide.
    const problem = strip(1000, [{ id: 't', outline: triangle, quantity: 2, poses: upright }]);
    expect(lengthBound(problem).length).toBeLessThanOrEqual(400);
  });

  it('knows nothing of sheets', () => {
    const sheet = { kind: 'sheet', id: 's', quantity: 1, outline: box(10, 10), blocked: [] } as const;
    expect(lengthBound({ ...strip(1, []), containers: [sheet] }).length).toBe(0);
  });
});
