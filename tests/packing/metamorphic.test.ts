import { describe, expect, it } from 'vitest';
import { search } from '../../nesting/packing/search.ts';
import type { Layout, Outline, Problem } from '../../nesting/packing/types.ts';
import { verify } from '../../nesting/verify/index.ts';
import { item, problem, rectangle, strip } from '../support/layouts.ts';

const HALF_TURNS = [
  { rotation: 0, mirrored: false },
  { rotation: 180, mirrored: false },
];
const PANEL: Outline = [
  [0, 0],
  [90, 0],
  [90, 30],
  [30, 30],
  [30, 80],
  [0, 80],
];
const GUSSET: Outline = [
  [0, 0],
  [70, 0],
  [50, 50],
  [20, 50],
];
const WEDGE: Outline = [
  [0, 0],
  [60, 5],
  [10, 44],
];

/** A dozen and a half pieces of three kinds on a strip, with outlines changed by `change`. */
function given(change: (outline: Outline) => Outline, width = 150): Problem {
  return problem(
    strip(width),
    [PANEL, GUSSET, WEDGE].map((outline, i) =>
      item(`p${i}`, change(outline), { quantity: 6, poses: HALF_TURNS }),
    ),
  );
}

function lengthOf(changed: Problem): number {
  const { layout } = search(changed, { seed: 4, maxSteps: 2500 });
  expect(verify(changed, layout)).toEqual([]);
  return layout.length;
}

describe('the same problem in other words', () => {
  const plain = lengthOf(given((outline) => outline));

  it.each([1e-3, 25.4, 1e3])('is packed alike when scaled by %s', (factor) => {
    const scaled = given((outline) => outline.map(([x, y]) => [x * factor, y * factor]), 150 * factor);
    expect(lengthOf(scaled) / factor / plain).toBeGreaterThan(0.95);
    expect(lengthOf(scaled) / factor / plain).toBeLessThan(1.05);
  });

  it.each([
    ['listed backwards', (outline: Outline) => [...outline].reverse()],
    ['begun elsewhere', (outline: Outline) => [...outline.slice(2), ...outline.slice(0, 2)]],
    ['moved far off', (outline: Outline) => outline.map(([x, y]) => [x + 5000, y - 7000] as const)],
    ['turned upside down', (outline: Outline) => outline.map(([x, y]) => [-x, -y] as const)],
  ])('is packed alike when outlines are %s', (_, change) => {
    const ratio = lengthOf(given(change)) / plain;
    expect(ratio).toBeGreaterThan(0.95);
    expect(ratio).toBeLessThan(1.05);
  });
});

describe('extremes', () => {
  it('are packed legally: many copies, slivers, fine outlines, identical outlines', () => {
    const circle: Outline = Array.from({ length: 1500 }, (_, i) => {
      const angle = (2 * Math.PI * i) / 1500;
      return [40 * Math.cos(angle), 40 * Math.sin(angle)] as const;
    });
    const problems = [
      problem(strip(400), [item('many', rectangle(20, 30), { quantity: 320, poses: HALF_TURNS })]),
      problem(strip(100), [
        item('sliver', rectangle(90, 0.01), { quantity: 5 }),
        item('r', rectangle(50, 50), { quantity: 3 }),
      ]),
      problem(strip(100), [
        item('disc', circle, { quantity: 4 }),
        item('w', WEDGE, { quantity: 4, poses: HALF_TURNS }),
      ]),
      problem(strip(160), [item('a', PANEL, { quantity: 2 }), item('b', PANEL, { quantity: 2 })]),
      problem(strip(100), [item('one', GUSSET)]),
    ];
    for (const each of problems) {
      const { verdict, layout } = search(each, { seed: 1, maxSteps: 40 });
      expect(verdict).toBe('fits');
      expect(verify(each, layout)).toEqual([]);
    }
  });
});

describe('searches side by side', () => {
  it('go on from a better layout of another, and offer their own', () => {
    const given1 = given((outline) => outline);
    const good = search(given1, { seed: 1, maxSteps: 1500 }).layout;
    const offered: Layout[] = [];
    let left: Layout | null = good;
    const take = () => {
      const layout = left;
      left = null;
      return layout;
    };
    const { layout } = search(given1, {
      seed: 2,
      maxSteps: 2500,
      exchange: { offer: (better) => offered.push(better), take },
    });
    expect(layout.length).toBeLessThanOrEqual(good.length);
    expect(verify(given1, layout)).toEqual([]);
    expect(offered.length).toBeGreaterThan(0);
  });
});
