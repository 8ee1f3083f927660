import { describe, expect, test } from 'vitest';
import type { Item, Layout, Outline, Problem } from '../../nesting/packing/types.ts';
import { toleranceOf, verify } from '../../nesting/verify/index.ts';
import { at, item, layout, problem, rectangle, sheet, strip } from '../support/layouts.ts';

const kinds = (p: Problem, l: Layout) => verify(p, l).map(({ kind }) => kind);

/** Two outlines where they lie, on a strip wide enough for both: the kinds of faults found. */
function pair(a: Outline, b: Outline, gap = 0) {
  const all = [...a, ...b];
  const low = Math.min(...all.map(([, y]) => y));
  const left = Math.min(...all.map(([x]) => x));
  const length = Math.max(...all.map(([x]) => x)) - left;
  const p = problem(strip(200), [item('a', a), item('b', b)], gap);
  return verify(p, layout([at('a', -left, -low), at('b', -left, -low)], length));
}
const moved = (outline: Outline, dx: number, dy: number): Outline =>
  outline.map(([x, y]) => [x + dx, y + dy]);

const SQUARE = rectangle(10, 10);
/** ⊔ : a bay 4 wide and 6 deep, open at the top. */
const BAY: Outline = [
  [0, 0],
  [10, 0],
  [10, 10],
  [7, 10],
  [7, 4],
  [3, 4],
  [3, 10],
  [0, 10],
];

