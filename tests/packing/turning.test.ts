/** Angles that may be anything: tilts of a few degrees, and pieces that turn freely. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeRing } from '../../nesting/geometry/transforms.ts';
import { type Item, type Outline, type Problem, search } from '../../nesting/index.ts';
import { verify } from '../../nesting/verify/index.ts';
import { simpleOutline } from '../support/generators.ts';

const box = (width: number, height: number): Outline => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
];
const item = (outline: Outline, more: Partial<Item> = {}): Item => ({
  id: 'p',
  outline,
  quantity: 1,
  poses: [{ rotation: 0, mirrored: false }],
  ...more,
});

function packed(problem: Problem, maxSteps = 300) {
  const result = search(problem, {
    seed: 2,
    maxSteps,
    onBetter: (layout) => expect(verify(problem, layout)).toEqual([]),
  });
  expect(verify(problem, result.layout)).toEqual([]);
  return result;
}

describe('a piece that turns freely', () => {
  it('finds a place that a sheet cut at an odd angle leaves it, which no quarter turn has', () => {
    const outline = placeRing(box(100, 60), 17.3);
    const problem: Problem = {
      name: 'aslant',
      containers: [{ kind: 'sheet', id: 's', quantity: 1, outline, blocked: [] }],
      items: [item(box(99.5, 59.5), { anyAngle: true })],
      gap: 0,
    };
    const { layout, verdict } = packed(problem);
    expect(verdict).toBe('fits');
    const [placed] = layout.placements;
    expect(Math.min(Math.abs(placed!.rotation - 17.3), Math.abs(placed!.rotation - 197.3))).toBeLessThan(0.5);
  });

  it('is refined to an angle that none of its sides or those of the cloth tells', () => {
    // A bar longer than the sheet is wide and high has to lie across it, at an angle of its own.
    const problem: Problem = {
      name: 'diagonal',
      containers: [{ kind: 'sheet', id: 's', quantity: 1, outline: box(200, 120), blocked: [] }],
      items: [item(box(218, 12), { anyAngle: true })],
      gap: 0,
    };
    expect(packed(problem, 4000).verdict).toBe('fits');
  });
});

describe('a tilt of a few degrees', () => {
  it('lets a bar lie on a strip that is too narrow for it upright, and not beyond its limit', () => {
    // Upright it is 100 mm wide, tilted by t only 100 cos t + 10 sin t.
    const tilted = (tilt: number): Problem => ({
      name: 'tilt',
      containers: [{ kind: 'strip', id: 's', width: 99 }],
      items: [item(box(4, 100), { poses: [{ rotation: 0, mirrored: false, tilt }] })],
      gap: 0,
    });
    const found = packed(tilted(15), 400);
    expect(found.verdict).toBe('fits');
    const { rotation } = found.layout.placements[0]!;
    const off = Math.min(rotation, 360 - rotation);
    expect(off).toBeGreaterThan(9);
    expect(off).toBeLessThanOrEqual(15);
    expect(packed(tilted(2), 100).layout.placements).toEqual([]);
  });

  it('finds an angle with a tenth of a degree of play', () => {
    const problem: Problem = {
      name: 'tight',
      containers: [
        { kind: 'sheet', id: 's', quantity: 1, outline: placeRing(box(120.5, 50.2), 2.37), blocked: [] },
      ],
      items: [item(box(120, 50), { poses: [{ rotation: 0, mirrored: false, tilt: 3 }] })],
      gap: 0,
    };
    expect(packed(problem, 2000).verdict).toBe('fits');
  });

  it('is checked: a turn beyond it is a fault', () => {
    const problem: Problem = {
      name: 'tilt',
      containers: [{ kind: 'strip', id: 's', width: 200 }],
      items: [item(box(40, 100), { poses: [{ rotation: 90, mirrored: false, tilt: 3 }] })],
      gap: 0,
    };
    const at = (rotation: number) => {
      const placed = { item: 'p', copy: 0, container: 's', containerCopy: 0, mirrored: false, x: 150, y: 50 };
      const faults = verify(problem, { placements: [{ ...placed, rotation }], unplaced: [], length: 0 });
      return faults.map(({ kind }) => kind).filter((kind) => kind !== 'length');
    };
    expect(at(92.9)).toEqual([]);
    expect(at(87)).toEqual([]);
    expect(at(93.1)).toEqual(['pose']);
  });

  it('never makes the cloth longer than without', () => {
    const outlines = fc.array(simpleOutline(80), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(outlines, fc.constantFrom(1, 3, 10), (parts, tilt) => {
        const problem = (degrees: number): Problem => ({
          name: 'random',
          containers: [{ kind: 'strip', id: 's', width: 150 }],
          items: parts.map((outline, i) => ({
            ...item(outline, { poses: [{ rotation: 0, mirrored: false, tilt: degrees }] }),
            id: `p${i}`,
            quantity: 2,
          })),
          gap: 0,
        });
        const straight = packed(problem(0), 40);
        const tilted = packed(problem(tilt), 160);
        if (straight.verdict === 'fits') expect(tilted.verdict).toBe('fits');
      }),
      { numRuns: 25 },
    );
  });
});

it('a search goes on from a layout it is given', () => {
  const problem: Problem = {
    name: 'given',
    containers: [{ kind: 'strip', id: 's', width: 100 }],
    items: [item(box(50, 50), { quantity: 4 })],
    gap: 0,
  };
  const perfect = search(problem, { seed: 1, maxSteps: 50 }).layout;
  const steps: number[] = [];
  const again = search(problem, {
    seed: 9,
    maxSteps: 50,
    start: perfect,
    onBetter: (layout) => steps.push(layout.length),
  });
  expect(steps[0]).toBeCloseTo(100, 9);
  expect(again.layout.length).toBeCloseTo(100, 9);
});
