import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Arrangement, toLayout, usedLength } from '../../nesting/packing/arrangement.ts';
import { Compaction } from '../../nesting/packing/compaction.ts';
import { Model } from '../../nesting/packing/model.ts';
import { OverlapState } from '../../nesting/packing/overlapState.ts';
import type { Problem } from '../../nesting/packing/types.ts';
import { verify } from '../../nesting/verify/index.ts';
import { starRing } from '../geometry/arbitraryRings.ts';
import { item, problem, rectangle, strip } from '../support/layouts.ts';

/** The state of a problem with its copies at given places, each in its first pose. */
function stateAt(of: Problem, places: readonly (readonly [number, number])[]): OverlapState {
  const model = new Model(of);
  const arrangement = new Arrangement(model.copies.length);
  places.forEach(([x, y], i) => {
    arrangement.room[i] = 0;
    arrangement.pose[i] = model.itemPoses[model.copies[i]?.item ?? 0]?.[0] ?? 0;
    arrangement.x[i] = x;
    arrangement.y[i] = y;
  });
  const state = new OverlapState(model, arrangement, model.size * 1e-9);
  state.refresh();
  return state;
}

const never = () => false;
const lengthOf = ({ model, arrangement }: OverlapState) => usedLength(model, arrangement);

describe('compaction', () => {
  it('closes the gaps of a row', () => {
    const row = problem(strip(100), [item('a', rectangle(20, 80), { quantity: 4 })]);
    const state = stateAt(row, [
      [1, 10],
      [24, 3],
      [47, 20],
      [70, 0],
    ]);
    expect(new Compaction(state).run(lengthOf(state), never)).toBe(true);
    expect(lengthOf(state)).toBeCloseTo(80, 6);
    expect(verify(row, toLayout(state.model, state.arrangement))).toEqual([]);
  });

  it('moves a chain at once that no single copy could shorten', () => {
    // The diagonal step from the first to the last is as wide as the strip: all must move together.
    const stairs = problem(strip(60), [
      item('a', rectangle(50, 30)),
      item('b', rectangle(30, 30)),
      item('c', rectangle(50, 30)),
    ]);
    const state = stateAt(stairs, [
      [0, 0],
      [0.5, 30],
      [50.5, 0],
    ]);
    expect(new Compaction(state).run(lengthOf(state), never)).toBe(true);
    expect(lengthOf(state)).toBeCloseTo(100, 6);
  });

  it('lets an overlap out no further than it must', () => {
    const pair = problem(strip(100), [item('a', rectangle(20, 80), { quantity: 2 })]);
    const state = stateAt(pair, [
      [0, 0],
      [17, 5],
    ]);
    expect(new Compaction(state).run(45, never)).toBe(true);
    expect(lengthOf(state)).toBeCloseTo(40, 6);
    expect(state.totalOverlap()).toBe(0);
  });

  it('says so when an overlap needs more than is asked for', () => {
    const pair = problem(strip(100), [item('a', rectangle(20, 80), { quantity: 2 })]);
    const state = stateAt(pair, [
      [0, 0],
      [17, 5],
    ]);
    expect(new Compaction(state).run(39.9, never)).toBe(false);
  });

  it('keeps half pieces at the fold, and all out of blocked places', () => {
    const folded: Problem = {
      name: 'folded',
      gap: 0,
      containers: [{ kind: 'strip', id: 's', width: 100, blocked: [rectangle(10, 100)] }],
      items: [item('half', rectangle(30, 40), { onFold: true }), item('whole', rectangle(30, 40))],
    };
    const state = stateAt(folded, [
      [14, 0],
      [13, 50],
    ]);
    expect(new Compaction(state).run(lengthOf(state), never)).toBe(true);
    expect(lengthOf(state)).toBeCloseTo(40, 6);
    expect(state.arrangement.y[0]).toBe(0);
    expect(state.arrangement.x[1]).toBeCloseTo(10, 6);
  });

  it('is not for lattices, nor for sheets', () => {
    const lattice = { origin: [0, 0], u: [10, 0], v: [0, 10] } as const;
    const onRepeat = problem(strip(100), [
      item('a', rectangle(20, 20), { poses: [{ rotation: 0, mirrored: false, lattice }] }),
    ]);
    expect(new Compaction(stateAt(onRepeat, [[0, 0]])).isPossible).toBe(false);
    const plain = problem(strip(100), [item('a', rectangle(20, 20))]);
    expect(new Compaction(stateAt(plain, [[0, 0]])).isPossible).toBe(true);
  });

  it('property: what it returns is legal, and no longer than a legal start', () => {
    const place = fc.tuple(
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
    );
    let shortened = 0;
    fc.assert(
      fc.property(
        fc.array(starRing(), { minLength: 2, maxLength: 5 }),
        fc.array(place, { minLength: 5, maxLength: 5 }),
        (rings, places) => {
          const heap = problem(
            strip(400),
            rings.map((ring, i) => item(`p${i}`, ring)),
          );
          const model = new Model(heap);
          const box = model.poses.bodyBox;
          const state = stateAt(
            heap,
            rings.map((_, i) => {
              const p = model.itemPoses[i]?.[0] ?? 0;
              const room = 400 - ((box[4 * p + 3] as number) - (box[4 * p + 1] as number));
              const [x, y] = places[i] as [number, number];
              return [
                90 * i + 30 * x - (box[4 * p] as number),
                y * Math.max(0, room) - (box[4 * p + 1] as number),
              ];
            }),
          );
          const before = state.totalOverlap() > 0 ? Number.POSITIVE_INFINITY : lengthOf(state);
          if (!new Compaction(state).run(before, never)) return;
          shortened++;
          expect(lengthOf(state)).toBeLessThan(before);
          expect(verify(heap, toLayout(state.model, state.arrangement))).toEqual([]);
        },
      ),
      { numRuns: 150 },
    );
    expect(shortened).toBeGreaterThan(100);
  });
});
