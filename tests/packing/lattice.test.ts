/** Positions confined to the repeat of a print: points for motifs, lines for stripes. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Item, type Lattice, type Outline, type Problem, search } from '../../nesting/index.ts';
import { LatticeSteps } from '../../nesting/packing/lattice.ts';
import { verify } from '../../nesting/verify/index.ts';
import { simpleOutline } from '../support/generators.ts';

const box = (width: number, height: number): Outline => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
];
const on = (lattice: Lattice) => [{ rotation: 0, mirrored: false, lattice }];
const item = (id: string, outline: Outline, quantity: number, lattice?: Lattice): Item => ({
  id,
  outline,
  quantity,
  poses: lattice ? on(lattice) : [{ rotation: 0, mirrored: false }],
});
const roll = (items: readonly Item[], width: number, more: Partial<Problem> = {}): Problem => ({
  name: 'print',
  containers: [{ kind: 'strip', id: 'roll', width }],
  items,
  gap: 0,
  ...more,
});

function packed(problem: Problem, maxSteps = 150) {
  const result = search(problem, {
    seed: 3,
    maxSteps,
    onBetter: (layout) => expect(verify(problem, layout)).toEqual([]),
  });
  expect(verify(problem, result.layout)).toEqual([]);
  return result;
}

describe('pieces on motifs', () => {
  // One motif every 100 mm along and 60 mm across; the piece's own point lies on it.
  const straight: Lattice = { origin: [10, 5], u: [100, 0], v: [0, 60] };

  it('lie on the points of a straight repeat, as many abreast as it allows', () => {
    const { layout, verdict } = packed(roll([item('pocket', box(90, 50), 6, straight)], 180));
    expect(verdict).toBe('fits');
    // Across, motifs at 5, 65 and 125 have room for 50 mm each: three abreast, two columns.
    expect(layout.length).toBeCloseTo(10 + 100 + 90, 6);
    const places = layout.placements.map(({ x, y }) => `${Math.round(x)} ${Math.round(y)}`).sort();
    expect(places).toEqual(['10 125', '10 5', '10 65', '110 125', '110 5', '110 65']);
  });

  it('lie on a half drop: every other column across is half a repeat further', () => {
    const drop: Lattice = { origin: [0, 0], u: [100, 0], v: [50, 60] };
    const { layout } = packed(roll([item('pocket', box(100, 60), 4, drop)], 120));
    for (const { x, y } of layout.placements) {
      const row = Math.round(y / 60);
      expect(Math.abs(x / 100 - (row % 2) / 2 - Math.round(x / 100 - (row % 2) / 2))).toBeLessThan(1e-9);
    }
    expect(layout.length).toBeCloseTo(250, 6);
  });

  it('may miss the motif by the tolerance, and no more', () => {
    const loose = { ...straight, tolerance: 4 };
    const { layout } = packed(roll([item('pocket', box(90, 50), 2, loose)], 60));
    // The first may begin 4 mm earlier, the second as well.
    expect(layout.length).toBeCloseTo(6 + 100 + 90, 1);
    const beside = {
      ...layout,
      placements: layout.placements.map((p, i) => (i === 0 ? { ...p, y: 9.5 } : p)),
    };
    expect(
      verify(roll([item('pocket', box(90, 50), 2, loose)], 60), beside).map(({ kind }) => kind),
    ).toContain('lattice');
  });

  it('share the cloth with pieces that may lie anywhere', () => {
    const { layout, verdict } = packed(
      roll([item('pocket', box(60, 50), 3, straight), item('strap', box(35, 60), 3)], 60),
    );
    expect(verdict).toBe('fits');
    expect(layout.length).toBeLessThanOrEqual(10 + 200 + 60 + 35 + 1e-6);
  });

  it('have no place where no motif does', () => {
    const result = search(roll([item('pocket', box(90, 50), 1, { ...straight, origin: [0, 30] })], 55), {
      seed: 1,
      maxSteps: 10,
    });
    expect(result.layout.unplaced).toHaveLength(1);
  });
});

describe('pieces on stripes', () => {
  it('slide along them', () => {
    // Stripes along the cloth, 40 mm apart: only y is bound.
    const stripes: Lattice = { origin: [0, 8], u: [0, 40], v: null };
    const { layout } = packed(roll([item('panel', box(70, 30), 4, stripes)], 90), 2000);
    // The squeeze ends at cuts of a hundred-thousandth of the length.
    expect(layout.length).toBeCloseTo(140, 2);
    for (const { y } of layout.placements) expect([8, 48]).toContain(Math.round(y * 1e6) / 1e6);
  });

  it('slide across the cloth where the stripes run across', () => {
    const stripes: Lattice = { origin: [5, 0], u: [50, 0], v: null };
    const { layout } = packed(roll([item('panel', box(45, 30), 4, stripes)], 60));
    expect(layout.length).toBeCloseTo(5 + 50 + 45, 4);
  });
});

it('any pieces on any lattice are laid legally or not at all', () => {
  const coordinate = fc.integer({ min: -120, max: 120 });
  const lattice = fc
    .record({
      origin: fc.tuple(coordinate, coordinate),
      u: fc.tuple(coordinate, coordinate),
      v: fc.option(fc.tuple(coordinate, coordinate)),
      tolerance: fc.constantFrom(0, 2),
    })
    .filter(({ u, v }) => (v ? Math.abs(u[0] * v[1] - u[1] * v[0]) > 800 : Math.hypot(...u) > 15));
  fc.assert(
    fc.property(
      fc.array(fc.record({ outline: simpleOutline(60), quantity: fc.integer({ min: 1, max: 3 }), lattice }), {
        minLength: 1,
        maxLength: 3,
      }),
      fc.constantFrom(0, 2),
      (parts, gap) => {
        const items = parts.map((part, i) => item(`p${i}`, part.outline, part.quantity, part.lattice));
        packed(roll(items, 200, { gap }), 15);
      },
    ),
    { numRuns: 60 },
  );
});

describe('snapping', () => {
  it('finds a point of the lattice in the box, near the position', () => {
    const number = fc.double({ min: -500, max: 500, noNaN: true });
    fc.assert(
      fc.property(
        number,
        number,
        fc.integer({ min: 5, max: 80 }),
        fc.integer({ min: -60, max: 60 }),
        (x, y, step, skew) => {
          const steps = new LatticeSteps({ origin: [3, 4], u: [step, 0], v: [skew, step] });
          expect(steps.snap(x, y, -1e4, -1e4, 1e4, 1e4)).toBe(true);
          const b = (steps.y - 4) / step;
          const a = (steps.x - 3 - b * skew) / step;
          expect(Math.abs(b - Math.round(b)) + Math.abs(a - Math.round(a))).toBeLessThan(1e-6);
          // No point of a lattice is farther away than the half diagonal of its shortest cell.
          expect(Math.hypot(steps.x - x, steps.y - y)).toBeLessThanOrEqual(step * Math.SQRT1_2 + 1e-6);
        },
      ),
    );
  });

  it('refuses vectors that span nothing', () => {
    expect(() => new LatticeSteps({ origin: [0, 0], u: [0, 0], v: null })).toThrow(/steps of some length/);
    expect(() => new LatticeSteps({ origin: [0, 0], u: [10, 0], v: [20, 0] })).toThrow(
      /steps of some length/,
    );
  });
});
