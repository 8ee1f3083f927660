import { threadEntry } from '../../nesting/workers/newThread.ts';
import type { Download } from '../http/download.ts';
import { Problem, type ProblemParts } from '../http/problem.ts';
import { Crew, type CrewParts } from '../threads/crew.ts';
import { CrewError, ErrandError } from '../threads/crewError.ts';
import type { MakeFile } from './makers.ts';

export interface FileCrewParts extends Omit<CrewParts, 'entry'> {
  /** Longest time for one file, ms. */
  readonly maxMs: number;
  /** What the threads run; tests hand in their own. */
  readonly entry?: URL;
}

/** Files are made in threads beside the main one; what goes wrong there is told as a problem. */
export class FileCrew {
  readonly #crew: Crew;
  readonly #maxMs: number;

  constructor({ maxMs, entry = threadEntry(import.meta.url, 'fileThread'), ...parts }: FileCrewParts) {
    this.#crew = new Crew({ entry, ...parts });
    this.#maxMs = maxMs;
  }

  readonly make: MakeFile = async (name, input, { client, language, signal }) => {
    try {
      const output = await this.#crew.run({
        input: { name, input, language },
        client,
        maxMs: this.#maxMs,
        signal,
      });
      return output as Download;
    } catch (error) {
      throw toProblem(error);
    }
  };

  close(): Promise<void> {
    return this.#crew.close();
  }
}

/** In the words of whoever waits for the file. */
function toProblem(error: unknown): unknown {
  if (error instanceof ErrandError && error.facts !== undefined)
    return new Problem(error.facts as ProblemParts);
  if (!(error instanceof CrewError)) return error;
  switch (error.code) {
    case 'full':
    case 'yoursFull':
      return new Problem({
        status: error.code === 'full' ? 503 : 429,
        kind: 'files-full',
        title: 'Too many files at once',
        detail: 'So many files are being made that this one finds no place. Try again in a moment.',
        headers: { 'Retry-After': '5' },
      });
    case 'outOfTime':
    case 'outOfMemory':
      return new Problem({
        status: 422,
        kind: 'file-too-much',
        title: 'Too much for one file',
        detail: `Making this file took more ${error.code === 'outOfTime' ? 'time' : 'memory'} than one may take. Ask for fewer pieces, or one cloth at a time.`,
      });
    case 'died':
      return new Problem({
        status: 503,
        kind: 'file-broke-down',
        title: 'The file was not made',
        detail:
          'The part of the program that makes files broke down twice over this one. Nothing that was stored is changed; try again.',
        headers: { 'Retry-After': '5' },
      });
    case 'stopped':
    case 'closed':
      return new Problem({ status: 503, detail: 'The server is shutting down.' });
  }
}
