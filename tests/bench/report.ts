import type { AllocationRow } from './allocation.ts';
import type { FootprintRow } from './footprint.ts';
import { growthOf } from './growth.ts';
import type { Machine } from './machine.ts';
import type { QualityRow } from './quality.ts';
import type { ReadingRow } from './reading.ts';
import type { SpeedRow } from './speed.ts';
import { fixed, mean, table } from './table.ts';

/** Everything one run of the bench found, as it is kept in a file. */
export interface BenchResult {
  readonly machine: Machine;
  readonly settings: { readonly seconds: number; readonly threads: number; readonly seeds: number };
  readonly leftOut: readonly string[];
  readonly quality: readonly QualityRow[];
  readonly speed: readonly SpeedRow[];
  readonly memory?: {
    readonly footprints: readonly FootprintRow[];
    readonly allocations: readonly AllocationRow[];
  };
  readonly reading?: readonly ReadingRow[];
}

/** The method that others are held against: greedy placement with annealing over order and poses. */
const BASELINE = 'annealing';

/** Rows of one problem and method, all seeds, keyed by both, in the order they were measured. */
function byProblem(rows: readonly QualityRow[], set: string): [key: string, rows: QualityRow[]][] {
  const groups = new Map<string, QualityRow[]>();
  for (const row of rows.filter((one) => one.set === set)) {
    const key = `${row.problem}, ${row.method}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups];
}

const densities = (rows: readonly QualityRow[]) => rows.map(({ density }) => density ?? 0);
const milliseconds = (values: readonly (number | null)[]) =>
  fixed(mean(values.filter((ms) => ms !== null)), 0);
/** The judge's complaints and the engine's faults about some runs, or "ok". */
function remarks(rows: readonly QualityRow[]): string {
  const judged = rows.map(({ judged }) => judged).find((said) => said !== 'ok') ?? 'ok';
  const faults = rows.reduce((sum, { engineFaults }) => sum + engineFaults.length, 0);
  return faults > 0 ? `${judged}; ${faults} engine faults` : judged;
}

/** One table a method, so that each can be read, and copied, by itself. */
function stripTables(rows: readonly QualityRow[], set: string): string {
  const methods = [...new Set(rows.filter((row) => row.set === set).map(({ method }) => method))];
  const baseline = new Map(
    byProblem(
      rows.filter(({ method }) => method === BASELINE),
      set,
    ).map(([, runs]) => [runs[0]!.problem, mean(densities(runs))]),
  );
  return methods
    .map((method) =>
      stripTable(
        byProblem(
          rows.filter((row) => row.method === method),
          set,
        ),
        `${set}, ${method}`,
        method === BASELINE ? new Map() : baseline,
      ),
    )
    .join('\n');
}

function stripTable(
  groups: readonly [string, QualityRow[]][],
  title: string,
  baseline: ReadonlyMap<string, number>,
): string {
  const lines = groups.map(([, runs]) => {
    const all = densities(runs);
    const { problem, published2006, published2013 } = runs[0]!;
    const share = (best: number | undefined) => (best ? fixed((100 * mean(all)) / best) : '–');
    return [
      problem,
      fixed(mean(all)),
      `${fixed(Math.min(...all))} – ${fixed(Math.max(...all))}`,
      published2006 ? `${published2006} / ${published2013}` : '–',
      share(published2006),
      share(published2013),
      fixed(mean(all) - (baseline.get(problem) ?? Number.NaN)),
      milliseconds(runs.map(({ firstLayoutMs }) => firstLayoutMs)),
      milliseconds(runs.map(({ to98PercentMs }) => to98PercentMs)),
      remarks(runs),
    ];
  });
  const rated = groups.filter(([, runs]) => runs[0]!.published2006 !== undefined);
  const shareOf = (pick: (row: QualityRow) => number | undefined) =>
    fixed(mean(rated.map(([, runs]) => (100 * mean(densities(runs))) / pick(runs[0]!)!)));
  const summary =
    rated.length > 0
      ? `\nmean of ${rated.length} rated: ${shareOf((row) => row.published2006)} % of the 2006 bests, ${shareOf((row) => row.published2013)} % of the 2013 bests` +
        '\n(Gomes & Oliveira 2006, Elkeran 2013: best of several long runs; the published figures come from memory)'
      : '';
  const head = [
    'problem',
    'density %',
    'least – most',
    'published',
    '% of 2006',
    '% of 2013',
    'above baseline',
    'first ms',
    '98 % ms',
    'judge',
  ];
  return `${title}: density in per cent\n${table(head, lines)}${summary}\n`;
}

function sheetTable(rows: readonly QualityRow[], set: string): string {
  const lines = byProblem(rows, set).map(([, runs]) => {
    const said = [...new Set(runs.map(({ verdict }) => verdict))].join(', ');
    return [
      runs[0]!.problem,
      runs[0]!.method,
      runs[0]!.answer ?? '–',
      said,
      runs.map(({ placed }) => placed).join(' / '),
      String(runs[0]!.of),
      runs.map(({ sheetsUsed }) => sheetsUsed).join(' / '),
      String(runs[0]!.sheetsAtLeast),
      milliseconds(runs.map(({ totalMs }) => totalMs)),
      remarks(runs),
    ];
  });
  const good = rows.filter((row) => row.set === set && row.judged === 'ok').length;
  const all = rows.filter((row) => row.set === set).length;
  const head = ['problem', 'method', 'known', 'said', 'placed', 'of', 'sheets', 'at least', 'ms', 'judge'];
  return `${set}\n${table(head, lines)}\n${good} of ${all} good\n`;
}

function speedTable(rows: readonly SpeedRow[]): string {
  if (rows.length === 0) return '';
  const lines = rows.map((row) => [
    row.what,
    String(row.runs),
    fixed(row.leastMs, 1),
    `${fixed(row.meanMs, 1)} ± ${fixed(row.deviationMs, 1)}`,
    row.outcome,
  ]);
  return `speed, in ms\n${table(['what', 'runs', 'least', 'mean', 'outcome'], lines)}\n`;
}

/** How the time to 98 % of the final density grows with the number of pieces, in a sentence. */
function growthLine(rows: readonly QualityRow[], set: string): string {
  const growth = growthOf(rows.filter((row) => row.set === set));
  if (!growth) return '';
  return `time to 98 % of the final density: ${fixed(growth.at100 / 1_000, 2)} s for 100 pieces, growing with their number to the power ${fixed(growth.exponent)}\n`;
}

function readingTable(rows: readonly ReadingRow[]): string {
  if (rows.length === 0) return '';
  const lines = rows.map((row) => [
    row.file,
    fixed(row.kiloBytes, 0),
    `${row.pages}`,
    fixed(row.coldMs, 0),
    fixed(row.warmMs, 0),
    fixed(row.warmCpuMs, 0),
    fixed(row.proposeMs, 0),
    fixed(row.mostMb, 0),
    row.outcome,
  ]);
  const head = [
    'file',
    'kB',
    'pages',
    'first ms',
    'again ms',
    'processor ms',
    'propose ms',
    'most MB',
    'outcome',
  ];
  return `from a file to the pieces proposed\n${table(head, lines)}\n`;
}

function memoryTables(memory: BenchResult['memory']): string {
  const parts: string[] = [];
  if (memory?.footprints.length) {
    const lines = memory.footprints.map((row) => [
      row.problem,
      String(row.pieces),
      String(row.threads),
      String(row.seconds),
      fixed(row.beforeMb, 0),
      fixed(row.mostMb, 0),
    ]);
    parts.push(
      `memory of a process, in MB\n${table(['problem', 'pieces', 'threads', 'seconds', 'before', 'most'], lines)}\n`,
    );
  }
  if (memory?.allocations.length) {
    const lines = memory.allocations.map((row) => [
      row.problem,
      String(row.moves),
      fixed(row.evaluations / row.moves, 0),
      fixed(row.microsecondsPerMove, 1),
      fixed(row.bytesPerMove, 1),
    ]);
    parts.push(
      `the innermost loop\n${table(['problem', 'moves', 'evaluations a move', 'µs a move', 'bytes a move'], lines)}\n`,
    );
  }
  return parts.join('\n');
}

export function report(result: BenchResult): string {
  const { machine, settings, leftOut, quality, speed, memory, reading = [] } = result;
  const sets = [...new Set(quality.map(({ set }) => set))];
  return [
    `${machine.cpu}, ${machine.processors} processors, ${machine.memoryGb} GB, ${machine.system}, Node ${machine.node}, ${machine.date}`,
    `${settings.seconds} s a search, ${settings.threads} threads, seeds 1 to ${settings.seeds}\n`,
    ...leftOut.map((text) => `left out: ${text}`),
    ...sets.map((set) =>
      quality.find((row) => row.set === set)!.density === undefined
        ? sheetTable(quality, set)
        : stripTables(quality, set) + (set === 'growth' ? growthLine(quality, set) : ''),
    ),
    speedTable(speed),
    memoryTables(memory),
    readingTable(reading),
  ]
    .filter((part) => part !== '')
    .join('\n');
}

/**
 * What changed since an earlier run: quality where the means differ, with the spread over seeds beside it, so that
 * noise isn't taken for progress; and speed where the least time differs by more than a tenth.
 */
export function compare(before: BenchResult, now: BenchResult): string {
  const quality: string[][] = [];
  for (const set of new Set(now.quality.map((row) => row.set))) {
    const old = new Map(byProblem(before.quality, set));
    for (const [problem, runs] of byProblem(now.quality, set)) {
      const oldRuns = old.get(problem);
      if (!oldRuns) continue;
      const worth = (rows: readonly QualityRow[]) =>
        rows[0]!.density === undefined ? rows.map(({ placed }) => placed) : densities(rows);
      const [was, is] = [worth(oldRuns), worth(runs)];
      const spread = Math.max(...was) - Math.min(...was);
      const change = mean(is) - mean(was);
      if (change === 0) continue;
      const verdict = Math.abs(change) <= spread ? 'within the spread' : change > 0 ? 'better' : 'worse';
      quality.push([problem, fixed(mean(was)), fixed(mean(is)), fixed(change), fixed(spread), verdict]);
    }
  }
  const oldSpeed = new Map(before.speed.map((row) => [row.what, row]));
  const speed = now.speed.flatMap((row) => {
    const old = oldSpeed.get(row.what);
    if (!old || Math.abs(row.leastMs / old.leastMs - 1) <= 0.1) return [];
    return [
      [row.what, fixed(old.leastMs, 1), fixed(row.leastMs, 1), `× ${fixed(row.leastMs / old.leastMs)}`],
    ];
  });
  const { machine, settings } = before;
  const sameTerms =
    JSON.stringify(settings) === JSON.stringify(now.settings) && machine.cpu === now.machine.cpu
      ? ''
      : 'measured on other terms: compare with care\n';
  return [
    `against ${machine.date}, ${machine.cpu}, ${settings.seconds} s, ${settings.threads} threads, ${settings.seeds} seeds`,
    sameTerms,
    quality.length > 0
      ? `${table(['problem', 'was', 'is', 'change', 'spread', ''], quality)}\n`
      : 'quality: no change',
    speed.length > 0 ? table(['what', 'was', 'is', 'change'], speed) : 'speed: no change beyond a tenth',
  ]
    .filter((part) => part !== '')
    .join('\n');
}
