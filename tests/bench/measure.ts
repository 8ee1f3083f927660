/**
 * Packs one benchmark problem and writes the layout:
 *   npm run --silent measure -- PROBLEM.json --seconds S --threads T --seed N --out LAYOUT.json [--method annealing]
 * S is the whole time by the wall clock, start-up and writing included.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { Pool } from '../../nesting/workers/pool.ts';
import { METHODS, problemFileSchema, toLayoutFile, toProblem } from './format.ts';

/** From the first key press to this process's own start (npm and the TypeScript loader), in ms; measured 0.5 s. */
const BEFORE_START_MS = 550;
/** To stop, check the last layout, write it and end, in ms. */
const AFTER_SEARCH_MS = 250;
const LEAST_SEARCH_MS = 50;

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    seconds: { type: 'string', default: '10' },
    threads: { type: 'string', default: '2' },
    seed: { type: 'string', default: '1' },
    out: { type: 'string' },
    method: { type: 'string', default: METHODS[0] },
  },
});
const [path] = positionals;
if (!path || positionals.length > 1 || !values.out) {
  console.error(
    'usage: measure PROBLEM.json --out LAYOUT.json [--seconds 10] [--threads 2] [--seed 1] [--method separation|annealing]',
  );
  process.exit(2);
}
const seconds = numberOf('seconds', values.seconds);
const threads = numberOf('threads', values.threads);
const seed = numberOf('seed', values.seed);
const method = METHODS.find((known) => known === values.method);
if (!method) {
  console.error(`--method is one of ${METHODS.join(', ')}, not ${JSON.stringify(values.method)}`);
  process.exit(2);
}

const file = problemFileSchema.parse(JSON.parse(readFileSync(path, 'utf8')));
const pool = new Pool({ threads });
const maxMs = Math.max(
  LEAST_SEARCH_MS,
  Math.round(1_000 * seconds - BEFORE_START_MS - performance.now() - AFTER_SEARCH_MS),
);
const result = await pool.solve(toProblem(file), { seed, maxMs, method, signal: AbortSignal.timeout(maxMs) });
writeFileSync(values.out, `${JSON.stringify(toLayoutFile(file, result, { seconds, seed, threads }))}\n`);
for (const fault of result.engineFaults ?? []) console.error(`engine fault: ${fault}`);
await pool.close();

function numberOf(name: string, text: string): number {
  const value = Number(text);
  if (!Number.isFinite(value) || value < 0) {
    console.error(`--${name} must be a number, not ${JSON.stringify(text)}`);
    process.exit(2);
  }
  return value;
}