describe('two pieces', () => {
  test('side by side, touching along a whole edge, is legal', () => {
    expect(pair(SQUARE, moved(SQUARE, 10, 0))).toEqual([]);
    expect(pair(SQUARE, moved(SQUARE, 0, 10))).toEqual([]);
  });

  test('touching along part of an edge or at a corner is legal', () => {
    expect(pair(SQUARE, moved(SQUARE, 10, 3.7))).toEqual([]);
    expect(pair(SQUARE, moved(SQUARE, 10, 10))).toEqual([]);
  });

  test('a corner may touch the middle of an edge', () => {
    const diamond: Outline = [
      [10, 5],
      [15, 0],
      [20, 5],
      [15, 10],
    ];
    expect(pair(SQUARE, diamond)).toEqual([]);
    expect(pair(SQUARE, moved(diamond, -0.01, 0)).map((f) => f.kind)).toEqual(['overlap']);
  });

  test('exactly on top of one another is an overlap', () => {
    expect(pair(SQUARE, SQUARE)).toMatchObject([{ kind: 'overlap', copies: [{ item: 'a' }, { item: 'b' }] }]);
    expect(pair(BAY, BAY)).toMatchObject([{ kind: 'overlap' }]);
  });

  test('the same outline from another first vertex and the other way round is still an overlap', () => {
    const turned = [...BAY.slice(3), ...BAY.slice(0, 3)].reverse();
    expect(pair(BAY, turned)).toMatchObject([{ kind: 'overlap' }]);
  });

  test('one inside the other is an overlap, either way round', () => {
    const small = moved(rectangle(2, 2), 4, 1);
    expect(pair(SQUARE, small)).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(small, SQUARE)).toMatchObject([{ kind: 'overlap' }]);
  });

  test('one inside the other, sharing an edge or two, is an overlap', () => {
    expect(pair(SQUARE, rectangle(4, 10))).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(SQUARE, rectangle(4, 4))).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(moved(rectangle(10, 4), 0, 6), SQUARE)).toMatchObject([{ kind: 'overlap' }]);
  });

  test('a plus sign, crossing with no vertex inside the other, is an overlap of half the narrower width', () => {
    const faults = pair(moved(rectangle(30, 4), 0, 13), moved(rectangle(4, 30), 13, 0));
    expect(faults).toMatchObject([{ kind: 'overlap' }]);
    expect(faults[0]!.amountMm).toBeCloseTo(2, 2);
  });

  test('a thin cross of two slivers is an overlap', () => {
    expect(pair(moved(rectangle(30, 0.01), 0, 15), moved(rectangle(0.01, 30), 15, 0))).toMatchObject([
      { kind: 'overlap' },
    ]);
  });

  test('a square that fills a bay exactly touches three walls and is legal', () => {
    const filling = moved(rectangle(4, 6), 3, 4);
    expect(pair(BAY, filling)).toEqual([]);
    expect(pair(BAY, moved(filling, 0.01, 0))).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(BAY, moved(filling, 0, -0.01))).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(BAY, moved(filling, 0, 0.01))).toEqual([]);
  });

  test('a bar across the mouth of a bay overlaps its two horns', () => {
    expect(pair(BAY, moved(rectangle(10, 2), 0, 8))).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(BAY, moved(rectangle(10, 2), 0, 10))).toEqual([]);
  });

  test('the same square with extra points on its edges is an overlap', () => {
    const dotted: Outline = [
      [0, 0],
      [3, 0],
      [3, 0],
      [10, 0],
      [10, 10],
      [5, 10],
      [0, 10],
      [0, 5],
    ];
    expect(pair(SQUARE, dotted)).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(dotted, moved(SQUARE, 10, 0))).toEqual([]);
  });

  test('two halves of a dumbbell hug each other: the common bell is found', () => {
    const bell: Outline = [
      [0, 0],
      [10, 0],
      [10, 4],
      [20, 4],
      [20, 0],
      [30, 0],
      [30, 10],
      [20, 10],
      [20, 6],
      [10, 6],
      [10, 10],
      [0, 10],
    ];
    expect(pair(bell, rectangle(10, 10))).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(bell, moved(rectangle(10, 4), 10, 0))).toEqual([]);
    expect(pair(bell, moved(bell, 20, 0))).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(bell, moved(bell, 30, 0))).toEqual([]);
  });

  test('the depth of an overlap is measured', () => {
    expect(pair(SQUARE, moved(SQUARE, 9.5, 0))[0]!.amountMm).toBeCloseTo(0.5, 2);
    expect(pair(SQUARE, moved(SQUARE, 9.5, 9.5))[0]!.amountMm).toBeCloseTo(0.5, 2);
  });

  test('the tolerance is a share of the strip: just under it touches, twice as much overlaps', () => {
    const tolerance = toleranceOf(strip(200));
    expect(tolerance).toBeCloseTo(2e-4, 12);
    expect(pair(SQUARE, moved(SQUARE, 10 - 0.9 * tolerance, 0))).toEqual([]);
    expect(pair(SQUARE, moved(SQUARE, 10 - 2 * tolerance, 0))).toMatchObject([{ kind: 'overlap' }]);
  });

  test('on a narrow strip with long pieces the tolerance is a share of their length', () => {
    const strap = rectangle(3_000, 40);
    const tolerance = toleranceOf(strip(40), 3_000);
    expect(tolerance).toBeCloseTo(7.5e-4, 12);
    const two = problem(strip(40), [item('strap', strap, { quantity: 2 })]);
    const endToEnd = (x: number) =>
      kinds(two, layout([at('strap', 0, 0), at('strap', x, 0, { copy: 1 })], x + 3_000));
    expect(endToEnd(3_000 - 0.9 * tolerance)).toEqual([]);
    expect(endToEnd(3_000 - 2 * tolerance)).toEqual(['overlap']);
    expect(toleranceOf(sheet(rectangle(5, 400)))).toBeCloseTo(1e-4, 12);
  });

  test('slivers of a hundredth of a millimetre touch and overlap like everything else', () => {
    const sliver = rectangle(100, 0.01);
    expect(pair(sliver, moved(sliver, 0, 0.01))).toEqual([]);
    expect(pair(sliver, sliver)).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(sliver, moved(sliver, 50, 0.005))).toMatchObject([{ kind: 'overlap' }]);
  });

  test('a fine toothed edge against its own impression is legal, and an overlap when pushed in', () => {
    const teeth = Array.from({ length: 200 }, (_, k): [number, number] => [k / 2, 10 + (k % 2) * 0.8]);
    const comb: Outline = [[0, 0], [99.5, 0], ...[...teeth].reverse()];
    const impression: Outline = [...teeth, [99.5, 20], [0, 20]];
    expect(pair(comb, impression)).toEqual([]);
    expect(pair(comb, moved(impression, 0, -0.001))).toMatchObject([{ kind: 'overlap' }]);
  });
});

