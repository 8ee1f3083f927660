import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { search } from '../../nesting/packing/search.ts';
import type { Layout, Problem, SearchOptions } from '../../nesting/packing/types.ts';
import { verify } from '../../nesting/verify/index.ts';
import { jigsaw, simpleOutline, stripProblem } from '../support/generators.ts';
import { item, problem, rectangle, sheet, strip } from '../support/layouts.ts';

const BOTH_HANDS = [
  { rotation: 0, mirrored: false },
  { rotation: 180, mirrored: false },
  { rotation: 0, mirrored: true },
];
const L_SHAPE = [
  [0, 0],
  [90, 0],
  [90, 30],
  [30, 30],
  [30, 80],
  [0, 80],
] as const;
const TRIANGLE = [
  [0, 0],
  [70, 0],
  [20, 50],
] as const;

/** Every layout that a search reports, the last one being its result. */
function layoutsOf(given: Problem, options: SearchOptions): Layout[] {
  const layouts: Layout[] = [];
  const { layout } = search(given, { ...options, onBetter: (better) => layouts.push(better) });
  return [...layouts, layout];
}

function faultsOf(given: Problem, layouts: readonly Layout[]): string[] {
  return layouts.flatMap((layout) => verify(given, layout).map(({ text }) => text));
}

describe.each(['separation', 'annealing'] as const)('a search by %s', (method) => {
  it('gives only legal layouts, or a proof, for any strip', () => {
    fc.assert(
      fc.property(stripProblem(), fc.nat(), (given, seed) => {
        const result = search(given, { seed, maxSteps: 12, method });
        if (result.verdict === 'cannot fit') {
          expect(result.impossible?.reason).toMatch(/./);
          expect(result.layout.placements).toEqual([]);
          return;
        }
        expect(faultsOf(given, layoutsOf(given, { seed, maxSteps: 12, method }))).toEqual([]);
        expect(result.verdict).toBe('fits');
      }),
      { numRuns: 40 },
    );
  }, 60_000);

  it('gives only legal layouts, complete or not, for any sheet with a blocked place', () => {
    const piece = fc.record({ outline: simpleOutline(60), quantity: fc.integer({ min: 1, max: 4 }) });
    fc.assert(
      fc.property(
        fc.array(piece, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 1, max: 3 }),
        fc.nat(),
        (pieces, quantity, seed) => {
          const given = problem(
            sheet(
              [
                [0, 0],
                [150, 10],
                [140, 90],
                [70, 110],
                [60, 60],
                [0, 80],
              ],
              {
                quantity,
                blocked: [
                  [
                    [80, 30],
                    [100, 30],
                    [95, 45],
                  ],
                ],
              },
            ),
            pieces.map(({ outline, quantity: copies }, i) =>
              item(`p${i}`, outline, { quantity: copies, poses: BOTH_HANDS }),
            ),
          );
          const layouts = layoutsOf(given, { seed, maxSteps: 12, method });
          expect(faultsOf(given, layouts)).toEqual([]);
        },
      ),
      { numRuns: 30 },
    );
  }, 60_000);

  it('gives the same layout for the same seed and steps', () => {
    const given = problem(strip(150), [
      item('l', L_SHAPE, { quantity: 5, poses: BOTH_HANDS }),
      item('t', TRIANGLE, { quantity: 6, poses: BOTH_HANDS }),
    ]);
    const run = (seed: number) => search(given, { seed, maxSteps: 60, method });
    expect(run(7)).toEqual(run(7));
    expect(run(8).layout.placements).not.toEqual(run(7).layout.placements);
  });

  it('reports better layouts only, from the first on', () => {
    const given = problem(strip(150), [
      item('l', L_SHAPE, { quantity: 8, poses: BOTH_HANDS }),
      item('t', TRIANGLE, { quantity: 8, poses: BOTH_HANDS }),
    ]);
    const layouts = layoutsOf(given, { seed: 3, maxSteps: 80, method });
    expect(layouts.length).toBeGreaterThan(2);
    layouts.forEach((layout, i) => {
      const before = layouts[i - 1];
      if (before) expect(layout.length).toBeLessThanOrEqual(before.length);
    });
  });

  it('stops when told, with the layout it has', () => {
    const given = problem(strip(150), [item('l', L_SHAPE, { quantity: 12, poses: BOTH_HANDS })]);
    let asked = 0;
    const result = search(given, { seed: 1, method, shouldStop: () => ++asked > 200 });
    expect(result.verdict).toBe('fits');
    expect(verify(given, result.layout)).toEqual([]);
  });

  it('keeps the gap', () => {
    const given = problem(
      strip(200),
      [
        item('l', L_SHAPE, { quantity: 5, poses: BOTH_HANDS }),
        item('t', TRIANGLE, { quantity: 5, poses: BOTH_HANDS }),
        item('r', rectangle(40, 25), { quantity: 4 }),
      ],
      4,
    );
    expect(faultsOf(given, layoutsOf(given, { seed: 2, maxSteps: 60, method }))).toEqual([]);
  });

  it('lays half pieces on the fold', () => {
    const given = problem(strip(120), [
      item(
        'half',
        [
          [0, 5],
          [80, 5],
          [60, 45],
          [10, 50],
        ],
        { quantity: 3, onFold: true },
      ),
      item('t', TRIANGLE, { quantity: 6, poses: BOTH_HANDS }),
    ]);
    const layouts = layoutsOf(given, { seed: 5, maxSteps: 60, method });
    expect(faultsOf(given, layouts)).toEqual([]);
    const halves = layouts.at(-1)?.placements.filter((placement) => placement.item === 'half');
    expect(halves?.map((placement) => placement.y)).toEqual([-5, -5, -5]);
  });

  it('turns freely where any angle is allowed', () => {
    // A 100 × 8 batten fits into the 80 × 80 sheet on the diagonal only.
    const given = problem(sheet(rectangle(80, 80)), [item('batten', rectangle(100, 8), { anyAngle: true })]);
    const result = search(given, { seed: 1, maxSteps: 200, method });
    expect(result.verdict).toBe('fits');
    expect(verify(given, result.layout)).toEqual([]);
  });

  it('has nothing to do without items', () => {
    const layouts: Layout[] = [];
    const result = search(problem(strip(100), []), {
      seed: 1,
      method,
      onBetter: (layout) => layouts.push(layout),
    });
    expect(result).toEqual({
      verdict: 'fits',
      layout: { placements: [], unplaced: [], length: 0 },
      steps: 0,
    });
    expect(layouts).toHaveLength(1);
  });
});

