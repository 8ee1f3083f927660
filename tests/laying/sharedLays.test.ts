import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { Redis } from 'ioredis';
import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { LayWorker } from '../../server/laying/shared/layWorker.ts';
import { SharedLays } from '../../server/laying/shared/sharedLays.ts';
import { Lays } from '../../server/lays.ts';
import { CrewError } from '../../server/threads/crewError.ts';
import { programVersion } from '../../server/version.ts';
import {
  afterTest,
  PuppetEngine,
  sampleProgress,
  sampleProject,
  startServer,
  until,
} from '../server/harness.ts';
import { hasRedis, RedisServer } from './redisServer.ts';

const VERSION = programVersion();

/** A server's side: the queue in front, and Redis behind it. */
function serverSide(url: string, version = VERSION) {
  const faults: unknown[] = [];
  const shared = new SharedLays({
    url,
    version,
    onChange: () => lays.placesChanged(),
    onFault: (error) => faults.push(error),
  });
  const lays = new Lays({ runLay: shared.run, places: shared, onFault: (error) => faults.push(error) });
  afterTest(async () => {
    await Promise.all([lays.close(), shared.close()]);
  });
  const add = async (client = 'somebody', change: Parameters<typeof request>[0] = {}): Promise<string> => {
    await until(() => shared.isReachable());
    const result = lays.add(request(change), client);
    if (result.kind !== 'accepted') throw new Error(result.kind);
    return result.id;
  };
  const state = (id: string) => lays.get(id)!.state;
  const codes = (id: string) => state(id).notices.map(({ code }) => code);
  return { shared, lays, add, state, codes, faults };
}

function request(change: object = {}) {
  return layRequestSchema.parse({ project: sampleProject(), ...change });
}

/** A machine that works, whose engine the test holds the strings of. */
function worker(url: string, places = 2, version = VERSION) {
  const engine = new PuppetEngine();
  const made = new LayWorker({ url, version, places, runLay: engine.runLay, onFault: () => {} });
  let isClosed = false;
  const close = async () => {
    if (!isClosed) await made.close();
    isClosed = true;
  };
  afterTest(close);
  return { engine, close };
}

const CLI = fileURLToPath(new URL('../../server/cli/index.ts', import.meta.url));

