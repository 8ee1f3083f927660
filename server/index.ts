import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { demoProject } from '../pattern/demo/demoProject.ts';
import { createApp } from './app.ts';
import { type Certificate, readCertificate } from './certificate.ts';
import { FileCrew } from './files/fileCrew.ts';
import type { Access } from './http/access.ts';
import { stackFrames } from './http/errors.ts';
import { jsonLinesLog } from './http/log.ts';
import { randomSecret, Sessions } from './http/sessions.ts';
import { type Engine, embeddedEngine } from './laying/engine.ts';
import { LAY_LIMITS, Lays } from './lays.ts';
import { type Listening, listen } from './listen.ts';
import { readSettings, type Settings } from './settings.ts';
import { ProjectStore } from './storage/projectStore.ts';
import { StorageFault, storageFacts } from './storage/storageFault.ts';
import { isBuilt, programVersion } from './version.ts';

/** Open requests get so long to end when the server stops, and all of stopping takes at most so long. */
const GRACE_MS = 3_000;
const STOP_MS = 8_000;

/** Files are made one at a time, before searches and behind answers. */
const FILES = { threads: 1, waiting: 60, waitingOfClient: 6, maxMs: 60_000, memoryMb: 768, niceness: 3 };

// A reader of our output that goes away (a closed pipe) is no reason to stop serving.
for (const stream of [process.stdout, process.stderr]) stream.on('error', () => {});
const settings = settingsOrFail();
const log = jsonLinesLog(
  (line) => process.stderr.write(line),
  () => new Date(),
  settings.logLevel,
);
await main();

async function main(): Promise<void> {
  const tls = certificateOrFail(settings);
  const store = new ProjectStore({ file: settings.file });
  openStore(store);
  const fileCrew = new FileCrew(FILES);
  let wake = (): void => {};
  const engine = await engineOf(settings, () => wake());
  const lays = new Lays({
    runLay: engine.run,
    ...(engine.places === undefined ? {} : { places: engine.places }),
    onFault: (error) => logFault('layFault', error),
  });
  wake = () => lays.placesChanged();
  const clientDir = builtClient();
  const access = accessOf(settings);
  const app = createApp({
    store,
    lays,
    makeFile: fileCrew.make,
    ...(clientDir === undefined ? {} : { clientDir }),
    log,
    version: programVersion(),
    hosts: settings.hosts,
    behindProxy: settings.behindProxy,
    ...(access === undefined ? {} : { access }),
  });
  let listening: Listening;
  try {
    listening = await listen({ app, port: settings.port, host: settings.host, tls });
  } catch (error) {
    await Promise.all([engine.close(), fileCrew.close()]);
    store.close();
    fail(whyNotListening(error as NodeJS.ErrnoException, settings));
  }
  // After the sign a browser sends nothing: the key reaches the page and no log on the way.
  const key = settings.door.kind === 'printed' ? `/#key=${access?.secret}` : '';
  process.stdout.write(`clothlay is at ${listening.url}${key}\n`);
  log('info', 'listening', { threads: settings.threads, page: clientDir !== undefined });

  let isStopping = false;
  const stop = (reason: string, exitCode: number): void => {
    if (isStopping) process.exit(1);
    isStopping = true;
    log('info', 'stopping', { reason });
    setTimeout(() => process.exit(1), STOP_MS).unref();
    void stopAll(listening, lays, [engine, fileCrew], store).finally(() => process.exit(exitCode));
  };
  process.on('SIGTERM', () => stop('SIGTERM', 0));
  process.on('SIGINT', () => stop('SIGINT', 0));
  process.on('uncaughtException', (error) => {
    logFault('uncaught', error);
    stop('uncaughtException', 1);
  });
}

/**
 * Lays are worked out by this process, or by machines that share a Redis: what that takes is loaded only then.
 * @param onChange told when more or fewer lays can be worked out elsewhere
 */
async function engineOf({ threads, redis }: Settings, onChange: () => void): Promise<Engine> {
  if (redis === undefined) return embeddedEngine(threads, LAY_LIMITS.running);
  const { SharedLays } = await import('./laying/shared/sharedLays.ts');
  let wasReachable: boolean | undefined;
  const shared = new SharedLays({
    url: redis,
    version: programVersion(),
    onChange: () => {
      const isReachable = shared.isReachable();
      if (isReachable !== wasReachable)
        log(isReachable ? 'info' : 'error', isReachable ? 'redisReached' : 'redisUnreachable', {});
      wasReachable = isReachable;
      onChange();
    },
    onFault: (error) => logFault('redisFault', error),
  });
  return { run: shared.run, places: shared, close: () => shared.close() };
}

function accessOf({ door }: Settings): Access | undefined {
  if (door.kind === 'open') return undefined;
  const secret = door.kind === 'password' ? door.password : randomSecret();
  return { secret, sessions: new Sessions() };
}

function certificateOrFail({ tls }: Settings): Certificate | undefined {
  if (tls === undefined) return undefined;
  try {
    const certificate = readCertificate(tls);
    const { validUntil } = certificate;
    if (validUntil < new Date()) log('warn', 'certificateHasEnded', { validUntil: validUntil.toISOString() });
    return certificate;
  } catch (error) {
    fail((error as Error).message);
  }
}

function settingsOrFail(): Settings {
  try {
    return readSettings(process.env, process.stderr.isTTY);
  } catch (error) {
    fail((error as Error).message);
  }
}

/** Ends the lays (their listeners get the last state), then the connections, the threads and the store. */
async function stopAll(
  listening: Listening,
  lays: Lays,
  threads: readonly { close(): Promise<void> }[],
  store: ProjectStore,
): Promise<void> {
  await Promise.all([lays.close(), listening.stop(GRACE_MS)]);
  await Promise.all(threads.map((each) => each.close()));
  store.close();
}

/**
 * Opens the store, a new one with the demo in it. A store that can't be used is told and does not keep the server
 * from starting: lays work without it.
 */
function openStore(store: ProjectStore): void {
  try {
    if (store.isEmpty()) store.create(demoProject());
  } catch (error) {
    if (!(error instanceof StorageFault)) throw error;
    log('error', 'storage', storageFacts(error));
  }
}

function logFault(event: string, error: unknown): void {
  const name = error instanceof Error ? error.name : typeof error;
  log('error', event, { name, stack: error instanceof Error ? stackFrames(error) : [] });
}

function whyNotListening(error: NodeJS.ErrnoException, { port, host }: Settings): string {
  if (error.code === 'EADDRINUSE') {
    return `Port ${port} on ${host} is taken, perhaps by clothlay itself. Choose another with PORT=….`;
  }
  if (error.code === 'EACCES')
    return `Port ${port} may not be used by this user. Choose another with PORT=….`;
  return `Can't listen on ${host}, port ${port}: ${error.code ?? error.message}.`;
}

function fail(message: string): never {
  process.stderr.write(`${message}\n`);
  process.exit(1);
}

/** The built page, if there is one; the folder `client` of the sources is not it. */
function builtClient(): string | undefined {
  const folder = fileURLToPath(new URL(isBuilt() ? '../client' : '../dist/client', import.meta.url));
  return existsSync(`${folder}/index.html`) ? folder : undefined;
}
