import { setMaxListeners } from 'node:events';
import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { text } from 'node:stream/consumers';
import { Pool } from '../../nesting/workers/pool.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { openProject } from '../../pattern/exchange/openProject.ts';
import { type LayChoice, LIMITS, type Project } from '../../pattern/exchange/project.ts';
import { layProject } from '../../pattern/lay/layProject.ts';
import type { LayProgress } from '../../pattern/lay/runLay.ts';
import { clothName } from '../../pattern/output/index.ts';
import { formatLength, formatPurchase } from '../../pattern/units/index.ts';
import { redisUrl } from '../settings.ts';
import { type Arguments, readArguments, USAGE, UsageError, type WorkerArguments } from './arguments.ts';
import { InputError } from './inputError.ts';
import { makeTable } from './makeTable.ts';
import { EXIT, materialOutcomes, overall } from './verdict.ts';
import { writeFiles } from './writeFiles.ts';

/** Where a command reads and writes beside files. */
export interface Streams {
  readonly input: NodeJS.ReadableStream;
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
}

/**
 * Runs one command and gives its exit code. What was asked for goes to `out`, everything else to `error`. An aborted
 * `signal` ends the search early with what it has.
 */
export async function run(words: readonly string[], streams: Streams, signal: AbortSignal): Promise<number> {
  // Every search under way listens for the end, and a project of many cloths has more of them than Node finds usual.
  setMaxListeners(0, signal);
  let args: Arguments | WorkerArguments | null;
  try {
    args = readArguments(words);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    streams.error(`${error.message}\nclothlay --help tells more.\n`);
    return EXIT.error;
  }
  if (args === null) {
    streams.out(USAGE);
    return EXIT.fits;
  }
  try {
    if (args.command === 'worker') return await worker(args, streams, signal);
    const project = await readProject(args.file, streams);
    return args.command === 'table'
      ? await makeTable(project, args, streams, signal)
      : await lay(project, args, streams, signal);
  } catch (error) {
    const isOfFiles = error instanceof Error && 'code' in error && 'syscall' in error;
    if (!(error instanceof InputError) && !isOfFiles) throw error;
    streams.error(`${(error as Error).message}\n`);
    return EXIT.error;
  }
}

/** Works for servers elsewhere until it is told to stop; what that takes is loaded only now. */
async function worker(
  { threads = availableParallelism(), lays }: WorkerArguments,
  { out }: Streams,
  signal: AbortSignal,
): Promise<number> {
  const redis = settingOf(() => redisUrl(process.env));
  if (redis === undefined)
    throw new InputError('Say where the Redis is: REDIS_URL=redis://host:6379 clothlay worker');
  const { work } = await import('./work.ts');
  await work({ redis, threads, places: lays }, out, signal);
  return EXIT.fits;
}

/** A faulty setting is the user's, not ours. */
function settingOf<Value>(read: () => Value): Value {
  try {
    return read();
  } catch (error) {
    throw new InputError((error as Error).message);
  }
}

async function readProject(file: string, { input }: Streams): Promise<Project> {
  let content: string;
  try {
    content = file === '-' ? await text(input) : readFileSync(file, 'utf8');
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw new InputError(code === 'ENOENT' ? `There is no file ${file}.` : `${file} can't be read: ${code}.`);
  }
  const opened = openProject(content);
  if (!opened.ok) throw new InputError(opened.message);
  return opened.project;
}

function choicesFor(project: Project, { materials, spread }: Arguments): LayChoice[] {
  for (const id of materials) {
    if (project.materials.some((material) => material.id === id)) continue;
    const known = project.materials.map((material) => material.id).join(', ');
    throw new InputError(`The project has no material "${id}". It has: ${known}.`);
  }
  return project.materials
    .filter(({ id }) => materials.length === 0 || materials.includes(id))
    .map(({ id }): LayChoice => {
      const own = project.layChoices.find((choice) => choice.materialId === id);
      return {
        materialId: id,
        clothIds: own?.clothIds ?? [],
        spread: spread ?? own?.spread ?? 'single',
      };
    });
}

async function lay(
  project: Project,
  args: Arguments,
  streams: Streams,
  signal: AbortSignal,
): Promise<number> {
  const choices = choicesFor(project, args);
  if (choices.length === 0) throw new InputError('The project has no materials yet.');
  const copies = project.cutList.reduce((sum, row) => sum + row.plain + row.mirrored + row.onFold, 0);
  if (copies > LIMITS.copies) {
    throw new InputError(
      `The cut list asks for ${copies} pieces; one lay may hold at most ${LIMITS.copies}.`,
    );
  }
  const pool = new Pool(args.threads === undefined ? {} : { threads: args.threads });
  let progress: LayProgress;
  try {
    const request = layRequestSchema.parse({ project, choices, seconds: args.seconds, seed: args.seed });
    progress = await layProject(request, pool.solve, () => {}, signal);
  } finally {
    await pool.close();
  }
  const shown = {
    ...project,
    materials: project.materials.filter(({ id }) => choices.some((c) => c.materialId === id)),
  };
  const outcomes = materialOutcomes(shown, progress);
  const result = overall(outcomes);
  if (args.json) {
    streams.out(`${JSON.stringify({ verdict: result, materials: outcomes, ...progress })}\n`);
  } else {
    streams.out(inWords(project, progress, args));
    for (const { name, outcome, reasons } of outcomes) {
      streams.out(`${name}: ${outcome}${reasons.length > 0 ? `. ${reasons.join(' ')}` : ''}\n`);
    }
    for (const notice of progress.notices) {
      if (notice.level !== 'error') streams.error(`${notice.text}\n`);
    }
  }
  if (args.out !== undefined) {
    const names = await writeFiles(args.out, project, progress, args);
    streams.error(`${names.length} files written to ${args.out}\n`);
  }
  return EXIT[result];
}

/** A line for each cloth and spread: what it takes. */
function inWords(project: Project, { results }: LayProgress, args: Arguments): string {
  const units = args.units ?? project.units;
  return results
    .map((entry) => {
      const roll = project.cloths.find((cloth) => cloth.id === entry.clothId)?.kind === 'roll';
      const takes = roll
        ? `${formatLength(entry.usedMm, units)} cut, ${formatPurchase(entry.buyMm, units)} to buy, `
        : '';
      return `  ${clothName(entry, project)}: ${takes}${entry.usePercent.toFixed(1)} % used, ${entry.verdict}\n`;
    })
    .join('');
}
