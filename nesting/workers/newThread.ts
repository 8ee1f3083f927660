import { type ResourceLimits, Worker } from 'node:worker_threads';

export interface ThreadLimits {
  /** How much less urgent than the process the thread is, in steps of nice(1), where the system knows that of threads. */
  readonly niceness?: number | undefined;
  /** The thread ends, with an error of its own, when what it holds grows beyond so much, MB. */
  readonly memoryMb?: number | undefined;
}

/** What a new thread finds in its `workerData`. */
export interface ThreadData {
  readonly entry: string;
  readonly niceness: number;
}

/** Starts a thread on a module: TypeScript while developing and testing, JavaScript once built. */
export function newThread(entry: URL, { niceness = 0, memoryMb }: ThreadLimits = {}): Worker {
  const workerData: ThreadData = { entry: entry.href, niceness };
  const resourceLimits: ResourceLimits = memoryMb === undefined ? {} : { maxOldGenerationSizeMb: memoryMb };
  const isSource = entry.pathname.endsWith('.ts');
  const module = isSource ? new URL('./typescriptThread.mjs', import.meta.url) : entry;
  return new Worker(module, { workerData, resourceLimits });
}

/** A module beside `here`, with the ending that `here` has itself. */
export function threadEntry(here: string, name: string): URL {
  return new URL(`./${name}${here.endsWith('.ts') ? '.ts' : '.js'}`, here);
}
