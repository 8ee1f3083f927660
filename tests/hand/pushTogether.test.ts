/** Closing gaps by hand's command: nothing is turned, nothing passes another, and the cloth never gets longer. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pushTogether } from '../../nesting/hand/pushTogether.ts';
import { type Container, type Layout, type Outline, type Problem, search } from '../../nesting/index.ts';
import { verify } from '../../nesting/verify/index.ts';
import { stripProblem } from '../support/generators.ts';

const box = (width: number, height: number): Outline => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
];

describe('pushing pieces together', () => {
  const strip: Container = { kind: 'strip', id: 's', width: 100 };
  const problem: Problem = {
    name: 'three boxes',
    containers: [strip],
    items: [{ id: 'b', outline: box(30, 40), quantity: 3, poses: [{ rotation: 0, mirrored: false }] }],
    gap: 0,
  };
  const at = (copy: number, x: number, y: number) => ({
    item: 'b',
    copy,
    container: 's',
    containerCopy: 0,
    rotation: 0,
    mirrored: false,
    x,
    y,
  });

  it('slides them to the cut end and down, in their order', () => {
    const found = pushTogether(problem, strip, [at(0, 10, 5), at(1, 60, 50), at(2, 100, 20)], () => false);
    expect(
      found.map(({ copy, x, y }) => [copy, Math.round(x * 1e4) / 1e4, Math.round(y * 1e4) / 1e4]),
    ).toEqual([
      [0, 0, 0],
      [1, 0, 40],
      [2, 30, 0],
    ]);
  });

  it('leaves fixed ones where they are', () => {
    const fixed = at(0, 10, 0);
    const found = pushTogether(problem, strip, [fixed, at(1, 60, 0)], ({ copy }) => copy === 0);
    expect(found[0]).toEqual(fixed);
    expect(found[1]?.x).toBeCloseTo(40, 6);
  });

  it('keeps any layout legal and no longer than it was', () => {
    fc.assert(
      fc.property(stripProblem(4), fc.integer({ min: 1, max: 99 }), (random, seed) => {
        const { layout, verdict } = search(random, { seed, maxSteps: 1 });
        if (verdict !== 'fits') return;
        const container = random.containers[0] as Container;
        // Pulled apart along the cloth: legal still, and there is something to close.
        const apart = layout.placements.map((p) => ({ ...p, x: p.x * 1.5 }));
        if (!isLegal(random, apart)) return;
        const found = pushTogether(random, container, apart, () => false);
        expect(isLegal(random, found)).toBe(true);
        expect(lengthOf(random, found)).toBeLessThanOrEqual(lengthOf(random, apart) + 1e-9);
        expect(found.map(({ rotation }) => rotation)).toEqual(apart.map(({ rotation }) => rotation));
      }),
      { numRuns: 40 },
    );
  });
});

function isLegal(problem: Problem, placements: Layout['placements']): boolean {
  const faults = verify(problem, { placements, unplaced: [], length: 0 });
  return faults.every(({ kind }) => kind === 'length');
}

function lengthOf(problem: Problem, placements: Layout['placements']): number {
  const found = verify(problem, { placements, unplaced: [], length: -1 }).find(
    ({ kind }) => kind === 'length',
  );
  return found?.amountMm ?? 0;
}
