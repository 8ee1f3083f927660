/**
 * Feeds the three readers changed files until the time is up and reports every fault, crash and hang; run by hand:
 *   npx tsx tests/bench/fuzzReaders.ts [--minutes 10] [--seed 1] [--kind svg|dxf|pdf] [--keep FOLDER]
 * Starts from drawings of our own and from the published files beside the project. Every case follows from its number
 * alone, so that one that went wrong can be read again with `--seed NUMBER --minutes 0`. Reading happens in a process
 * of its own with bounded memory, ended when a case takes too long. Exits with 1 if anything was wrong.
 */
import { type ChildProcess, fork } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { Random } from '../../nesting/packing/random.ts';
import { checkReading } from '../support/checkReading.ts';
import { mutated } from '../support/mutateDrawing.ts';
import { ownSeeds, publishedSeeds, type SeedDrawing } from '../support/seedDrawings.ts';

/** Longer than this for a file of some kilobytes is a hang, whatever comes of it. */
const LONGEST_MS = 20_000;
/** Slower than this is worth a line. */
const SLOW_MS = 5_000;
const HEAP_MB = 700;

interface Answer {
  readonly number: number;
  readonly fault: string | null;
  readonly read: boolean;
  readonly ms: number;
  readonly rssMb: number;
}

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '10' },
    seed: { type: 'string', default: '1' },
    kind: { type: 'string' },
    keep: { type: 'string' },
    child: { type: 'boolean', default: false },
  },
});
const seeds = [...ownSeeds(), ...publishedSeeds()].filter(({ kind }) => !values.kind || kind === values.kind);

/** The case with a number: which file it starts from, and what became of it. */
function caseOf(number: number): { seed: SeedDrawing; bytes: Uint8Array } {
  const random = new Random(number, 20_261);
  const seed = seeds[random.below(seeds.length)] as SeedDrawing;
  return { seed, bytes: mutated(seed, seeds, random) };
}

if (values.child) {
  // A damaged PDF may leave a rejected promise of the engine's behind: no fault of the reading.
  process.on('unhandledRejection', () => undefined);
  process.on('message', (number: number) => {
    const { seed, bytes } = caseOf(number);
    const start = performance.now();
    void checkReading(bytes, seed.kind).then(({ fault, read }) => {
      const answer: Answer = {
        number,
        fault,
        read,
        ms: performance.now() - start,
        rssMb: process.memoryUsage().rss / 2 ** 20,
      };
      process.send?.(answer);
    });
  });
  process.send?.('ready');
} else {
  await run();
}

async function run(): Promise<void> {
  const until = performance.now() + Number(values.minutes) * 60_000;
  const found: string[] = [];
  let cases = 0;
  let read = 0;
  let slowest = 0;
  let mostMb = 0;
  let child = await start();
  for (let number = Number(values.seed); ; number++) {
    const answer = await ask(child, number);
    cases++;
    if (typeof answer === 'string') {
      report(number, answer);
      child.kill('SIGKILL');
      child = await start();
    } else {
      if (answer.read) read++;
      slowest = Math.max(slowest, answer.ms);
      mostMb = Math.max(mostMb, answer.rssMb);
      if (answer.fault !== null) report(number, answer.fault);
      else if (answer.ms > SLOW_MS) report(number, `took ${(answer.ms / 1000).toFixed(1)} s`);
    }
    if (cases % 500 === 0) console.error(`${cases} read, ${found.length} wrong`);
    if (performance.now() >= until) break;
  }
  child.disconnect();
  console.log(
    `${cases} changed files (${read} read, ${cases - read} refused), ${found.length} wrong; the slowest took ${slowest.toFixed(0)} ms, the process ${mostMb.toFixed(0)} MB at most`,
  );
  process.exitCode = found.length > 0 ? 1 : 0;

  function report(number: number, what: string): void {
    const { seed, bytes } = caseOf(number);
    found.push(what);
    console.log(`case ${number} from ${seed.name}: ${what}`);
    if (!values.keep) return;
    mkdirSync(values.keep, { recursive: true });
    writeFileSync(`${values.keep}/case-${number}.${seed.kind}`, bytes);
  }
}

/** A process that reads, once it is ready: on a busy machine that takes longer than many cases. */
function start(): Promise<ChildProcess> {
  const kind = values.kind ? ['--kind', values.kind] : [];
  const child = fork(fileURLToPath(import.meta.url), ['--child', ...kind], {
    execArgv: [...process.execArgv, `--max-old-space-size=${HEAP_MB}`],
  });
  return new Promise((resolve) => child.once('message', () => resolve(child)));
}

/** What the process says to a case; a sentence if it ended or had to be ended. */
function ask(child: ChildProcess, number: number): Promise<Answer | string> {
  return new Promise((resolve) => {
    const end = (answer: Answer | string): void => {
      clearTimeout(timer);
      child.off('message', end);
      child.off('exit', ended);
      resolve(answer);
    };
    const ended = (code: number | null, signal: string | null): void =>
      end(`the process ended with ${code ?? signal}`);
    const timer = setTimeout(() => {
      child.off('exit', ended);
      child.kill('SIGKILL');
      end(`hangs: more than ${LONGEST_MS / 1000} s`);
    }, LONGEST_MS);
    child.on('message', end);
    child.on('exit', ended);
    child.send(number);
  });
}
