/** Lanes, blocked places on strips, fixed copies: what cloths folded or laid by hand make of a packing problem. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guardedSearch } from '../../nesting/guardedSearch.ts';
import { type Item, type Outline, type Placement, type Problem, search } from '../../nesting/index.ts';
import { lengthBound } from '../../nesting/packing/lengthBound.ts';
import { verify } from '../../nesting/verify/index.ts';
import { sheetProblem, starPolygon, stripProblem } from '../support/generators.ts';

const box = (width: number, height: number): Outline => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
];
const plain = [{ rotation: 0, mirrored: false }];
const item = (id: string, outline: Outline, quantity: number, more: Partial<Item> = {}): Item => ({
  id,
  outline,
  quantity,
  poses: plain,
  ...more,
});
const strip = (id: string, width: number, more: object = {}) => ({
  kind: 'strip' as const,
  id,
  width,
  ...more,
});

/** Searches a little; every layout that comes out is legal. */
function packed(problem: Problem, maxSteps = 60) {
  const seen: number[] = [];
  const result = search(problem, {
    seed: 1,
    maxSteps,
    onBetter: (layout) => {
      expect(verify(problem, layout)).toEqual([]);
      seen.push(layout.length);
    },
  });
  expect(verify(problem, result.layout)).toEqual([]);
  return result;
}

describe('lanes of one cloth', () => {
  it('share the pieces, so that the longer one is as short as can be', () => {
    const problem: Problem = {
      name: 'two lanes',
      containers: [strip('a', 100), strip('b', 60)],
      items: [item('large', box(100, 100), 2), item('small', box(50, 60), 4)],
      gap: 0,
    };
    const { layout, verdict } = packed(problem);
    expect(verdict).toBe('fits');
    expect(layout.length).toBeCloseTo(200, 6);
    // Only the wide lane takes large pieces, and with them full the small ones go to the other.
    const lanesOf = (id: string) =>
      new Set(layout.placements.filter((p) => p.item === id).map((p) => p.container));
    expect([...lanesOf('large')]).toEqual(['a']);
    expect([...lanesOf('small')]).toEqual(['b']);
  });

  it('take only what may lie in them, and pieces on the fold lie on each lane’s own', () => {
    const problem: Problem = {
      name: 'fold and open part',
      containers: [strip('doubled', 80), strip('single', 80)],
      items: [
        item('half', box(40, 50), 2, { onFold: true, containers: ['doubled'] }),
        item('open', box(40, 80), 2, { containers: ['single'] }),
      ],
      gap: 0,
    };
    const { layout } = packed(problem);
    expect(layout.length).toBeCloseTo(80, 6);
    for (const { item: id, container, y } of layout.placements) {
      expect(container).toBe(id === 'half' ? 'doubled' : 'single');
      if (id === 'half') expect(Math.abs(y)).toBe(0);
    }
  });

  it('have a bound that counts what may only go into some of them', () => {
    const problem: Problem = {
      name: 'bound',
      containers: [strip('a', 100), strip('b', 100)],
      items: [item('only a', box(50, 50), 8, { containers: ['a'] }), item('any', box(10, 10), 1)],
      gap: 0,
    };
    expect(lengthBound(problem).length).toBe(200);
    expect(packed(problem).layout.length).toBeCloseTo(200, 6);
  });

  it('give only legal layouts for any pieces, gap and blocked places, never below the bound', () => {
    fc.assert(
      fc.property(
        stripProblem(4),
        fc.integer({ min: 40, max: 200 }),
        fc.array(fc.tuple(starPolygon(25), fc.nat(150), fc.nat(150)), { maxLength: 2 }),
        (random, second, flaws) => {
          const [first] = random.containers;
          const blocked = flaws.map(([ring, dx, dy]) => ring.map(([x, y]) => [x + dx, y + dy] as const));
          const problem: Problem = {
            ...random,
            containers: [{ ...first!, blocked } as never, strip('second', second)],
          };
          const { layout, verdict } = packed(problem, 12);
          if (verdict === 'fits')
            expect(layout.length).toBeGreaterThanOrEqual(lengthBound(problem).length * (1 - 1e-6));
        },
      ),
      { numRuns: 40 },
    );
  });
});

