import { embeddedEngine } from '../laying/engine.ts';
import { withoutPassword } from '../laying/shared/connection.ts';
import { LayWorker } from '../laying/shared/layWorker.ts';
import { programVersion } from '../version.ts';

export interface WorkOptions {
  readonly redis: string;
  readonly threads: number;
  /** Lays at the same time. */
  readonly places: number;
}

/**
 * Works on lays of servers that share a Redis until `signal` aborts; what is under way then is handed back. What
 * happens is told through `tell`, without anything of the projects.
 */
export async function work(
  { redis, threads, places }: WorkOptions,
  tell: (line: string) => void,
  signal: AbortSignal,
): Promise<void> {
  const engine = embeddedEngine(threads, places);
  const address = withoutPassword(redis);
  const worker = new LayWorker({
    url: redis,
    version: programVersion(),
    places,
    runLay: engine.run,
    onReady: () => tell(`clothlay works on up to ${places} lays at once from ${address}\n`),
    onFault: (error) => tell(`${address}: ${sayFault(error)}\n`),
  });
  await new Promise<void>((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', () => resolve(), { once: true });
  });
  await worker.close();
  await engine.close();
}

/** Faults of the connection in words; of others the name alone, as the rest may quote a project. */
function sayFault(error: Error): string {
  const { code } = error as NodeJS.ErrnoException;
  if (typeof code === 'string' && /^E[A-Z_]+$/.test(code))
    return `Redis can't be reached (${code}); tried again until it can`;
  if (/^(WRONGPASS|NOAUTH|NOPERM)/.test(error.message))
    return 'Redis wants another user or password (REDIS_URL)';
  return `a lay failed (${error.name})`;
}
