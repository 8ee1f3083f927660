import type { Layout, SearchMethod, Solve } from '../../nesting/packing/types.ts';
import { areaOf, densityPercent, type ProblemFile, toLayoutFile, toProblem } from './format.ts';
import type { findJudge } from './judge.ts';

/** One search, measured. */
export interface QualityRow {
  readonly set: string;
  readonly problem: string;
  readonly method: SearchMethod;
  readonly seed: number;
  readonly verdict: string;
  /** What is known to be right, where it is. */
  readonly answer?: string;
  readonly placed: number;
  readonly of: number;
  /** Of the strip up to the used length; only for strips. */
  readonly density?: number;
  readonly published2006?: number;
  readonly published2013?: number;
  readonly sheetsUsed?: number;
  /** No fewer sheets can hold the area. */
  readonly sheetsAtLeast?: number;
  readonly firstLayoutMs: number | null;
  /** Until 98 % of the density at the end was reached. */
  readonly to98PercentMs: number | null;
  readonly totalMs: number;
  readonly steps: number;
  /** `ok`, the judge's first complaint, or `not judged`. */
  readonly judged: string;
  readonly engineFaults: readonly string[];
}

export async function measureQuality(
  set: string,
  file: ProblemFile,
  solve: Solve,
  run: {
    readonly seconds: number;
    readonly threads: number;
    readonly seed: number;
    readonly method: SearchMethod;
  },
  judge: Awaited<ReturnType<typeof findJudge>>,
): Promise<QualityRow> {
  const problem = toProblem(file);
  const start = performance.now();
  const trace: { ms: number; layout: Layout }[] = [];
  const result = await solve(problem, {
    seed: run.seed,
    method: run.method,
    maxMs: run.seconds * 1_000,
    onBetter: (layout) => trace.push({ ms: performance.now() - start, layout }),
  });
  const totalMs = performance.now() - start;
  const { layout } = result;
  const of = problem.items.reduce((sum, { quantity }) => sum + quantity, 0);
  const density = file.stripWidth === undefined ? undefined : densityPercent(problem, layout);
  const good = trace.find(
    (report) =>
      report.layout.unplaced.length === layout.unplaced.length &&
      densityPercent(problem, report.layout) >= 0.98 * (density ?? 0),
  );
  const judgement = judge?.(file, toLayoutFile(file, result, run));
  const refused = file.answer === 'cannot fit' && result.verdict === 'cannot fit';
  return {
    set,
    problem: file.name,
    method: run.method,
    seed: run.seed,
    verdict: result.verdict,
    ...(file.answer ? { answer: file.answer } : {}),
    placed: layout.placements.length,
    of,
    ...(density === undefined ? {} : { density }),
    ...(file.publishedBestDensityPercent
      ? {
          published2006: file.publishedBestDensityPercent['2006'],
          published2013: file.publishedBestDensityPercent['2013'],
        }
      : {}),
    ...(file.sheets ? { sheetsUsed: sheetsUsed(layout), sheetsAtLeast: sheetsAtLeast(file) } : {}),
    firstLayoutMs: trace[0]?.ms ?? null,
    to98PercentMs: good?.ms ?? null,
    totalMs,
    steps: result.steps,
    judged: !judgement ? 'not judged' : judgement.ok || refused ? 'ok' : complaint(judgement.faults, layout),
    engineFaults: result.engineFaults ?? [],
  };
}

function complaint(faults: readonly string[], { unplaced }: Layout): string {
  return faults[0] ?? `${unplaced.length} left without a place`;
}

function sheetsUsed({ placements }: Layout): number {
  return new Set(placements.map(({ container, containerCopy }) => `${containerCopy} of ${container}`)).size;
}

/**
 * So many of the largest sheets are needed to hold the area of all pieces. Holes and flaws are not taken off, because
 * they may overlap: a bound may be too low, never too high.
 */
function sheetsAtLeast(file: ProblemFile): number {
  const sheets = (file.sheets ?? [])
    .flatMap(({ quantity, outline }) => Array.from({ length: quantity }, () => areaOf(outline)))
    .sort((a, b) => b - a);
  let left = file.pieces.reduce(
    (sum, { quantity, mirroredQuantity, outline }) => sum + (quantity + mirroredQuantity) * areaOf(outline),
    0,
  );
  let count = 0;
  for (const sheet of sheets) {
    if (left <= 0) break;
    left -= sheet;
    count++;
  }
  return count;
}
