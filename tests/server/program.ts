import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { afterTest, client } from './harness.ts';

const ENTRY = fileURLToPath(new URL('../../server/index.ts', import.meta.url));

export interface Started {
  readonly child: ChildProcess;
  readonly output: () => string;
  readonly errors: () => string;
  /** Exit code, or the signal that ended it. */
  readonly ended: Promise<number | string>;
}

/**
 * The real program in a process of its own.
 * @param through a command that goes before it and becomes it, with its arguments
 */
export function start(environment: Record<string, string>, through: readonly string[] = []): Started {
  const own = [process.execPath, '--import', 'tsx', ENTRY];
  const [command, ...words] = [...through, ...own];
  const child = spawn(command!, words, {
    env: { ...process.env, PORT: '0', HOST: '', ALLOWED_HOSTS: '', THREADS: '1', ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let [output, errors] = ['', ''];
  child.stdout.setEncoding('utf8').on('data', (text) => {
    output += text;
  });
  child.stderr.setEncoding('utf8').on('data', (text) => {
    errors += text;
  });
  const ended = once(child, 'close').then(([code, signal]) => (code ?? signal) as number | string);
  afterTest(async () => {
    child.kill('SIGKILL');
    await ended;
  });
  return { child, output: () => output, errors: () => errors, ended };
}

/** As `start`, once it has printed its address. */
export async function startListening(environment: Record<string, string>, through: readonly string[] = []) {
  const started = start(environment, through);
  const url = await new Promise<string>((resolve, reject) => {
    const look = (): void => {
      const match = /https?:\/\/\S+/.exec(started.output());
      if (match !== null) resolve(match[0]);
    };
    started.child.stdout!.on('data', look);
    void started.ended.then(() => reject(new Error(`ended before listening: ${started.errors()}`)));
  });
  return { ...started, url, ...client(url) };
}
