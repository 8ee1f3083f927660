import { describe, expect, test } from 'vitest';
import type { Layout } from '../../nesting/packing/types.ts';
import { verify } from '../../nesting/verify/index.ts';
import { DUIJVESTIJN_CODE, DUIJVESTIJN_SIDE, decodeBouwkamp, squaredSquare } from '../support/duijvestijn.ts';

/** Outside check: a published layout without any room left (source in `duijvestijn.ts`). */
describe('the perfect squared square of order 21 (Duijvestijn 1978)', () => {
  const { problem, layout } = squaredSquare();
  const shifted = (index: number, dx: number, dy: number): Layout => {
    const placements = layout.placements.map((p, i) =>
      i === index ? { ...p, x: p.x + dx, y: p.y + dy } : p,
    );
    return { ...layout, placements };
  };
  const directions = [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const;

  test('its code decodes to 21 different squares that fill the side', () => {
    const squares = decodeBouwkamp(DUIJVESTIJN_CODE, DUIJVESTIJN_SIDE);
    expect(new Set(squares.map(({ side }) => side)).size).toBe(21);
    expect(squares.reduce((area, { side }) => area + side * side, 0)).toBe(DUIJVESTIJN_SIDE ** 2);
  });

  test('is accepted', () => {
    expect(verify(problem, layout)).toEqual([]);
  });

  test.each([1, 0.01])('is refused when any one square is moved by %s in any direction', (step) => {
    for (const index of layout.placements.keys()) {
      for (const [dx, dy] of directions) {
        const faults = verify(problem, shifted(index, step * dx, step * dy));
        expect(faults.map(({ kind }) => kind)).toContainEqual(expect.stringMatching(/overlap|outside/));
      }
    }
  });

  test('is accepted when turned by a quarter, and refused with two squares exchanged', () => {
    const turned = layout.placements.map((p) => ({ ...p, x: DUIJVESTIJN_SIDE - p.y, y: p.x, rotation: 90 }));
    const turnable = problem.items.map((item) => ({ ...item, poses: [{ rotation: 90, mirrored: false }] }));
    expect(verify({ ...problem, items: turnable }, { ...layout, placements: turned })).toEqual([]);

    const [first, second, ...others] = layout.placements;
    const exchanged = [
      { ...first!, x: second!.x, y: second!.y },
      { ...second!, x: first!.x, y: first!.y },
      ...others,
    ];
    expect(verify(problem, { ...layout, placements: exchanged }).length).toBeGreaterThan(0);
  });
});
