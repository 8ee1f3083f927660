import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import type { Layout, Problem, SearchResult } from '../../nesting/packing/types.ts';
import { solveInThisThread } from '../../nesting/solveInThisThread.ts';
import { verify } from '../../nesting/verify/index.ts';
import { PoolError } from '../../nesting/workers/errors.ts';
import { Pool } from '../../nesting/workers/pool.ts';
import { item, problem, rectangle, strip } from '../support/layouts.ts';
import { type FakeBehaviour, fakeSearch } from './fixtures/fakeSearch.ts';

const FAKE = new URL('./fixtures/fakeThread.ts', import.meta.url);
const LONG = 600_000;

function task(behaviour: FakeBehaviour): Problem {
  return { ...problem(strip(50), [item('a', rectangle(10, 10), { quantity: 3 })]), name: behaviour };
}

const pools: Pool[] = [];
function pool(threads = 1): Pool {
  const made = new Pool({ threads, entry: FAKE });
  pools.push(made);
  return made;
}
afterEach(async () => {
  await Promise.all(pools.splice(0).map((made) => made.close()));
});

/** A running solve, its abort switch, and a promise for its first layout. */
function start(on: Pool, behaviour: FakeBehaviour, maxMs = LONG, seed = 1) {
  const abort = new AbortController();
  const layouts: Layout[] = [];
  let seen: (layout: Layout) => void = () => {};
  const first = new Promise<Layout>((resolve) => {
    seen = resolve;
  });
  const result = on.solve(task(behaviour), {
    seed,
    maxMs,
    signal: abort.signal,
    onBetter: (layout) => {
      layouts.push(layout);
      seen(layout);
    },
  });
  return { abort, layouts, first, result };
}

describe('a solve in threads', () => {
  test('reports better and better legal layouts and ends with the best', async () => {
    const { result, layouts } = start(pool(2), 'improves', 300);
    const { verdict, layout, engineFaults } = await result;
    expect(verdict).toBe('fits');
    expect(engineFaults).toBeUndefined();
    const lengths = [...layouts, layout].map(({ length }) => length);
    expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
    for (const one of [...layouts, layout]) expect(verify(task('improves'), one)).toEqual([]);
  });

  test('one thread and a number of steps give the same layout each time, and the same as without threads', async () => {
    const options = { seed: 17, maxMs: LONG, maxSteps: 50 };
    const [first, second, here] = await Promise.all([
      pool().solve(task('improves'), options),
      pool().solve(task('improves'), options),
      solveInThisThread(fakeSearch, () => performance.now())(task('improves'), options),
    ]);
    expect(second).toEqual(first);
    expect(here).toEqual(first);
    expect(first.steps).toBe(50);
  });

  test('several threads search with seeds of their own, and the same ones each time', async () => {
    const options = { seed: 99, maxMs: LONG, maxSteps: 50 };
    const three = pool(3);
    const first = await three.solve(task('improves'), options);
    const second = await three.solve(task('improves'), options);
    const alone = await pool().solve(task('improves'), options);
    expect(second).toEqual(first);
    expect(first.steps).toBe(150);
    expect(first.layout.length).toBeLessThan(alone.layout.length);
  });

  test('nothing to place is done at once', async () => {
    const result = await pool(2).solve({ ...task('quick'), items: [] }, { seed: 1, maxMs: LONG });
    expect(result).toMatchObject({ verdict: 'fits', layout: { placements: [], length: 0 } });
  });

  test('a search that is through before its time ends the others too', async () => {
    const { result } = start(pool(3), 'quick');
    expect((await result).verdict).toBe('fits');
  });

  test('a threads count that is no count is refused', () => {
    expect(() => new Pool({ threads: 0 })).toThrow(RangeError);
    expect(() => new Pool({ threads: 1.5 })).toThrow('1.5');
  });
});

