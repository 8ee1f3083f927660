import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { nextTurns, type Turn } from '../../nesting/workers/turns.ts';

const task = (
  id: number,
  usedMs: number,
  state: Turn['state'] = 'paused',
  thread = 0,
  best: unknown = {},
): Turn => ({
  state,
  thread,
  solve: { id, usedMs, best },
});
const withoutLayout = (id: number, usedMs: number, state: Turn['state'] = 'paused') =>
  task(id, usedMs, state, 0, null);

describe('whose turn it is', () => {
  test('the solves that used least, as many as there are slots', () => {
    const tasks = [task(1, 300), task(2, 100), task(3, 200)];
    expect(nextTurns(tasks, 2, 16).map(({ solve }) => solve.id)).toEqual([2, 3]);
  });

  test('at equal use a first thread that has not begun goes before everything else', () => {
    const tasks = [
      task(1, 100, 'running', 0),
      task(1, 100, 'running', 1),
      task(2, 100, 'waiting', 0),
      task(2, 100, 'waiting', 1),
      task(3, 100, 'waiting', 0),
    ];
    expect(nextTurns(tasks, 2, 16).map(({ solve, thread }) => [solve.id, thread])).toEqual([
      [2, 0],
      [3, 0],
    ]);
  });

  test('a further thread begins only where a slot is left over, however little its solve has used', () => {
    const waiting = task(1, 0, 'waiting', 1);
    const others = [task(2, 900), task(3, 500)];
    expect(nextTurns([waiting, ...others], 2, 16)).toEqual([others[1], others[0]]);
    expect(nextTurns([waiting, ...others], 3, 16)).toEqual([others[1], others[0], waiting]);
  });

  test('a solve with nothing to show goes before others, but not for ever', () => {
    expect(nextTurns([task(1, 100), withoutLayout(2, 900)], 1, 16)[0]?.solve.id).toBe(2);
    expect(nextTurns([task(1, 100), withoutLayout(2, 1_200)], 1, 16)[0]?.solve.id).toBe(1);
  });

  test('no more are open than allowed', () => {
    const open = [task(1, 900), task(2, 900), task(3, 900)];
    const waiting = task(4, 0, 'waiting', 0);
    expect(nextTurns([...open, waiting], 1, 3)).toEqual([open[0]]);
    expect(nextTurns([...open, waiting], 1, 4)).toEqual([waiting]);
  });

  test('never more than the slots, never a slot idle while an open task could run, everybody in the end', () => {
    const states = fc.constantFrom<Turn['state']>('waiting', 'paused', 'running');
    const some = fc.array(
      fc
        .tuple(fc.nat(5), fc.nat(1_000), states, fc.nat(3))
        .map(([id, used, state, thread]) => task(id, used, state, thread)),
      { maxLength: 30 },
    );
    fc.assert(
      fc.property(some, fc.integer({ min: 1, max: 8 }), (tasks, slots) => {
        const chosen = nextTurns(tasks, slots, 16);
        const open = tasks.filter(({ state }) => state !== 'waiting').length;
        expect(new Set(chosen).size).toBe(chosen.length);
        expect(chosen.length).toBeLessThanOrEqual(slots);
        expect(chosen.length).toBeGreaterThanOrEqual(Math.min(slots, open));
        if (open === 0 && tasks.length > 0) expect(chosen.length).toBeGreaterThan(0);
      }),
    );
  });
});
