import type { Solve } from '../../nesting/packing/types.ts';
import { verify } from '../../nesting/verify/index.ts';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type LayProgress, runLay } from '../../pattern/lay/runLay.ts';
import { type ProblemFile, toProblem } from './format.ts';

/** Budget of each search of a demo run: a run is ended as soon as it has shown what is timed. */
const DEMO_SECONDS = 2;

/** How long something takes, over several runs after one that doesn't count. */
export interface SpeedRow {
  readonly what: string;
  readonly runs: number;
  readonly leastMs: number;
  readonly meanMs: number;
  readonly deviationMs: number;
  /** What came out, so that the work can't be left out and a reader sees that it is the same. */
  readonly outcome: string;
}

/** Runs some work once for nothing and then so many times. */
export async function timed(
  what: string,
  runs: number,
  work: () => Promise<{ ms: number; outcome: string }>,
): Promise<SpeedRow> {
  await work();
  const times: number[] = [];
  let outcome = '';
  for (let run = 0; run < runs; run++) {
    const one = await work();
    times.push(one.ms);
    outcome = one.outcome;
  }
  const meanMs = times.reduce((sum, ms) => sum + ms, 0) / runs;
  const deviationMs = Math.sqrt(times.reduce((sum, ms) => sum + (ms - meanMs) ** 2, 0) / runs);
  return { what, runs, leastMs: Math.min(...times), meanMs, deviationMs, outcome };
}

/** From the call to the first verified layout that places every copy, or the first at all if none does. */
export function firstLayout(file: ProblemFile, solve: Solve, runs: number): Promise<SpeedRow> {
  const problem = toProblem(file);
  return timed(`first layout, ${file.name}`, runs, async () => {
    const start = performance.now();
    const abort = new AbortController();
    let ms = 0;
    const result = await solve(problem, {
      seed: 1,
      maxMs: 20_000,
      signal: abort.signal,
      onBetter: () => {
        ms ||= performance.now() - start;
        abort.abort();
      },
    });
    ms ||= performance.now() - start;
    return { ms, outcome: `${result.layout.placements.length} placed` };
  });
}

/** From the request to the first plan of any cloth of the demo project, and to the moment when every cloth has one. */
export async function demoFirstPlans(solve: Solve, runs: number): Promise<SpeedRow[]> {
  const request = layRequestSchema.parse({ project: demoProject(), seconds: DEMO_SECONDS });
  const plansOf = ({ results }: LayProgress) =>
    results.filter(({ segments }) => segments.some(({ placed }) => placed.length > 0)).length;
  // A whole run shows how many plans there will be, and starts the threads.
  const all = plansOf(await runLay(request, solve, () => {}, new AbortController().signal));
  const untilPlans = (wanted: number, what: string) =>
    timed(what, runs, async () => {
      const start = performance.now();
      const abort = new AbortController();
      let ms = Number.POSITIVE_INFINITY;
      await runLay(
        request,
        solve,
        (progress) => {
          if (abort.signal.aborted || plansOf(progress) < wanted) return;
          ms = performance.now() - start;
          abort.abort();
        },
        abort.signal,
      );
      return { ms, outcome: `${wanted} of ${all} plans` };
    });
  return [
    await untilPlans(1, 'first plan of a cloth, demo project'),
    await untilPlans(all, 'first plans of all cloths, demo project'),
  ];
}

/** The checker on a finished layout. */
export async function verifySpeed(file: ProblemFile, solve: Solve, runs: number): Promise<SpeedRow> {
  const problem = toProblem(file);
  const { layout } = await solve(problem, { seed: 1, maxMs: 2_000 });
  return timed(`verify, ${file.name}`, runs, async () => {
    const start = performance.now();
    const faults = verify(problem, layout);
    return {
      ms: performance.now() - start,
      outcome: `${layout.placements.length} placed, ${faults.length} faults`,
    };
  });
}
