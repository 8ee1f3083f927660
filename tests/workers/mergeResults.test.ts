import { describe, expect, test } from 'vitest';
import type { SearchResult } from '../../nesting/packing/types.ts';
import { compareLayouts } from '../../nesting/workers/compareLayouts.ts';
import { mergeResults } from '../../nesting/workers/mergeResults.ts';
import { seedOfThread } from '../../nesting/workers/seeds.ts';
import { at, item, layout, problem, rectangle, sheet, strip } from '../support/layouts.ts';

const p = problem(strip(50), [item('small', rectangle(5, 5)), item('large', rectangle(20, 20))]);
const both = (length: number) => layout([at('small', length - 5, 0), at('large', 0, 0)], length);
const without = (id: string) => layout([], 0, [{ item: id, copy: 0 }]);

describe('which layout is better', () => {
  test('less area without a place counts more than length', () => {
    expect(compareLayouts(p, both(99), without('small'))).toBeLessThan(0);
    expect(compareLayouts(p, without('small'), without('large'))).toBeLessThan(0);
    expect(compareLayouts(p, both(25), both(26))).toBeLessThan(0);
    expect(compareLayouts(p, both(25), both(25))).toBe(0);
  });

  test('on sheets fewer count, then earlier ones', () => {
    const sheets = problem(
      ['first', 'second', 'third'].map((id) => sheet(rectangle(50, 50), { id, quantity: 2 })),
      p.items,
    );
    const on = (small: string, large: string, containerCopy = 0) =>
      layout(
        [at('small', 0, 0, { container: small }), at('large', 10, 10, { container: large, containerCopy })],
        0,
      );
    expect(compareLayouts(sheets, on('third', 'third'), on('first', 'second'))).toBeLessThan(0);
    expect(compareLayouts(sheets, on('first', 'first'), on('first', 'first', 1))).toBeLessThan(0);
    expect(compareLayouts(sheets, on('first', 'second'), on('third', 'second'))).toBeLessThan(0);
    expect(compareLayouts(sheets, on('first', 'third'), on('third', 'first'))).toBe(0);
  });
});

describe('one result out of several', () => {
  const fits = (length: number, steps = 1): SearchResult => ({
    verdict: 'fits',
    layout: both(length),
    steps,
  });
  const impossible = { kind: 'area', items: [], shortBy: 1, reason: 'too much cloth' } as const;
  const cannot: SearchResult = { verdict: 'cannot fit', layout: layout([], 0), impossible, steps: 1 };

  test('the best layout, and the lower thread at a tie', () => {
    const outcomes = [fits(30), fits(25), fits(25)].map((result) => ({ result, reported: null }));
    expect(mergeResults(p, outcomes).layout).toBe(outcomes[1]!.result.layout);
    expect(mergeResults(p, outcomes).steps).toBe(3);
  });

  test('a thread ended from outside counts with what it had reported', () => {
    const merged = mergeResults(p, [
      { result: fits(30), reported: null },
      { result: null, reported: both(26) },
    ]);
    expect(merged).toMatchObject({ verdict: 'fits', layout: { length: 26 } });
  });

  test('nothing from anybody leaves every copy without a place', () => {
    const nothing = { result: null, reported: null };
    expect(mergeResults(p, [nothing, nothing])).toMatchObject({
      verdict: 'not found',
      layout: { unplaced: [{ item: 'small' }, { item: 'large' }] },
    });
  });

  test('a proof stands, unless a layout contradicts it: then that is a fault of the engine', () => {
    const partial: SearchResult = { verdict: 'not found', layout: without('large'), steps: 1 };
    expect(
      mergeResults(
        p,
        [partial, cannot].map((result) => ({ result, reported: null })),
      ),
    ).toMatchObject({
      verdict: 'cannot fit',
      impossible,
    });
    const contradicted = mergeResults(
      p,
      [cannot, fits(25)].map((result) => ({ result, reported: null })),
    );
    expect(contradicted.verdict).toBe('fits');
    expect(contradicted.engineFaults).toEqual([expect.stringContaining('too much cloth')]);
  });

  test('of several proofs the one that places most is shown', () => {
    const results: SearchResult[] = [
      cannot,
      { ...cannot, layout: without('large') },
      { ...cannot, layout: without('small') },
    ].map((result, i) =>
      i === 0
        ? { ...result, layout: layout([], 0, [...without('small').unplaced, ...without('large').unplaced]) }
        : result,
    );
    const outcomes = results.map((result) => ({ result, reported: null }));
    expect(mergeResults(p, outcomes)).toMatchObject({
      verdict: 'cannot fit',
      impossible,
      layout: without('small'),
    });
  });
});

describe('seeds of threads', () => {
  test('the first thread has the seed itself; no two threads or seeds share one', () => {
    const seeds = Array.from({ length: 200 }, (_, seed) =>
      Array.from({ length: 8 }, (_, thread) => seedOfThread(seed, thread)),
    );
    expect(seeds.map(([first]) => first)).toEqual(Array.from({ length: 200 }, (_, seed) => seed));
    expect(new Set(seeds.flat()).size).toBe(1_600);
    for (const seed of seeds.flat()) expect(Number.isInteger(seed) && seed >= 0 && seed < 2 ** 31).toBe(true);
  });
});
