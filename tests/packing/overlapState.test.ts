import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Arrangement } from '../../nesting/packing/arrangement.ts';
import { Model } from '../../nesting/packing/model.ts';
import { OverlapState } from '../../nesting/packing/overlapState.ts';
import { item, problem, rectangle, strip } from '../support/layouts.ts';

const COPIES = 6;
const model = new Model(
  problem(strip(100), [
    item('a', rectangle(20, 30), { quantity: 3 }),
    item('b', rectangle(12, 8), { quantity: 3 }),
  ]),
);
const place = fc.tuple(
  fc.double({ min: 0, max: 60, noNaN: true }),
  fc.double({ min: 0, max: 60, noNaN: true }),
);

function stateAt(places: readonly (readonly [number, number])[]): OverlapState {
  const arrangement = new Arrangement(COPIES);
  places.forEach(([x, y], i) => {
    arrangement.room[i] = 0;
    arrangement.pose[i] = model.favouritePose(model.copies[i]?.item ?? 0);
    arrangement.x[i] = x;
    arrangement.y[i] = y;
  });
  const state = new OverlapState(model, arrangement, 1e-9);
  state.refresh();
  return state;
}

/** Depth of the overlap of two rectangles by hand: the shortest way to slide them apart. */
function depthOf(a: readonly [number, number], b: readonly [number, number], i: number, j: number): number {
  const size = (copy: number) => ((model.copies[copy]?.item ?? 0) === 0 ? [20, 30] : [12, 8]);
  const [w, h] = size(i) as [number, number];
  const [v, g] = size(j) as [number, number];
  const ways = [a[0] + w - b[0], b[0] + v - a[0], a[1] + h - b[1], b[1] + g - a[1]];
  return Math.max(0, Math.min(...ways));
}

describe('the state of a separation', () => {
  const places = fc.array(place, { minLength: COPIES, maxLength: COPIES });

  it('property: depths, totals and who overlaps are the same after moves as worked out anew', () => {
    fc.assert(
      fc.property(places, fc.array(fc.tuple(fc.nat(COPIES - 1), place), { maxLength: 8 }), (start, moves) => {
        const state = stateAt(start);
        const now = [...start];
        for (const [copy, to] of moves) {
          now[copy] = to;
          state.arrangement.x[copy] = to[0];
          state.arrangement.y[copy] = to[1];
          state.refreshCopy(copy);
        }
        const afresh = stateAt(now);
        let sum = 0;
        const list = new Set<number>();
        for (let i = 0; i < COPIES; i++)
          for (let j = 0; j < i; j++) {
            const depth = depthOf(now[i]!, now[j]!, i, j);
            const at = i * COPIES + j;
            expect(state.depth[at]).toBeCloseTo(depth, 8);
            expect(state.depth[j * COPIES + i]).toBe(state.depth[at]);
            sum += (state.scale[at] as number) * (state.depth[at] as number);
            if ((state.depth[at] as number) > 0) list.add(i).add(j);
          }
        expect(state.totalOverlap()).toBeCloseTo(sum, 8);
        expect(state.totalOverlap()).toBeCloseTo(afresh.totalOverlap(), 8);
        const found: number[] = [];
        state.overlapping(found);
        expect(found).toEqual([...list].sort((a, b) => a - b));
      }),
    );
  });

  it('weights of what overlaps grow by depth; others go back to where they began, and no lower', () => {
    const state = stateAt([
      [0, 0],
      [10, 0],
      [60, 60],
      [25, 0],
      [80, 0],
      [80, 40],
    ]);
    const deep = 1 * COPIES + 0;
    const shallow = 3 * COPIES + 1;
    const [was, wasShallow] = [state.factor[deep] as number, state.factor[shallow] as number];
    state.adjustWeights(1.2, 2, 0.95);
    // The deepest grows by the most, the other by its share.
    const share = (state.depth[shallow] as number) / (state.depth[deep] as number);
    expect(state.factor[deep]).toBeCloseTo(2 * was, 10);
    expect(state.factor[1]).toBe(state.factor[deep]);
    expect(state.factor[shallow]).toBeCloseTo((1.2 + 0.8 * share) * wasShallow, 10);
    // The first moves off; while something else overlaps, its weights decay to what they were.
    state.arrangement.x[0] = 200;
    state.refreshCopy(0);
    for (let round = 0; round < 40; round++) state.adjustWeights(1.2, 2, 0.95);
    expect(state.factor[deep]).toBe(state.scale[deep]);
    expect(state.factor[shallow]).toBeGreaterThan(wasShallow);
    state.resetWeights();
    expect(state.factor[shallow]).toBe(state.scale[shallow]);
  });
});