describe('guard', () => {
  test('illegal layouts are dropped and named; the last legal one stands', async () => {
    for (const behaviour of ['an illegal result', 'illegal layouts after a legal one'] as const) {
      const { result, layouts } = start(pool(), behaviour, 100);
      const { verdict, layout, engineFaults } = await result;
      expect(verdict).toBe('fits');
      expect(verify(task(behaviour), layout)).toEqual([]);
      expect(layouts).toEqual([layout]);
      expect(engineFaults?.[0]).toMatch(/overlap/);
    }
  });

  test('with no legal layout at all the solve is an engine fault', async () => {
    const { result, layouts } = start(pool(2), 'only illegal layouts');
    await expect(result).rejects.toMatchObject({
      code: 'engine-fault',
      message: expect.stringMatching(/overlap/),
    });
    expect(layouts).toEqual([]);
  });

  test('a proof against a layout that exists is told as a fault', async () => {
    const name = 'quick, proves the contrary on other seeds';
    const result = await pool(2).solve(task(name), { seed: 1, maxMs: LONG, maxSteps: 1 });
    expect(result.verdict).toBe('fits');
    expect(result.engineFaults).toEqual([expect.stringContaining('cannot fit')]);
  });
});

describe('stopping', () => {
  test('aborted before it starts, nothing is searched', async () => {
    const abort = new AbortController();
    abort.abort();
    const result = await pool().solve(task('improves'), { seed: 1, maxMs: LONG, signal: abort.signal });
    expect(result).toMatchObject({ verdict: 'not found', steps: 0, layout: { placements: [] } });
    expect(result.layout.unplaced).toHaveLength(3);
  });

  test('aborted in the same moment as asked for', async () => {
    const { abort, result } = start(pool(), 'keeps looking');
    abort.abort();
    expect((await result).layout.unplaced.length + (await result).layout.placements.length).toBe(3);
  });

  test('aborted in mid-search, it ends with the best so far', async () => {
    const { abort, first, result } = start(pool(2), 'keeps looking');
    const layout = await first;
    abort.abort();
    expect(compareLength(await result, layout)).toBeLessThanOrEqual(0);
    expect((await result).verdict).toBe('fits');
  });

  test('aborted while it waits behind others', async () => {
    const one = pool();
    const ahead = start(one, 'deaf');
    await ahead.first;
    const waiting = Array.from({ length: 20 }, () => start(one, 'keeps looking'));
    for (const { abort } of waiting) abort.abort();
    for (const { result } of waiting) expect((await result).layout.placements.length).toBeLessThanOrEqual(3);
    ahead.abort.abort();
    expect((await ahead.result).verdict).toBe('fits');
  });

  test('aborted after the end, nothing happens', async () => {
    const { abort, result } = start(pool(), 'quick');
    const before = await result;
    abort.abort();
    expect(await result).toBe(before);
  });

  test('a search that does not listen is ended, what it reported stands, and the pool works on', async () => {
    const one = pool();
    const { abort, first, result } = start(one, 'deaf');
    const layout = await first;
    abort.abort();
    expect((await result).layout).toEqual(layout);
    expect((await start(one, 'quick').result).verdict).toBe('fits');
  });
});

describe('turns', () => {
  test('more solves than threads: each reports before any has ended, and each gets further turns', async () => {
    const one = pool();
    const order: number[] = [];
    const abort = new AbortController();
    const results = [0, 1, 2].map((i) =>
      one.solve(task('improves'), {
        seed: 1,
        maxMs: LONG,
        signal: abort.signal,
        onBetter: () => {
          if (order.at(-1) !== i) order.push(i);
          if ([0, 1, 2].every((k) => order.filter((j) => j === k).length >= 2)) abort.abort();
        },
      }),
    );
    for (const { verdict } of await Promise.all(results)) expect(verdict).toBe('fits');
    for (const i of [0, 1, 2]) expect(order.filter((j) => j === i).length).toBeGreaterThanOrEqual(2);
  });

  test('a newcomer has its first layout while a long solve is under way', async () => {
    const one = pool();
    const long = start(one, 'keeps looking');
    await long.first;
    const newcomer = start(one, 'keeps looking');
    await newcomer.first;
    newcomer.abort.abort();
    long.abort.abort();
    expect((await newcomer.result).verdict).toBe('fits');
    expect((await long.result).verdict).toBe('fits');
  });

  test('many solves on two threads all use up their time and end', async () => {
    const two = pool(2);
    const results = Array.from({ length: 12 }, (_, i) => two.solve(task('improves'), { seed: i, maxMs: 60 }));
    for (const result of await Promise.all(results)) expect(result.verdict).toBe('fits');
  });
});

