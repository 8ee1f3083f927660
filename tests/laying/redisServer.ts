import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { connect, createServer } from 'node:net';
import { afterTest, temporaryFolder, until } from '../server/harness.ts';

/** Tests of a shared queue need a real Redis; where there is none they are left out, and this says so. */
export const hasRedis = spawnSync('redis-server', ['--version']).status === 0;
if (!hasRedis) console.warn('redis-server is not installed: tests of lays shared over Redis are left out');

/** A Redis of the test's own, that keeps nothing on the disk. */
export class RedisServer {
  readonly port: number;
  #process: ChildProcess | undefined;

  private constructor(port: number) {
    this.port = port;
  }

  static async start(): Promise<RedisServer> {
    const server = new RedisServer(await freePort());
    afterTest(() => server.kill());
    await server.run();
    return server;
  }

  get url(): string {
    return `redis://127.0.0.1:${this.port}`;
  }

  /** Starts it (again), empty. */
  async run(): Promise<void> {
    const place = ['--port', String(this.port), '--bind', '127.0.0.1', '--dir', temporaryFolder()];
    this.#process = spawn('redis-server', [...place, '--save', '', '--appendonly', 'no'], {
      stdio: 'ignore',
    });
    await until(() => isOpen(this.port));
  }

  /** Ends it at once, and with it all it holds. */
  async kill(): Promise<void> {
    const child = this.#process;
    this.#process = undefined;
    if (child === undefined || child.exitCode !== null) return;
    const ended = once(child, 'exit');
    child.kill('SIGKILL');
    await ended;
  }

  /** Stops it from answering without closing a connection, as a network that swallows everything would. */
  freeze(): void {
    this.#process?.kill('SIGSTOP');
  }

  thaw(): void {
    this.#process?.kill('SIGCONT');
  }
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
}

function isOpen(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1');
    socket.once('connect', () => resolve(true));
    socket.once('error', () => resolve(false));
    socket.once('close', () => socket.destroy());
    socket.once('connect', () => socket.end());
  });
}
