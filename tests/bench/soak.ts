/**
 * Lays random problems until the time is up and reports every fault; run by hand:
 *   npx tsx tests/bench/soak.ts [--minutes 30] [--threads 2] [--seed 1] [--each 300]
 * `--each` is the budget of one search in ms. Exits with 1 if anything was wrong. A problem that went wrong is
 * written out whole, so that it can become a fixture.
 */
import { parseArgs } from 'node:util';
import fc from 'fast-check';
import type { Problem } from '../../nesting/packing/types.ts';
import { verify } from '../../nesting/verify/index.ts';
import { Pool } from '../../nesting/workers/pool.ts';
import { type Jigsaw, jigsaw, sheetProblem, stripProblem } from '../support/generators.ts';
import { rectangle, sheet } from '../support/layouts.ts';

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '30' },
    threads: { type: 'string', default: '2' },
    seed: { type: 'string', default: '1' },
    each: { type: 'string', default: '300' },
  },
});
/** Problems that certainly fit: a proof of the contrary is false. */
const FITTING = 'jigsaw on its own sheet';

const until = performance.now() + Number(values.minutes) * 60_000;
const maxMs = Number(values.each);
const threads = Number(values.threads);
const pool = new Pool({ threads });
const kinds: readonly [string, fc.Arbitrary<Problem>][] = [
  ['strip', stripProblem(8)],
  ['sheets', sheetProblem(8)],
  ['jigsaw', jigsaw(20).map(({ problem }) => problem)],
  [FITTING, jigsaw(20).map(onItsOwnSheet)],
];

let laid = 0;
let wrong = 0;
const verdicts = new Map<string, number>();
for (let seed = Number(values.seed); performance.now() < until; seed++) {
  for (const [kind, arbitrary] of kinds) {
    const [problem] = fc.sample(arbitrary, { seed, numRuns: 1 });
    const complaint = await layOnce(problem!, seed, kind === FITTING).catch((error: unknown) => `${error}`);
    laid++;
    if (complaint === null) continue;
    wrong++;
    console.log(`${kind}, seed ${seed}: ${complaint}\n${JSON.stringify(problem)}`);
  }
  if (laid % 300 === 0) console.error(`${laid} laid, ${wrong} wrong`);
}
await pool.close();
const counts = [...verdicts].map(([verdict, count]) => `${count} ${verdict}`).join(', ');
console.log(`${laid} problems laid (${counts}), ${wrong} wrong`);
process.exitCode = wrong > 0 ? 1 : 0;

/** What is wrong with the answer, or null. */
async function layOnce(problem: Problem, seed: number, certainlyFits: boolean): Promise<string | null> {
  const result = await pool.solve(problem, { seed, maxMs });
  verdicts.set(result.verdict, (verdicts.get(result.verdict) ?? 0) + 1);
  if (result.engineFaults) return result.engineFaults.join('; ');
  const faults = verify(problem, result.layout);
  if (faults.length > 0) return faults.map(({ text }) => text).join('; ');
  if (certainlyFits && result.verdict === 'cannot fit') return `a false proof: ${result.impossible?.reason}`;
  const complete = result.layout.unplaced.length === 0;
  if (complete !== (result.verdict === 'fits'))
    return `${result.verdict}, with ${result.layout.unplaced.length} left`;
  return null;
}

/** The jigsaw's parts and a sheet that they fill without loss. */
function onItsOwnSheet({ problem, length }: Jigsaw): Problem {
  const [width] = problem.containers.flatMap((container) =>
    container.kind === 'strip' ? [container.width] : [],
  );
  return { ...problem, containers: [sheet(rectangle(length, width!))] };
}