describe('separation', () => {
  it('solves small jigsaws to the end', () => {
    fc.assert(
      fc.property(jigsaw(3), fc.nat(), ({ problem: given, length }, seed) => {
        const { layout } = search(given, { seed, maxSteps: 4000 });
        expect(verify(given, layout)).toEqual([]);
        expect(layout.length).toBeGreaterThanOrEqual(length * (1 - 1e-6));
        expect(layout.length).toBeLessThan(length * 1.02);
      }),
      { numRuns: 6, seed: 11 },
    );
  }, 60_000);

  it('is never worse than its greedy start', () => {
    const given = problem(strip(150), [
      item('l', L_SHAPE, { quantity: 6, poses: BOTH_HANDS }),
      item('t', TRIANGLE, { quantity: 6, poses: BOTH_HANDS }),
    ]);
    const start = search(given, { seed: 1, maxSteps: 0 });
    const end = search(given, { seed: 1, maxSteps: 100 });
    expect(end.layout.length).toBeLessThan(start.layout.length);
  });

  it('places all on a strip of limited length, or as much as goes', () => {
    const items = [item('r', rectangle(30, 50), { quantity: 6 })];
    const fits = search(problem(strip(100, { maxLength: 90 }), items), { seed: 1, maxSteps: 50 });
    expect(fits.verdict).toBe('fits');
    const pentagons = [
      item(
        'p',
        [
          [0, 0],
          [52, 0],
          [60, 30],
          [26, 52],
          [0, 40],
        ],
        { quantity: 4 },
      ),
    ];
    const given = problem(strip(100, { maxLength: 125 }), pentagons);
    const part = search(given, { seed: 1, maxSteps: 100 });
    expect(verify(given, part.layout)).toEqual([]);
    expect(part.layout.placements.length + part.layout.unplaced.length).toBe(4);
  });

  it('uses as few sheets as it can, the first ones before later ones', () => {
    const given = problem(
      [sheet(rectangle(100, 100), { id: 'remnant' }), sheet(rectangle(100, 100), { id: 'new', quantity: 3 })],
      [item('a', rectangle(60, 50), { quantity: 2 }), item('b', rectangle(40, 50), { quantity: 2 })],
    );
    const { verdict, layout } = search(given, { seed: 1, maxSteps: 500 });
    expect(verdict).toBe('fits');
    expect(new Set(layout.placements.map((placement) => placement.container))).toEqual(new Set(['remnant']));
    expect(verify(given, layout)).toEqual([]);
  });
});

