import { parseArgs } from 'node:util';
import { SPREADS, type Spread } from '../../pattern/exchange/project.ts';
import type { ShownUnits } from '../../pattern/units/index.ts';

export const USAGE = `clothlay lays pattern pieces on cloth.

  clothlay lay PROJECT.json [--out FOLDER] [options]    lay every material, write plans and tables
  clothlay check PROJECT.json [options]                 tell whether everything fits
  clothlay table PROJECT.json --widths LIST [options]   tell how much cloth other widths, naps and sizes take
  clothlay worker [--lays N] [--threads N]              work on the lays of servers that share the Redis at REDIS_URL

PROJECT.json is a project file as saved by the page; "-" reads it from standard input.

  --out FOLDER      where "lay" writes its files; made if missing. Without it, nothing is written
  --seconds N       how long to look, for each cloth and spread (10 for lay, 5 for check,
                    0.5 a figure for table; at most 600)
  --material ID     only this material; may be given several times
  --spread HOW      single, folded, sequence, partial, middle, crosswise, turned or compare
                    instead of what the project says
  --page PAPER      a4 or letter, for the plan (a4)
  --units UNIT      cm, mm or in instead of the project's own
  --seed N          another number, another search (1)
  --threads N       searches at the same time (as many as the machine has processors)
  --lays N          for "worker": lays at the same time (8)
  --json            print the result as JSON
  --help

For "table", which writes table.csv, table.pdf and table.json to --out, or the CSV to standard output:

  --widths LIST     widths with or without a unit, such as "90, 112, 45 in"
  --naps LIST       none, one-way (both)
  --spreads LIST    single, folded, sequence, crosswise, turned, middle, partial (single, folded)
  --sizes LIST      names with per cent, such as "S=92, M=100, L=108" or "Long=100x120" (across x along)
  --resume          goes on from table.json in --out, where the project is the same

Exit code: 0 everything fits, 1 it is proved that something cannot fit, 2 no place was found for something,
3 an error (no such file, a faulty project, a material without cloth). For "table" the worst of all figures; ways in
which a cloth may not be spread don't count.
`;

/** What "worker" is told. */
export interface WorkerArguments {
  readonly command: 'worker';
  readonly threads: number | undefined;
  readonly lays: number;
}

export interface Arguments {
  readonly command: 'lay' | 'check' | 'table';
  readonly file: string;
  readonly out: string | undefined;
  readonly seconds: number;
  readonly materials: readonly string[];
  readonly spread: Spread | 'compare' | undefined;
  readonly page: 'a4' | 'letter';
  readonly units: ShownUnits | undefined;
  readonly seed: number;
  readonly threads: number | undefined;
  readonly json: boolean;
  /** As typed; read with the project's units. */
  readonly table: {
    readonly widths: string;
    readonly naps: string | undefined;
    readonly spreads: string | undefined;
    readonly sizes: string | undefined;
    readonly resume: boolean;
  };
}

/** A command line that can't be followed; the message says why. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** Reads the words after the program's name; null where help is asked for. Throws a UsageError. */
export function readArguments(words: readonly string[]): Arguments | WorkerArguments | null {
  const { values, positionals } = parsed(words);
  if (values.help) return null;
  const [command, file, ...more] = positionals;
  if (command === undefined)
    throw new UsageError('What is to be done? Say "lay", "check", "table" or "worker".');
  if (command === 'worker') return workerArguments(values, file);
  if (command !== 'lay' && command !== 'check' && command !== 'table') {
    throw new UsageError(`There is no command "${command}": there are "lay", "check", "table" and "worker".`);
  }
  if (file === undefined) throw new UsageError('Name a project file.');
  if (values.lays !== undefined) throw new UsageError('--lays goes with "worker".');
  if (more.length > 0) throw new UsageError(`One project file at a time, not also "${more[0]}".`);
  if (command === 'check' && values.out !== undefined) {
    throw new UsageError('"check" writes no files: --out goes with "lay".');
  }
  const { widths, naps, spreads, sizes, resume = false } = values;
  if (
    command !== 'table' &&
    (widths ?? naps ?? spreads ?? sizes ?? (resume ? '' : undefined)) !== undefined
  ) {
    throw new UsageError('--widths, --naps, --spreads, --sizes and --resume go with "table".');
  }
  if (command === 'table' && widths === undefined) {
    throw new UsageError('"table" needs widths: --widths "90, 112, 140".');
  }
  if (resume && values.out === undefined)
    throw new UsageError('--resume needs the folder of the table: --out.');
  return {
    command,
    file,
    out: values.out,
    seconds: number('seconds', values.seconds, { lay: 10, check: 5, table: 0.5 }[command], 0.1, 600),
    materials: values.material ?? [],
    spread: choice('spread', values.spread, [...SPREADS, 'compare']),
    page: choice('page', values.page, ['a4', 'letter']) ?? 'a4',
    units: choice('units', values.units, ['cm', 'mm', 'in']),
    seed: whole('seed', values.seed, 1, 0, 2 ** 31 - 1),
    threads: threadsOf(values.threads),
    json: values.json ?? false,
    table: { widths: widths ?? '', naps, spreads, sizes, resume },
  };
}

function workerArguments(
  values: ReturnType<typeof parsed>['values'],
  file: string | undefined,
): WorkerArguments {
  if (file !== undefined)
    throw new UsageError('"worker" takes no project file: lays come from the Redis at REDIS_URL.');
  const { lays, threads, ...others } = values;
  const [other] = Object.keys(others);
  if (other !== undefined) throw new UsageError(`--${other} does not go with "worker".`);
  return { command: 'worker', threads: threadsOf(threads), lays: whole('lays', lays, 8, 1, 64) };
}

function threadsOf(text: string | undefined): number | undefined {
  return text === undefined ? undefined : whole('threads', text, 1, 1, 64);
}

function parsed(words: readonly string[]) {
  try {
    return parseArgs({
      args: [...words],
      allowPositionals: true,
      options: {
        out: { type: 'string' },
        seconds: { type: 'string' },
        material: { type: 'string', multiple: true },
        spread: { type: 'string' },
        page: { type: 'string' },
        units: { type: 'string' },
        seed: { type: 'string' },
        threads: { type: 'string' },
        lays: { type: 'string' },
        json: { type: 'boolean' },
        widths: { type: 'string' },
        naps: { type: 'string' },
        spreads: { type: 'string' },
        sizes: { type: 'string' },
        resume: { type: 'boolean' },
        help: { type: 'boolean', short: 'h' },
      },
    });
  } catch (error) {
    throw new UsageError((error as Error).message);
  }
}

function number(name: string, text: string | undefined, preset: number, least: number, most: number): number {
  if (text === undefined) return preset;
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (value >= least && value <= most) return value;
  throw new UsageError(`--${name} takes a number from ${least} to ${most}, not "${text}".`);
}

function whole(name: string, text: string | undefined, preset: number, least: number, most: number): number {
  const value = number(name, text, preset, least, most);
  if (Number.isInteger(value)) return value;
  throw new UsageError(`--${name} takes a whole number, not "${text}".`);
}

function choice<Word extends string>(
  name: string,
  text: string | undefined,
  words: readonly Word[],
): Word | undefined {
  if (text === undefined) return undefined;
  const found = words.find((word) => word === text);
  if (found !== undefined) return found;
  throw new UsageError(`--${name} takes ${words.join(', ')}, not "${text}".`);
}
