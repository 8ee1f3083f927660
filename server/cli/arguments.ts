import { parseArgs } from 'node:util';
import { SPREADS, type Spread } from '../../pattern/exchange/project.ts';
import type { ShownUnits } from '../../pattern/units/index.ts';

export const USAGE = `clothlay lays pattern pieces on cloth.

  clothlay lay PROJECT.json [--out FOLDER] [options]    lay every material, write plans and tables
  clothlay check PROJECT.json [options]                 tell whether everything fits

PROJECT.json is a project file as saved by the page; "-" reads it from standard input.

  --out FOLDER      where "lay" writes its files; made if missing. Without it, nothing is written
  --seconds N       how long to look, for each cloth and spread (10 for lay, 5 for check; at most 600)
  --material ID     only this material; may be given several times
  --spread HOW      single, folded, sequence, partial, middle, crosswise, turned or compare
                    instead of what the project says
  --page PAPER      a4 or letter, for the plan (a4)
  --units UNIT      cm, mm or in instead of the project's own
  --seed N          another number, another search (1)
  --threads N       searches at the same time (as many as the machine has processors)
  --json            print the result as JSON
  --help

Exit code: 0 everything fits, 1 it is proved that something cannot fit, 2 no place was found for something,
3 an error (no such file, a faulty project, a material without cloth).
`;

export interface Arguments {
  readonly command: 'lay' | 'check';
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
}

/** A command line that can't be followed; the message says why. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** Reads the words after the program's name; null where help is asked for. Throws a UsageError. */
export function readArguments(words: readonly string[]): Arguments | null {
  const { values, positionals } = parsed(words);
  if (values.help) return null;
  const [command, file, ...more] = positionals;
  if (command === undefined) throw new UsageError('What is to be done? Say "lay" or "check".');
  if (command !== 'lay' && command !== 'check') {
    throw new UsageError(`There is no command "${command}": there are "lay" and "check".`);
  }
  if (file === undefined) throw new UsageError('Name a project file.');
  if (more.length > 0) throw new UsageError(`One project file at a time, not also "${more[0]}".`);
  if (command === 'check' && values.out !== undefined) {
    throw new UsageError('"check" writes no files: --out goes with "lay".');
  }
  return {
    command,
    file,
    out: values.out,
    seconds: number('seconds', values.seconds, command === 'lay' ? 10 : 5, 0.1, 600),
    materials: values.material ?? [],
    spread: choice('spread', values.spread, [...SPREADS, 'compare']),
    page: choice('page', values.page, ['a4', 'letter']) ?? 'a4',
    units: choice('units', values.units, ['cm', 'mm', 'in']),
    seed: whole('seed', values.seed, 1, 0, 2 ** 31 - 1),
    threads: values.threads === undefined ? undefined : whole('threads', values.threads, 1, 1, 64),
    json: values.json ?? false,
  };
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
        json: { type: 'boolean' },
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