describe('a blocked place on a strip', () => {
  it('is left free, and what fits before it lies before it', () => {
    const flaw: Outline = [
      [40, 0],
      [60, 0],
      [60, 100],
      [40, 100],
    ];
    const problem: Problem = {
      name: 'flaw across',
      containers: [strip('roll', 100, { blocked: [flaw] })],
      items: [item('a', box(40, 100), 2)],
      gap: 0,
    };
    const { layout } = packed(problem);
    expect(
      layout.placements.map(({ x }) => Math.abs(Math.round(x * 1e3)) / 1e3).sort((a, b) => a - b),
    ).toEqual([0, 60]);
    expect(layout.length).toBeCloseTo(100, 3);
  });
});

describe('fixed copies', () => {
  const at = (copy: number, x: number, y: number): Placement => ({
    item: 'a',
    copy,
    container: 'roll',
    containerCopy: 0,
    rotation: 0,
    mirrored: false,
    x,
    y,
  });
  const problem: Problem = {
    name: 'one locked',
    containers: [strip('roll', 100)],
    items: [item('a', box(50, 50), 4)],
    gap: 0,
    fixed: [at(2, 30, 25)],
  };

  it('stay where they are, and the others are packed around them', () => {
    const { layout, verdict } = packed(problem, 200);
    expect(verdict).toBe('fits');
    expect(layout.placements.find(({ copy }) => copy === 2)).toEqual(problem.fixed?.[0]);
    // Nothing fits beside a piece in the middle of the width, before it, or above and below it.
    expect(layout.length).toBeCloseTo(180, 3);
  });

  it('count in the length even where nothing else reaches as far', () => {
    const far = { ...problem, fixed: [at(0, 400, 0)] };
    expect(packed(far).layout.length).toBe(450);
  });

  it('are missed by the checker when they lie elsewhere or nowhere', () => {
    const { layout } = packed(problem);
    const moved = {
      ...layout,
      placements: layout.placements.map((p) => (p.copy === 2 ? { ...p, x: p.x + 500 } : p)),
      length: 580,
    };
    expect(verify(problem, moved).map(({ kind }) => kind)).toEqual(['fixed']);
  });

  it('are refused by name, before any search, when they can’t lie so', () => {
    const clash = { ...problem, fixed: [at(0, 0, 0), at(1, 20, 0)] };
    const guarded = (given: Problem) =>
      guardedSearch(search, given, { seed: 1, maxSteps: 20, clock: () => performance.now() });
    expect(() => guarded(clash)).toThrow(/copy 0 of a and copy 1 of a overlap/);
    expect(() => guarded({ ...problem, fixed: [at(0, 0, 70)] })).toThrow(/out of roll/);
    expect(guarded(problem).layout.length).toBeCloseTo(180, 3);
  });

  it('lie beside a start that is taken up', () => {
    const first = search(problem, { seed: 1, maxSteps: 200 }).layout;
    const seen: number[] = [];
    search(problem, { seed: 2, maxSteps: 5, start: first, onBetter: ({ length }) => seen.push(length) });
    expect(seen[0]).toBeCloseTo(first.length, 9);
  });

  it('keep their gap', () => {
    const spaced = { ...problem, gap: 4 };
    const { layout } = packed(spaced, 100);
    expect(layout.length).toBeGreaterThanOrEqual(180 + 2 * 4 - 1e-3);
  });

  it('stay put for any pieces, on strips and on several sheets', () => {
    const both = fc.oneof(stripProblem(3), sheetProblem(3));
    fc.assert(
      fc.property(both, fc.integer({ min: 1, max: 1e6 }), (random, seed) => {
        const first = search(random, { seed, maxSteps: 2 });
        const fixed = first.layout.placements.filter((_, i) => i % 2 === 0);
        const locked: Problem = { ...random, fixed, bestSubset: true };
        const { layout } = packed(locked, 8);
        for (const wanted of fixed)
          expect(layout.placements.find((p) => p.item === wanted.item && p.copy === wanted.copy)).toEqual(
            wanted,
          );
      }),
      { numRuns: 50 },
    );
  });
});