/** The real program on a machine of its own, as far as a process is one. */
async function workerProcess(url: string): Promise<ChildProcess> {
  const child = spawn(process.execPath, ['--import', 'tsx', CLI, 'worker', '--lays', '2', '--threads', '1'], {
    env: { ...process.env, REDIS_URL: url },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  afterTest(async () => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const ended = once(child, 'exit');
    child.kill('SIGKILL');
    await ended;
  });
  const [said] = (await once(child.stdout!, 'data')) as [Buffer];
  expect(said.toString()).toBe(`clothlay works on up to 2 lays at once from ${url}\n`);
  return child;
}

describe.skipIf(!hasRedis)('lays shared over Redis', { timeout: 90_000 }, () => {
  it('are worked out by another machine, which sends each better state and the last one', async () => {
    const redis = await RedisServer.start();
    const { add, state, lays } = serverSide(redis.url);
    const { engine } = worker(redis.url);
    const id = await add();
    const run = await engine.started(0);
    expect(state(id).state).toBe('running');
    run.report(sampleProgress(900));
    await until(() => state(id).results[0]?.usedMm === 900);
    run.report(sampleProgress(800));
    await until(() => state(id).results[0]?.usedMm === 800);
    run.resolve(sampleProgress(700));
    await until(() => state(id).state === 'done');
    expect(state(id)).toMatchObject({ ...sampleProgress(700), notices: [] });
    expect(lays.counts()).toEqual({ running: 0, waiting: 0, kept: 1 });
  });

  it('leave nothing of the project behind in Redis', async () => {
    const redis = await RedisServer.start();
    const { add, state } = serverSide(redis.url);
    const { engine } = worker(redis.url);
    const id = await add();
    const run = await engine.started(0);
    run.report(sampleProgress(900));
    await until(() => state(id).results.length > 0);
    run.resolve(sampleProgress(700));
    await until(() => state(id).state === 'done');
    const client = new Redis(redis.url);
    afterTest(() => client.disconnect());
    await until(async () => {
      const keys = await client.keys('*');
      return !keys.some(
        (key) => /:(progress|result):|:[0-9a-f-]{36}$/.test(key) && !key.includes(':worker:'),
      );
    });
  });

  it('wait for a machine, say so, and go to as many at once as there are places, in turn of clients', async () => {
    const redis = await RedisServer.start();
    const { add, state, codes, lays } = serverSide(redis.url);
    const ids = [await add('a'), await add('a'), await add('a'), await add('b')];
    expect(ids.map((id) => state(id).state)).toEqual(['queued', 'queued', 'queued', 'queued']);
    expect(codes(ids[0]!)).toEqual(['noWorker']);
    expect(lays.condition()).toMatch(/clothlay worker/);
    worker(redis.url, 2, 'another-version');
    const { engine } = worker(redis.url, 2);
    await engine.started(1);
    await until(() => ids.filter((id) => state(id).state === 'running').length === 2);
    // One place of the two for each client, however much one has asked for.
    expect(ids.map((id) => state(id).state)).toEqual(['running', 'queued', 'queued', 'running']);
    expect(codes(ids[0]!)).toEqual([]);
    expect(lays.condition()).toBe('ok');
  });

  it('that are cancelled end on the machine too', async () => {
    const redis = await RedisServer.start();
    const { add, state, lays } = serverSide(redis.url);
    const { engine } = worker(redis.url);
    const id = await add();
    const run = await engine.started(0);
    run.report(sampleProgress(900));
    await until(() => state(id).results.length > 0);
    expect(lays.cancel(id)?.state).toMatchObject({ state: 'cancelled', ...sampleProgress(900) });
    await until(() => run.signal.aborted);
    await until(() => lays.counts().running === 0);
    const next = await add();
    (await engine.started(1)).resolve(sampleProgress(500));
    await until(() => state(next).state === 'done');
  });

  it('that fail there say why here', async () => {
    const redis = await RedisServer.start();
    const { add, state, faults } = serverSide(redis.url);
    const { engine } = worker(redis.url);
    const [first, second] = [await add('a'), await add('b')];
    (await engine.started(0)).reject(new CrewError('outOfMemory'));
    (await engine.started(1)).reject(new TypeError('secret: Handlebar pouch'));
    await until(() => [first, second].every((id) => state(id).state === 'failed'));
    expect([first, second].map((id) => state(id).error).sort()).toEqual([
      expect.stringContaining('fault in the program'),
      expect.stringContaining('more memory'),
    ]);
    expect(faults).toHaveLength(2);
  });

  it('are handed back by a machine that is told to stop, and another goes on at once', async () => {
    const redis = await RedisServer.start();
    const { add, state, codes } = serverSide(redis.url);
    const first = worker(redis.url);
    const id = await add();
    (await first.engine.started(0)).report(sampleProgress(900));
    await until(() => state(id).results.length > 0);
    await first.close();
    expect(state(id).state).toBe('running');
    const second = worker(redis.url);
    (await second.engine.started(0)).resolve(sampleProgress(600));
    await until(() => state(id).state === 'done');
    expect(state(id).results).toEqual(sampleProgress(600).results);
    expect(codes(id)).toEqual(['begunAgain']);
  });

  it('are worked out by "clothlay worker", and taken up by another machine when one is killed', async () => {
    const redis = await RedisServer.start();
    const { add, state, codes } = serverSide(redis.url);
    const first = await workerProcess(redis.url);
    const id = await add('a', { project: demoProject(), seconds: 2 });
    await until(() => state(id).results.length > 0);
    first.kill('SIGKILL');
    await once(first, 'exit');
    const second = await workerProcess(redis.url);
    await until(() => state(id).state === 'done');
    expect(codes(id)).toContain('begunAgain');
    expect(state(id).results.map(({ verdict }) => verdict)).not.toContain('not found');
    const ended = once(second, 'exit');
    second.kill('SIGTERM');
    expect((await ended)[0]).toBe(0);
  });

  it('survive a Redis that dies and comes back empty: nothing is lost, and it is told meanwhile', async () => {
    const redis = await RedisServer.start();
    const { add, state, codes, lays } = serverSide(redis.url);
    const { engine } = worker(redis.url);
    const id = await add();
    (await engine.started(0)).report(sampleProgress(900));
    await until(() => state(id).results.length > 0);
    await redis.kill();
    await until(() => codes(id).includes('queueUnreachable'));
    expect(lays.add(request())).toEqual({ kind: 'unreachable' });
    expect(lays.condition()).toMatch(/can’t be reached/);
    expect(state(id)).toMatchObject({ state: 'running', results: sampleProgress(900).results });
    await redis.run();
    (await engine.started(1)).resolve(sampleProgress(600));
    await until(() => state(id).state === 'done');
    expect(state(id).results).toEqual(sampleProgress(600).results);
    expect(codes(id)).not.toContain('queueUnreachable');
    await until(() => lays.condition() === 'ok');
  });

  it('survive a Redis that stops answering for a while', async () => {
    const redis = await RedisServer.start();
    const { add, state, codes } = serverSide(redis.url);
    const { engine } = worker(redis.url);
    const id = await add();
    const run = await engine.started(0);
    redis.freeze();
    await until(() => codes(id).includes('queueUnreachable'));
    run.resolve(sampleProgress(600));
    redis.thaw();
    await until(() => state(id).state === 'done');
    expect(state(id).results).toEqual(sampleProgress(600).results);
  });

  it('are refused in words over HTTP while Redis is gone, and health says so', async () => {
    const { shared, lays } = serverSide('redis://127.0.0.1:1');
    const { send } = await startServer({ lays: { runLay: shared.run, places: shared } });
    const answer = await send('POST', '/api/lays', { project: sampleProject() });
    expect(answer).toMatchObject({
      status: 503,
      body: {
        type: 'urn:clothlay:problem:queue-unreachable',
        detail: expect.stringContaining('Projects are'),
      },
    });
    expect((await send('GET', '/api/health')).body).toMatchObject({
      status: 'degraded',
      storage: 'ok',
      engine: expect.stringContaining('Redis'),
    });
    expect((await send('POST', '/api/projects', { project: sampleProject() })).status).toBe(201);
    expect(lays.counts().running).toBe(0);
  });
});