describe('gap', () => {
  test('exactly the gap is legal, a hundredth less is not', () => {
    expect(pair(SQUARE, moved(SQUARE, 13, 0), 3)).toEqual([]);
    const faults = pair(SQUARE, moved(SQUARE, 12.99, 0), 3);
    expect(faults).toMatchObject([{ kind: 'gap' }]);
    expect(faults[0]!.amountMm).toBeCloseTo(0.01, 6);
  });

  test('counts round corners, from corner to corner', () => {
    const d = 3 / Math.SQRT2;
    expect(pair(SQUARE, moved(SQUARE, 10 + d, 10 + d), 3)).toEqual([]);
    expect(pair(SQUARE, moved(SQUARE, 9.9 + d, 10 + d), 3)).toMatchObject([{ kind: 'gap' }]);
  });

  test('touching pieces are too close, overlapping ones overlap', () => {
    expect(pair(SQUARE, moved(SQUARE, 10, 0), 3)).toMatchObject([{ kind: 'gap', amountMm: 3 }]);
    expect(pair(SQUARE, moved(SQUARE, 9, 0), 3)).toMatchObject([{ kind: 'overlap' }]);
    expect(pair(SQUARE, moved(rectangle(2, 2), 4, 4), 1)).toMatchObject([{ kind: 'overlap' }]);
  });

  test('is kept inside a bay, and not asked for at the edge of the cloth', () => {
    expect(pair(BAY, moved(rectangle(2, 5), 4, 5), 1)).toEqual([]);
    expect(pair(BAY, moved(rectangle(2, 5), 4.5, 5), 1)).toMatchObject([{ kind: 'gap' }]);
  });
});

describe('on a strip', () => {
  const one = problem(strip(50), [item('a', SQUARE)]);

  test('all four sides count, the far end only where there is one', () => {
    expect(kinds(one, layout([at('a', 0, 40)], 10))).toEqual([]);
    expect(kinds(one, layout([at('a', 0, 40.01)], 10))).toEqual(['outside']);
    expect(kinds(one, layout([at('a', 0, -0.01)], 10))).toEqual(['outside']);
    expect(kinds(one, layout([at('a', -0.01, 0)], 9.99))).toEqual(['outside']);
    expect(kinds(one, layout([at('a', 1e4, 0)], 10_010))).toEqual([]);
    const short = problem(strip(50, { maxLength: 30 }), one.items);
    expect(kinds(short, layout([at('a', 20, 0)], 30))).toEqual([]);
    expect(kinds(short, layout([at('a', 20.5, 0)], 30.5))).toEqual(['outside']);
  });

  test('a piece wider than the strip is outside by the difference', () => {
    const wide = problem(strip(9), [item('a', SQUARE)]);
    expect(verify(wide, layout([at('a', 0, 0)], 10))).toMatchObject([{ kind: 'outside', amountMm: 1 }]);
  });

  test('the length is computed again', () => {
    expect(kinds(one, layout([at('a', 5, 0)], 15))).toEqual([]);
    expect(kinds(one, layout([at('a', 5, 0)], 14.9))).toEqual(['length']);
    expect(kinds(one, layout([at('a', 5, 0)], Number.NaN))).toEqual(['malformed']);
    expect(kinds(one, layout([], 0, [{ item: 'a', copy: 0 }]))).toEqual([]);
    expect(kinds(one, layout([], 3, [{ item: 'a', copy: 0 }]))).toEqual(['length']);
  });

  test('a half piece lies on the fold', () => {
    const half = problem(strip(50), [item('a', SQUARE, { onFold: true })]);
    expect(kinds(half, layout([at('a', 0, 0)], 10))).toEqual([]);
    expect(kinds(half, layout([at('a', 0, 0.01)], 10))).toEqual(['fold']);
    expect(kinds(half, layout([at('a', 0, -0.01)], 10))).toEqual(['outside', 'fold']);
    expect(kinds(half, layout([at('a', 0, 40)], 10))).toEqual(['fold']);
  });
});

