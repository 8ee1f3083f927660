import { describe, expect, test } from 'vitest';
import { EngineFaultError, guardedSearch, type Search } from '../../nesting/guardedSearch.ts';
import type { Layout } from '../../nesting/packing/types.ts';
import { solveInThisThread } from '../../nesting/solveInThisThread.ts';
import { at, item, layout, problem, rectangle, strip } from '../support/layouts.ts';

const p = problem(strip(50), [item('a', rectangle(10, 10))]);
const legal = (x: number) => layout([at('a', x, 0)], x + 10);
const illegal = layout([at('a', -5, 0)], 5);

/** A search that reports the given layouts at the given times, then answers with `last`. */
function scripted(reports: readonly (readonly [atMs: number, layout: Layout])[], last: Layout) {
  let now = 0;
  const search: Search = (_problem, { onBetter, shouldStop }) => {
    for (const [step, [atMs, one]] of reports.entries()) {
      now = atMs;
      shouldStop?.();
      onBetter?.(one, step);
    }
    return {
      verdict: last.unplaced.length === 0 ? 'fits' : 'not found',
      layout: last,
      steps: reports.length,
    };
  };
  const seen: [atMs: number, length: number][] = [];
  const run = () =>
    guardedSearch(search, p, {
      seed: 1,
      clock: () => now,
      onBetter: (one) => seen.push([now, one.length]),
    });
  return { run, seen };
}

describe('what a guarded search lets out', () => {
  test('the first layout at once, later ones in intervals, the newest of each', () => {
    const { run, seen } = scripted(
      [
        [0, legal(90)],
        [1, legal(80)],
        [2, legal(70)],
        [100, legal(60)],
        [101, legal(50)],
      ],
      legal(40),
    );
    expect(run()).toEqual({ verdict: 'fits', layout: legal(40), steps: 5 });
    expect(seen).toEqual([
      [0, 100],
      [100, 80],
    ]);
  });

  test('an illegal report is passed over for the newest legal one before it', () => {
    const { run, seen } = scripted(
      [
        [0, legal(90)],
        [1, legal(80)],
        [2, illegal],
        [100, illegal],
      ],
      legal(70),
    );
    expect(run().engineFaults).toEqual([expect.stringContaining('out of strip')]);
    expect(seen.map(([, length]) => length)).toEqual([100, 90]);
  });

  test('an illegal answer is replaced by the best legal report, checked or not', () => {
    const { run } = scripted(
      [
        [0, legal(90)],
        [1, legal(80)],
      ],
      illegal,
    );
    expect(run()).toMatchObject({ verdict: 'fits', layout: legal(80), engineFaults: [expect.any(String)] });
  });

  test('nothing legal at all is an engine fault', () => {
    const { run, seen } = scripted([[0, illegal]], illegal);
    expect(run).toThrow(EngineFaultError);
    expect(seen).toEqual([]);
  });

  test('a proof has no layout to check', () => {
    const nothing = layout([], 0, [{ item: 'a', copy: 0 }]);
    const impossible = { kind: 'area', items: ['a'], shortBy: 1, reason: 'too much' } as const;
    const search: Search = () => ({ verdict: 'cannot fit', layout: nothing, impossible, steps: 0 });
    expect(guardedSearch(search, p, { seed: 1, clock: () => 0 })).toMatchObject({
      verdict: 'cannot fit',
      impossible,
    });
  });
});

describe('a solve in the calling thread', () => {
  const search: Search = (_problem, { onBetter, shouldStop }) => {
    let x = 90;
    for (; x > 0 && !shouldStop?.(); x--) onBetter?.(legal(x), 90 - x);
    return { verdict: 'fits', layout: legal(x), steps: 90 - x };
  };
  let now = 0;
  const solve = solveInThisThread(search, () => (now += 50));

  test('reports and answers', async () => {
    const lengths: number[] = [];
    const result = await solve(p, { seed: 1, maxMs: 1e9, onBetter: ({ length }) => lengths.push(length) });
    expect(result.layout.length).toBe(10);
    expect(lengths.length).toBeGreaterThan(5);
  });

  test('sees a signal that was aborted before, or by its own report', async () => {
    const abort = new AbortController();
    const options = { seed: 1, maxMs: 1e9, signal: abort.signal, onBetter: () => abort.abort() };
    expect((await solve(p, options)).layout.length).toBeGreaterThan(90);
    expect(await solve(p, options)).toMatchObject({ verdict: 'not found', steps: 0 });
  });

  test('an error becomes a rejection', async () => {
    const failing = solveInThisThread(
      () => {
        throw new RangeError('not this one');
      },
      () => 0,
    );
    await expect(failing(p, { seed: 1, maxMs: 1 })).rejects.toThrow('not this one');
  });
});