describe('accidents', () => {
  test('a search whose thread dies is begun again', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'clothlay-pool-'));
    const mark = join(folder, 'was-here');
    const once = { ...task('dies once'), items: [item(mark, rectangle(10, 10), { quantity: 3 })] };
    const result = await pool().solve(once, { seed: 1, maxMs: LONG });
    rmSync(folder, { recursive: true });
    expect(result.verdict).toBe('fits');
  });

  test('a search that takes too much memory rejects its solve alone', async () => {
    const small = new Pool({ threads: 2, entry: FAKE, memoryMb: 64 });
    pools.push(small);
    const [greedy, modest] = [start(small, 'eats memory'), start(small, 'improves', 300)];
    await expect(greedy.result).rejects.toMatchObject({ code: 'crashed' });
    expect((await modest.result).verdict).toBe('fits');
  });

  test('a thread that dies twice rejects its solve, and the pool works on', async () => {
    const two = pool(2);
    await expect(start(two, 'dies').result).rejects.toMatchObject({ code: 'crashed' });
    expect((await start(two, 'improves', 50).result).verdict).toBe('fits');
  });

  test('a death does not touch another solve', async () => {
    const two = pool(2);
    const [dead, alive] = [start(two, 'dies'), start(two, 'improves', 300)];
    await expect(dead.result).rejects.toBeInstanceOf(PoolError);
    expect((await alive.result).verdict).toBe('fits');
  });

  test('an error of the search arrives in its words', async () => {
    await expect(start(pool(), 'throws').result).rejects.toMatchObject({
      code: 'failed',
      message: expect.stringContaining('this problem is not for me'),
    });
  });

  test('a problem that cannot travel is refused, and the pool works on', async () => {
    const one = pool();
    const spoilt = { ...task('quick'), extra: () => 1 };
    await expect(one.solve(spoilt, { seed: 1, maxMs: 10 })).rejects.toMatchObject({ code: 'failed' });
    expect((await start(one, 'quick').result).verdict).toBe('fits');
  });

  test('a listener that throws rejects the solve instead of the process', async () => {
    const one = pool();
    const onBetter = () => {
      throw new Error('no paper left');
    };
    await expect(one.solve(task('keeps looking'), { seed: 1, maxMs: LONG, onBetter })).rejects.toThrow(
      'no paper left',
    );
    expect((await start(one, 'quick').result).verdict).toBe('fits');
  });

  test('an entry that is not there rejects', async () => {
    const lost = new Pool({ threads: 1, entry: new URL('./fixtures/nowhere.ts', import.meta.url) });
    await expect(start(lost, 'quick').result).rejects.toMatchObject({ code: 'crashed' });
    await lost.close();
  });
});

describe('closing', () => {
  test('ends what runs with what it has, and takes no more', async () => {
    const two = pool(2);
    const running = start(two, 'keeps looking');
    await running.first;
    const waiting = Array.from({ length: 10 }, () => start(two, 'keeps looking'));
    await two.close();
    expect((await running.result).verdict).toBe('fits');
    for (const { result } of waiting) expect(['fits', 'not found']).toContain((await result).verdict);
    await expect(start(two, 'quick').result).rejects.toMatchObject({ code: 'closed' });
    await two.close();
  });

  test('an unused pool closes', async () => {
    await expect(pool().close()).resolves.toBeUndefined();
  });
});

function compareLength({ layout }: SearchResult, other: Layout): number {
  return layout.length - other.length;
}
