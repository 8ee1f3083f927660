import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { Pool } from '../../nesting/workers/pool.ts';
import { type ProblemFile, problemFileSchema, toProblem } from './format.ts';

/** Memory of a process that packs one problem. */
export interface FootprintRow {
  readonly problem: string;
  readonly pieces: number;
  readonly threads: number;
  readonly seconds: number;
  /** Most memory the process had in use before it began, and at its greatest, in MB. */
  readonly beforeMb: number;
  readonly mostMb: number;
}

/** Packs a problem in a process of its own and asks for the most memory it ever had in use. */
export function footprintOf(file: ProblemFile, threads: number, seconds: number, entry: URL): FootprintRow {
  const run = spawnSync(
    process.execPath,
    ['--import', 'tsx', fileURLToPath(import.meta.url), `${threads}`, `${seconds}`, entry.href],
    { input: JSON.stringify(file), encoding: 'utf8', maxBuffer: 2 ** 26 },
  );
  if (run.status !== 0) throw new Error(`the process that was to pack ${file.name} failed: ${run.stderr}`);
  return JSON.parse(run.stdout);
}

async function measureHere(threads: number, seconds: number, entry: URL): Promise<FootprintRow> {
  const chunks: Buffer[] = [];
  for await (const chunk of process.stdin) chunks.push(chunk);
  const file = problemFileSchema.parse(JSON.parse(Buffer.concat(chunks).toString('utf8')));
  const pool = new Pool({ threads, entry });
  const mostMb = () => process.resourceUsage().maxRSS / 1024;
  const beforeMb = mostMb();
  const { layout } = await pool.solve(toProblem(file), { seed: 1, maxMs: 1_000 * seconds });
  const pieces = layout.placements.length + layout.unplaced.length;
  const row = { problem: file.name, pieces, threads, seconds, beforeMb, mostMb: mostMb() };
  await pool.close();
  return row;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [threads, seconds, entry] = process.argv.slice(2);
  console.log(JSON.stringify(await measureHere(Number(threads), Number(seconds), new URL(entry!))));
}
