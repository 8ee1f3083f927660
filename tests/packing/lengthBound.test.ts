import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthBound, type Outline, type Problem, search } from '../../nesting/index.ts';
import { jigsaw, stripProblem } from '../support/generators.ts';

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

  it('leaves out poses that are too wide for the strip, but not one that just fits', () => {
    const turned = [...upright, { rotation: 90, mirrored: false }];
    const strap = (width: number): Problem =>
      strip(width, [{ id: 'strap', outline: box(700, 20), quantity: 1, poses: turned }]);
    expect(lengthBound(strap(699)).length).toBeCloseTo(700, 9);
    expect(lengthBound(strap(700)).length).toBeCloseTo(20, 9);
    // A strap too wide in every pose has no layout; the bound stays a number.
    expect(Number.isFinite(lengthBound(strap(10)).length)).toBe(true);
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

  it('counts classes of widths: of panels wider than a third no three lie abreast', () => {
    const panels = strip(1000, [{ id: 'panel', outline: box(300, 340), quantity: 5, poses: upright }]);
    // Two abreast, three rows at least; the bound from lines says five halves.
    expect(lengthBound(panels)).toEqual({ length: expect.closeTo((5 / 2) * 300, 6), from: 'abreast' });
    const thirds = strip(1000, [{ id: 'panel', outline: box(300, 1000 / 3), quantity: 6, poses: upright }]);
    expect(lengthBound(thirds).length).toBeCloseTo(600, 6);
  });

  it('lets nothing lie beside what is nearly as wide as the strip but what fits there', () => {
    const beside = (narrow: number) =>
      strip(1000, [
        { id: 'wide', outline: box(500, 700), quantity: 2, poses: upright },
        { id: 'narrow', outline: box(400, narrow), quantity: 3, poses: upright },
      ]);
    // 300 fits beside 700 exactly; in quarters of the width they take one and two of the three that lie on any line.
    expect(lengthBound(beside(300)).length).toBeCloseTo((2 / 3) * 1000 + (1 / 3) * 1200, 6);
    // 310 does not fit: three abreast, behind the wide ones.
    expect(lengthBound(beside(310)).length).toBeCloseTo(1000 + 3 * 400 * 0.31, 4);
  });

  it('counts a piece where it is wide, not where it is narrow', () => {
    // A trapeze 800 wide at one end and 200 at the other: over half the strip for half of its length.
    const trapeze: Outline = [
      [0, 0],
      [600, 300],
      [600, 500],
      [0, 800],
    ];
    const one = strip(1000, [{ id: 't', outline: trapeze, quantity: 4, poses: upright }]);
    expect(lengthBound(one).length).toBeGreaterThanOrEqual(4 * 300);
    // Two of them point to point take 600 + 2 · 300 at most, so the bound must stay under that for each pair.
    expect(lengthBound(one).length).toBeLessThanOrEqual(2 * 1000);
  });

  it('property: never exceeds the length that parts of a jigsaw were cut from', () => {
    fc.assert(
      fc.property(jigsaw(16), ({ problem, length }) => {
        expect(lengthBound(problem).length).toBeLessThanOrEqual(length * (1 + 1e-6));
      }),
      { numRuns: 300 },
    );
  });

  it('property: never exceeds the length of a layout that was found', () => {
    fc.assert(
      fc.property(stripProblem(5), (given) => {
        const { verdict, layout } = search(given, { seed: 1, maxSteps: 30 });
        if (verdict === 'fits')
          expect(lengthBound(given).length).toBeLessThanOrEqual(layout.length * (1 + 1e-6));
      }),
      { numRuns: 60 },
    );
  });

  it('knows nothing of sheets', () => {
    const sheet = { kind: 'sheet', id: 's', quantity: 1, outline: box(10, 10), blocked: [] } as const;
    expect(lengthBound({ ...strip(1, []), containers: [sheet] }).length).toBe(0);
  });
});