describe('on sheets', () => {
  /** A hide-like sheet, 100 × 60, with a bay in its lower edge and a hole. */
  const outline: Outline = [
    [0, 0],
    [40, 0],
    [40, 20],
    [60, 20],
    [60, 0],
    [100, 0],
    [100, 60],
    [0, 60],
  ];
  const hole = moved(rectangle(10, 10), 45, 35);
  const hide = sheet(outline, { blocked: [hole], quantity: 2 });
  const on = (o: Outline, x: number, y: number, where = {}) =>
    kinds(problem(hide, [item('a', o)]), layout([at('a', x, y, { container: 'sheet', ...where })], 0));

  test('inside, touching outline and hole, is legal', () => {
    expect(on(rectangle(40, 60), 0, 0)).toEqual([]);
    expect(on(rectangle(20, 15), 40, 20)).toEqual([]);
    expect(on(rectangle(45, 10), 0, 35)).toEqual([]);
  });

  test('over the edge, across the bay, beyond, or round everything is outside', () => {
    expect(on(SQUARE, -0.01, 0)).toEqual(['outside']);
    expect(on(rectangle(30, 10), 35, 5)).toEqual(['outside']);
    expect(on(SQUARE, 45, 5)).toEqual(['outside']);
    expect(on(SQUARE, 300, 5)).toEqual(['outside']);
    expect(on(rectangle(300, 300), -50, -50)).toContain('outside');
  });

  test('a piece that fills the bay exactly, outside the sheet, is outside', () => {
    expect(on(rectangle(20, 20), 40, 0)).toEqual(['outside']);
  });

  test('in the hole, over it, round it, exactly on it is blocked', () => {
    expect(on(rectangle(2, 2), 49, 39)).toEqual(['blocked']);
    expect(on(SQUARE, 40, 35)).toEqual(['blocked']);
    expect(on(rectangle(30, 30), 40, 25)).toEqual(['blocked']);
    expect(on(SQUARE, 45, 35)).toEqual(['blocked']);
    expect(on(SQUARE, 35.01, 35)).toEqual(['blocked']);
  });

  test('the second copy of the sheet is another place, a third there is not', () => {
    const two = problem(hide, [item('a', SQUARE, { quantity: 2 })]);
    const there = (copy: number, containerCopy: number) =>
      at('a', 5, 5, { copy, container: 'sheet', containerCopy });
    expect(kinds(two, layout([there(0, 0), there(1, 1)], 0))).toEqual([]);
    expect(kinds(two, layout([there(0, 1), there(1, 1)], 0))).toEqual(['overlap']);
    expect(kinds(two, layout([there(0, 0), there(1, 2)], 0))).toEqual(['unknown-container']);
    expect(kinds(two, layout([there(0, 0), there(1, 0.5)], 0))).toEqual(['unknown-container']);
  });

  test('sheets have no length', () => {
    const p = problem(hide, [item('a', SQUARE)]);
    expect(kinds(p, layout([at('a', 5, 5, { container: 'sheet' })], 15))).toEqual(['length']);
  });

  test('an item keeps to its containers', () => {
    const other = sheet(rectangle(50, 50), { id: 'other' });
    const p = problem([hide, other], [item('a', SQUARE, { containers: ['other'] })]);
    expect(kinds(p, layout([at('a', 5, 5, { container: 'other' })], 0))).toEqual([]);
    expect(kinds(p, layout([at('a', 5, 5, { container: 'sheet' })], 0))).toEqual(['wrong-container']);
    expect(kinds(p, layout([at('a', 5, 5, { container: 'strip' })], 0))).toEqual(['unknown-container']);
  });
});

describe('poses', () => {
  const ell: Outline = [
    [0, 0],
    [20, 0],
    [20, 5],
    [5, 5],
    [5, 10],
    [0, 10],
  ];
  const laid = (
    more: Partial<Item>,
    rotation: number,
    mirrored: boolean,
    x: number,
    y: number,
    length: number,
  ) =>
    kinds(
      problem(strip(50), [item('a', ell, more)]),
      layout([at('a', x, y, { rotation, mirrored })], length),
    );

  test('quarter turns are exact, and any turn of 360° more is the same', () => {
    const poses = [90, 270].map((rotation) => ({ rotation, mirrored: false }));
    expect(laid({ poses }, 90, false, 10, 0, 10)).toEqual([]);
    expect(laid({ poses }, 450, false, 10, 0, 10)).toEqual([]);
    expect(laid({ poses }, -90, false, 0, 20, 10)).toEqual([]);
    expect(laid({ poses }, 0, false, 0, 0, 20)).toEqual(['pose']);
    expect(laid({ poses }, 90.001, false, 10, 1, 10)).toContain('pose');
  });

  test('mirroring comes before turning', () => {
    const poses = [{ rotation: 90, mirrored: true }];
    expect(laid({ poses }, 90, true, 10, 20, 10)).toEqual([]);
    expect(laid({ poses }, 90, false, 10, 0, 10)).toEqual(['pose']);
  });

  test('a hand that is not listed is refused even where any angle is allowed', () => {
    expect(laid({ anyAngle: true }, 180, false, 20, 10, 20)).toEqual([]);
    expect(laid({ anyAngle: true }, 37.3, false, 10, 10, 10 + 20 * Math.cos((37.3 * Math.PI) / 180))).toEqual(
      [],
    );
    expect(laid({ anyAngle: true }, 0, true, 20, 0, 20)).toEqual(['pose']);
  });

  test('poses pair an angle with a hand', () => {
    const poses = [
      { rotation: 0, mirrored: false },
      { rotation: 180, mirrored: true },
    ];
    expect(laid({ poses }, 180, true, 0, 10, 20)).toEqual([]);
    expect(laid({ poses }, 180, false, 20, 10, 20)).toEqual(['pose']);
  });
});

