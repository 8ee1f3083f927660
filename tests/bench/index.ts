/**
 * Quality and speed of the engine, apart:
 *   npm run bench -- [--seconds 10] [--threads 2] [--seeds 1] [--only strips,remnants,sheets,ours,growth,speed,memory,reading]
 *                    [--problems albano,fu] [--methods separation,annealing] [--out FILE.json] [--compare EARLIER.json]
 * The result is kept in data/bench.json unless --out says otherwise. `growth` lays copies of an open garment set, in 50 to
 * 1 000 pieces, and fits how the time to 98 % of the final density grows: give it --seconds 60. `memory` asks for the
 * most memory that a process packing 500 pieces had in use, and counts what moves take from the heap. `reading` times the
 * way from files to the pieces proposed.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { parseArgs } from 'node:util';
import type { SearchMethod } from '../../nesting/packing/types.ts';
import { Pool } from '../../nesting/workers/pool.ts';
import { type AllocationRow, allocationOf } from './allocation.ts';
import { type FootprintRow, footprintOf } from './footprint.ts';
import { METHODS, type ProblemFile } from './format.ts';
import { findJudge } from './judge.ts';
import { describeMachine } from './machine.ts';
import { grown, OPEN_SETS, openSet, ownStrips } from './problems.ts';
import { measureQuality, type QualityRow } from './quality.ts';
import { type ReadingRow, readingRows } from './reading.ts';
import { type BenchResult, compare, report } from './report.ts';
import { demoFirstPlans, firstLayout, type SpeedRow, verifySpeed } from './speed.ts';

const SECTIONS = [...OPEN_SETS, 'ours', 'growth', 'speed', 'memory', 'reading'] as const;
const GROWTH = [50, 100, 200, 500, 1_000];
const SPEED_RUNS = 5;
/** Pieces of the problem whose memory is measured, and moves whose allocations are counted. */
const MEMORY_PIECES = 500;
const COUNTED_MOVES = 100_000;
/** Problems whose first layouts and checks are timed: few and plain, many vertices, many pieces. */
const SPEED_PROBLEMS = ['albano', 'shirts', 'gardeyn0', 'gardeyn7'];

const { values } = parseArgs({
  options: {
    seconds: { type: 'string', default: '10' },
    threads: { type: 'string', default: '2' },
    seeds: { type: 'string', default: '1' },
    only: { type: 'string', default: SECTIONS.join(',') },
    problems: { type: 'string' },
    methods: { type: 'string', default: METHODS.join(',') },
    out: { type: 'string', default: 'data/bench.json' },
    compare: { type: 'string' },
  },
});
const settings = {
  seconds: Number(values.seconds),
  threads: Number(values.threads),
  seeds: Number(values.seeds),
};
const sections = new Set(values.only.split(','));
for (const section of sections) {
  if (!SECTIONS.some((known) => known === section))
    throw new RangeError(`--only knows ${SECTIONS.join(', ')}, not ${section}`);
}
const wanted = values.problems?.split(',');
const isWanted = ({ name }: ProblemFile) => !wanted || wanted.includes(name);

const methods = METHODS.filter((method) => values.methods.split(',').includes(method));
if (methods.length === 0)
  throw new RangeError(`--methods knows ${METHODS.join(', ')}, not ${values.methods}`);

const judge = await findJudge();
/** The threads run the built files, as the server's do: from the sources each would load the TypeScript compiler first. */
const BUILT_THREAD = new URL('../../dist/nesting/workers/thread.js', import.meta.url);
const pool = new Pool({ threads: settings.threads, entry: BUILT_THREAD });
const leftOut: string[] = [];
const quality: QualityRow[] = [];
const speed: SpeedRow[] = [];

async function measureSet(set: string, files: readonly ProblemFile[], method: SearchMethod) {
  for (const file of files.filter(isWanted)) {
    for (let seed = 1; seed <= settings.seeds; seed++) {
      const row = await measureQuality(set, file, pool.solve, { ...settings, seed, method }, judge);
      quality.push(row);
      console.error(
        `${set} ${file.name} ${method} seed ${seed}: ${row.density?.toFixed(2) ?? row.verdict} (${row.judged})`,
      );
    }
  }
}

for (const set of OPEN_SETS) {
  if (!sections.has(set)) continue;
  const files = openSet(set);
  if (files) for (const method of methods) await measureSet(set, files, method);
  else leftOut.push(`${set}: the folder of open problems does not lie beside the repository`);
}
if (!judge) leftOut.push('the outside judge: layouts are checked by our own verify only');
if (sections.has('ours')) for (const method of methods) await measureSet('ours', ownStrips(), method);
if (sections.has('growth')) await measureSet('growth', GROWTH.map(grown), METHODS[0]);
if (sections.has('speed')) {
  speed.push(...(await demoFirstPlans(pool.solve, SPEED_RUNS)));
  const files = (openSet('strips') ?? ownStrips()).filter(
    ({ name }) => SPEED_PROBLEMS.includes(name) || !openSet('strips'),
  );
  for (const file of [...files, grown(50), grown(500)])
    speed.push(await firstLayout(file, pool.solve, SPEED_RUNS));
  for (const file of files) speed.push(await verifySpeed(file, pool.solve, SPEED_RUNS));
}
await pool.close();
const memory: { footprints: FootprintRow[]; allocations: AllocationRow[] } = {
  footprints: [],
  allocations: [],
};
if (sections.has('memory')) {
  memory.footprints.push(footprintOf(grown(MEMORY_PIECES), settings.threads, settings.seconds, BUILT_THREAD));
  memory.allocations.push(...[50, 200].map((count) => allocationOf(grown(count), COUNTED_MOVES)));
}

const reading: ReadingRow[] = sections.has('reading') ? await readingRows() : [];
const result: BenchResult = {
  machine: describeMachine(),
  settings,
  leftOut,
  quality,
  speed,
  memory,
  reading,
};
console.log(report(result));
mkdirSync(dirname(values.out), { recursive: true });
writeFileSync(values.out, `${JSON.stringify(result, null, 1)}\n`);
console.error(`kept in ${values.out}`);
if (values.compare) {
  const before: BenchResult = JSON.parse(readFileSync(values.compare, 'utf8'));
  console.log(`\n${compare(before, result)}`);
}
