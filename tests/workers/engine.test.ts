import { existsSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { search } from '../../nesting/packing/search.ts';
import type { Layout, Problem } from '../../nesting/packing/types.ts';
import { solveInThisThread } from '../../nesting/solveInThisThread.ts';
import { verify } from '../../nesting/verify/index.ts';
import { Pool } from '../../nesting/workers/pool.ts';
import { item, problem, rectangle, sheet, strip } from '../support/layouts.ts';

/** The real engine in real threads. */
const pieces = [
  item('panel', rectangle(180, 120), { quantity: 4, poses: bothWays() }),
  item('strap', rectangle(400, 30), { quantity: 3, poses: bothWays() }),
  item(
    'gusset',
    [
      [0, 0],
      [90, 0],
      [60, 80],
      [30, 80],
    ],
    { quantity: 6, poses: bothWays() },
  ),
];
const onRoll = problem(strip(500), pieces, 2);
const onRemnant = problem(sheet(rectangle(700, 500)), pieces);
const tooLong = problem(sheet(rectangle(350, 350)), pieces);

function bothWays() {
  return [0, 180].map((rotation) => ({ rotation, mirrored: false }));
}

/** The pool as the server uses it, out of the built files. */
const BUILT = new URL('../../dist/nesting/workers/pool.js', import.meta.url);

describe('the engine in the pool', () => {
  const pool = new Pool({ threads: 2 });
  afterAll(() => pool.close());

  test('lays pieces on a roll, each report legal and shorter than the one before', async () => {
    const reported: Layout[] = [];
    const result = await pool.solve(onRoll, {
      seed: 1,
      maxMs: 600,
      onBetter: (layout) => reported.push(layout),
    });
    expect(result.verdict).toBe('fits');
    expect(result.engineFaults).toBeUndefined();
    for (const layout of [...reported, result.layout]) expect(verify(onRoll, layout)).toEqual([]);
    const lengths = reported.map(({ length }) => length);
    expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
    expect(lengths.length).toBeGreaterThan(0);
  });

  test('ends at once when the pieces fit a remnant, and when they provably cannot', async () => {
    const fitting = await pool.solve(onRemnant, { seed: 1, maxMs: 600_000 });
    expect(fitting).toMatchObject({ verdict: 'fits', layout: { unplaced: [] } });
    const impossible = await pool.solve(tooLong, { seed: 1, maxMs: 600_000 });
    expect(impossible.verdict).toBe('cannot fit');
    expect(impossible.impossible?.reason).not.toBe('');
  });

  test('stops when told, with what it has', async () => {
    const abort = new AbortController();
    const result = await pool.solve(onRoll, {
      seed: 1,
      maxMs: 600_000,
      signal: abort.signal,
      onBetter: () => abort.abort(),
    });
    expect(verify(onRoll, result.layout)).toEqual([]);
    expect(result.layout.placements.length).toBeGreaterThan(0);
  });

  test('one thread and a number of steps: the same layout each time, as in the calling thread', async () => {
    const options = { seed: 5, maxMs: 600_000, maxSteps: 20 };
    const single = new Pool({ threads: 1 });
    const first = await single.solve(onRoll, options);
    const second = await single.solve(onRoll, options);
    await single.close();
    const here = await solveInThisThread(search, () => performance.now())(onRoll, options);
    expect(second).toEqual(first);
    expect(here).toEqual(first);
  });

  test('a problem the engine refuses is refused in its words', async () => {
    const two: Problem = { ...onRoll, containers: [strip(500), sheet(rectangle(400, 400), { id: 'other' })] };
    await expect(pool.solve(two, { seed: 1, maxMs: 100 })).rejects.toMatchObject({ code: 'failed' });
  });

  test.skipIf(!existsSync(BUILT))(
    'works out of the built files too (skipped where nothing is built)',
    async () => {
      const built: { Pool: typeof Pool } = await import(BUILT.href);
      const fromBuilt = new built.Pool({ threads: 2 });
      const result = await fromBuilt.solve(onRoll, { seed: 1, maxMs: 300 });
      await fromBuilt.close();
      expect(verify(onRoll, result.layout)).toEqual([]);
      expect(result.layout.placements).toHaveLength(13);
    },
  );
});
