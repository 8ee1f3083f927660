import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { nextTurns, type Turn } from '../../nesting/workers/turns.ts';

const task = (id: number, usedMs: number, state: Turn['state'] = 'paused', thread = 0): Turn => ({
  state,
  thread,
  solve: { id, usedMs },
});

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

  test('no more are open than allowed, and the last open place is kept for a first thread', () => {
    const open = [task(1, 900), task(2, 900), task(3, 900)];
    const waiting = [task(4, 0, 'waiting', 1), task(5, 500, 'waiting', 0)];
    expect(nextTurns([...open, ...waiting], 1, 4)).toEqual([waiting[1]]);
    expect(nextTurns([...open, ...waiting], 1, 3)).toEqual([open[0]]);
    expect(nextTurns([...open, ...waiting], 1, 5)).toEqual([waiting[0]]);
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