describe('counts', () => {
  const three = problem(strip(50), [item('a', SQUARE, { quantity: 3 })]);
  const placed = (...copies: number[]) => copies.map((copy, i) => at('a', 10 * i, 0, { copy }));
  const left = (...copies: number[]) => copies.map((copy) => ({ item: 'a', copy }));

  test('placed and unplaced together are every copy once', () => {
    expect(kinds(three, layout(placed(0, 1, 2), 30))).toEqual([]);
    expect(kinds(three, layout(placed(2), 10, left(1, 0)))).toEqual([]);
  });

  test('a missing, doubled, unknown copy is named', () => {
    expect(verify(three, layout(placed(0, 2), 20))).toMatchObject([
      { kind: 'missing', copies: [{ item: 'a', copy: 1 }] },
    ]);
    expect(kinds(three, layout(placed(0, 1, 1, 2), 40))).toEqual(['twice']);
    expect(kinds(three, layout(placed(0, 1, 2), 30, left(2)))).toEqual(['twice']);
    expect(kinds(three, layout(placed(0, 1, 2, 3), 40))).toEqual(['unknown-copy']);
    expect(kinds(three, layout(placed(0, 1, 2), 30, left(-1)))).toEqual(['unknown-copy']);
    expect(kinds(three, layout(placed(0, 1, 1.5, 2), 40))).toEqual(['unknown-copy']);
    const stranger = at('b', 30, 0);
    expect(kinds(three, layout([...placed(0, 1, 2), stranger], 30))).toEqual(['unknown-copy']);
  });

  test('nothing asked for, nothing placed is legal', () => {
    expect(kinds(problem(strip(50), []), layout([], 0))).toEqual([]);
  });
});

describe('what is not a number or not a shape', () => {
  const one = problem(strip(50), [item('a', SQUARE)]);
  test.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])(
    '%s as x, y or rotation',
    (bad) => {
      expect(kinds(one, layout([at('a', bad, 0)], 10))).toContain('malformed');
      expect(kinds(one, layout([at('a', 0, bad)], 10))).toContain('malformed');
      expect(kinds(one, layout([at('a', 0, 0, { rotation: bad })], 10))).toContain('malformed');
    },
  );

  test('an outline without numbers, points or area', () => {
    const spoilt = (outline: Outline) =>
      kinds(problem(strip(50), [item('a', outline)]), layout([at('a', 0, 0)], 10));
    expect(
      spoilt([
        [0, 0],
        [10, 0],
        [Number.NaN, 10],
      ]),
    ).toContain('malformed');
    expect(
      spoilt([
        [0, 0],
        [10, 0],
      ]),
    ).toContain('malformed');
    expect(spoilt([])).toContain('malformed');
    expect(
      spoilt([
        [0, 0],
        [10, 0],
        [5, 0],
      ]),
    ).toEqual([]); // a line takes no room: nothing to refuse
  });

  test('a container without numbers or extent', () => {
    const items = [item('a', SQUARE)];
    for (const width of [Number.NaN, 0, -5, Number.POSITIVE_INFINITY])
      expect(kinds(problem(strip(width), items), layout([at('a', 0, 0)], 10))).toContain('malformed');
    const flat = sheet([
      [0, 0],
      [10, 0],
      [20, 0],
    ]);
    expect(kinds(problem(flat, items), layout([at('a', 0, 0, { container: 'sheet' })], 0))).toContain(
      'malformed',
    );
    const holed = sheet(rectangle(50, 50), {
      blocked: [
        [
          [1, 1],
          [2, Number.NaN],
          [1, 2],
        ],
      ],
    });
    expect(kinds(problem(holed, items), layout([at('a', 5, 5, { container: 'sheet' })], 0))).toContain(
      'malformed',
    );
  });

  test('a gap that is no length, ids that stand twice', () => {
    expect(kinds({ ...one, gap: Number.NaN }, layout([at('a', 0, 0)], 10))).toContain('malformed');
    expect(kinds({ ...one, gap: -1 }, layout([at('a', 0, 0)], 10))).toContain('malformed');
    const doubled = problem(strip(50), [item('a', SQUARE), item('a', SQUARE)]);
    expect(kinds(doubled, layout([at('a', 0, 0)], 10))).toContain('malformed');
    expect(kinds(problem([strip(50), strip(60)], []), layout([], 0))).toContain('malformed');
  });
});
