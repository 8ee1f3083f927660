import { describe, expect, test } from 'vitest';
import type { QualityRow } from './quality.ts';
import { type BenchResult, compare, report } from './report.ts';

const row = (problem: string, seed: number, density: number, more: Partial<QualityRow> = {}): QualityRow => ({
  set: 'strips',
  problem,
  method: 'separation',
  seed,
  verdict: 'fits',
  placed: 24,
  of: 24,
  density,
  published2006: 80,
  published2013: 90,
  firstLayoutMs: 12,
  to98PercentMs: 400,
  totalMs: 1_000,
  steps: 5,
  judged: 'ok',
  engineFaults: [],
  ...more,
});
const remnant = (judged: string): QualityRow => {
  const { density: _density, published2006: _2006, published2013: _2013, ...rest } = row('offcut', 1, 0);
  return { ...rest, set: 'remnants', answer: 'fits', sheetsUsed: 1, sheetsAtLeast: 1, judged };
};
const result = (quality: QualityRow[], leastMs = 10): BenchResult => ({
  machine: {
    cpu: 'abacus',
    processors: 2,
    memoryGb: 4,
    system: 'Linux x64',
    node: 'v20',
    date: '2026-01-02',
  },
  settings: { seconds: 10, threads: 2, seeds: 2 },
  leftOut: ['sheets: not here'],
  quality,
  speed: [
    { what: 'first layout, albano', runs: 5, leastMs, meanMs: 12, deviationMs: 1, outcome: '24 placed' },
  ],
});

describe('the report of a bench', () => {
  const text = report(
    result([row('albano', 1, 80), row('albano', 2, 84), remnant('3 left without a place')]),
  );

  test('names machine, Node, date, seeds and what was left out', () => {
    for (const part of ['abacus', 'Node v20', '2026-01-02', 'seeds 1 to 2', 'left out: sheets: not here'])
      expect(text).toContain(part);
  });

  test('gives mean and range over seeds against the published figures', () => {
    expect(text).toMatch(/albano +82\.00 +80\.00 – 84\.00 +80 \/ 90 +102\.50 +91\.11/);
    expect(text).toContain('102.50 % of the 2006 bests, 91.11 % of the 2013 bests');
  });

  test('says how far a method is above the baseline where both were measured', () => {
    const annealed = report(
      result([row('albano', 1, 80), row('albano', 2, 84), row('albano', 1, 76.5, { method: 'annealing' })]),
    );
    expect(annealed).toMatch(/albano +82\.00 .*91\.11 +5\.50/);
    expect(text).toMatch(/albano +82\.00 .*91\.11 +–/);
  });

  test('fits how the time grows with the number of pieces', () => {
    const grown = [100, 400].map((of) =>
      row(`${of} pieces`, 1, 80, { set: 'growth', placed: of, of, to98PercentMs: of * of }),
    );
    expect(report(result(grown))).toContain(
      '10.00 s for 100 pieces, growing with their number to the power 2.00',
    );
  });

  test('shows memory and allocations where they were measured', () => {
    const memory = {
      footprints: [{ problem: 'many', pieces: 500, threads: 2, seconds: 10, beforeMb: 90, mostMb: 210 }],
      allocations: [
        { problem: 'few', moves: 1_000, evaluations: 150_000, bytesPerMove: 12.25, microsecondsPerMove: 30 },
      ],
    };
    const measured = report({ ...result([]), memory });
    expect(measured).toMatch(/many +500 +2 +10 +90 +210/);
    expect(measured).toMatch(/few +1000 +150 +30\.0 +12\.3/);
  });

  test('shows what the judge refused', () => {
    expect(text).toMatch(/offcut .*3 left without a place/);
    expect(text).toContain('0 of 1 good');
  });
});

describe('comparing with an earlier run', () => {
  const before = result([row('albano', 1, 80), row('albano', 2, 84), row('fu', 1, 70), row('fu', 2, 70)]);

  test('a change smaller than the spread over seeds is called noise, a greater one by its name', () => {
    const text = compare(
      before,
      result([row('albano', 1, 83), row('albano', 2, 84), row('fu', 1, 69), row('fu', 2, 69)]),
    );
    expect(text).toMatch(/albano, separation .*within the spread/);
    expect(text).toMatch(/fu, separation .*worse/);
    expect(text).toContain('speed: no change beyond a tenth');
  });

  test('speed is compared by the least time; other terms are pointed out', () => {
    const slower = { ...result([], 20), settings: { seconds: 60, threads: 2, seeds: 2 } };
    const text = compare(before, slower);
    expect(text).toMatch(/first layout, albano .*× 2\.00/);
    expect(text).toContain('measured on other terms');
  });
});