describe('proofs', () => {
  const proofOf = (given: Problem) => search(given, { seed: 1, maxSteps: 5 }).impossible;

  it('names a piece wider than the strip, and by how much', () => {
    expect(proofOf(problem(strip(100), [item('wide', rectangle(30, 112))]))).toMatchObject({
      kind: 'too-wide',
      items: ['wide'],
      shortBy: 12,
    });
    const free = { anyAngle: true };
    expect(proofOf(problem(strip(100), [item('wide', rectangle(130, 112), free)]))?.shortBy).toBeCloseTo(
      12,
      9,
    );
    expect(proofOf(problem(strip(100), [item('wide', rectangle(30, 112), free)]))).toBeUndefined();
  });

  it('names a strap longer than the sheet', () => {
    expect(proofOf(problem(sheet(rectangle(400, 300)), [item('strap', rectangle(410, 20))]))).toMatchObject({
      kind: 'too-long',
      shortBy: 10,
    });
  });

  it('adds areas, without what is blocked, per copies of the sheet', () => {
    const blocked = [rectangle(10, 10)];
    const given = problem(sheet(rectangle(100, 100), { quantity: 2, blocked }), [
      item('r', rectangle(50, 100), { quantity: 4 }),
    ]);
    expect(proofOf(given)).toMatchObject({ kind: 'area' });
    expect(proofOf(given)?.shortBy).toBeCloseTo(200, 2);
  });

  it('sees a flaw that leaves no place', () => {
    const blocked = [
      [
        [45, 45],
        [55, 45],
        [55, 55],
        [45, 55],
      ] as const,
    ];
    const given = problem(sheet(rectangle(100, 100), { blocked }), [item('r', rectangle(60, 60))]);
    expect(proofOf(given)).toMatchObject({ kind: 'no-pose' });
  });

  it('sees pieces that cannot share a sheet', () => {
    const base = item('base', rectangle(55, 60), { quantity: 2 });
    expect(proofOf(problem(sheet(rectangle(100, 100)), [base]))).toMatchObject({ kind: 'pair' });
    expect(
      proofOf(problem(sheet(rectangle(100, 100), { quantity: 2 }), [{ ...base, quantity: 3 }])),
    ).toMatchObject({ kind: 'count' });
    expect(proofOf(problem(sheet(rectangle(110, 100)), [base]))).toBeUndefined();
  });

  it('never speaks where a layout is known', () => {
    fc.assert(
      fc.property(jigsaw(8), ({ problem: given, length }) => {
        const [cloth] = given.containers;
        if (cloth?.kind !== 'strip') throw new Error('a jigsaw lies on a strip');
        expect(proofOf({ ...given, containers: [{ ...cloth, maxLength: length }] })).toBeUndefined();
        expect(
          proofOf({ ...given, containers: [sheet(rectangle(length, cloth.width), { id: cloth.id })] }),
        ).toBeUndefined();
      }),
      { numRuns: 25 },
    );
  });
});
