import { describe, expect, it } from 'vitest';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { FileCrew } from '../../server/files/fileCrew.ts';
import { LayCrew } from '../../server/laying/layCrew.ts';
import { afterTest, sampleProject, startServer, until } from './harness.ts';

const BROKEN = {
  died: new URL('./fixtures/dyingThread.ts', import.meta.url),
  outOfMemory: new URL('./fixtures/hungryThread.ts', import.meta.url),
  hanging: new URL('./fixtures/hangingThread.ts', import.meta.url),
};

/** A server whose lays and files are worked out by such threads, each job within `maxMs`. */
async function serverWith(entry: URL | undefined, maxMs = 60_000) {
  const limits = { memoryMb: 64, niceness: 0, threads: 1, ...(entry === undefined ? {} : { entry }) };
  const layCrew = new LayCrew({
    ...limits,
    solve: () => Promise.reject(new Error('no engine in this test')),
  });
  const files = new FileCrew({ ...limits, waiting: 4, waitingOfClient: 2, maxMs });
  const faults: unknown[] = [];
  const server = await startServer({
    lays: { runLay: layCrew.run, onFault: (error) => faults.push(error), limits: { runMs: maxMs } },
    makeFile: files.make,
  });
  afterTest(async () => {
    await Promise.all([layCrew.close(), files.close()]);
  });
  const { id } = server.store.create(sampleProject());
  return { ...server, files, faults, pdf: `/api/projects/${id}/pieces.pdf` };
}

async function layOn({ lays }: Awaited<ReturnType<typeof serverWith>>) {
  const added = lays.add(layRequestSchema.parse({ project: sampleProject() }));
  if (added.kind !== 'accepted') throw new Error(added.kind);
  const state = () => lays.get(added.id)!.state;
  await until(() => state().state !== 'running' && state().state !== 'queued');
  return state();
}

describe('threads that break', () => {
  it('twice over one job: it fails in words, and the server goes on', async () => {
    const server = await serverWith(BROKEN.died);
    const file = await server.send('GET', server.pdf);
    expect(file).toMatchObject({
      status: 503,
      body: { type: 'urn:clothlay:problem:file-broke-down', detail: expect.stringContaining('try again') },
    });
    expect(await layOn(server)).toMatchObject({
      state: 'failed',
      error: expect.stringContaining('broke down more than once'),
    });
    expect(server.faults).toHaveLength(1);
    expect((await server.send('GET', '/api/health')).body).toMatchObject({ status: 'ok' });
  });

  it('for want of memory: it is told what to do', async () => {
    const server = await serverWith(BROKEN.outOfMemory);
    expect(await server.send('GET', server.pdf)).toMatchObject({
      status: 422,
      body: { type: 'urn:clothlay:problem:file-too-much', detail: expect.stringContaining('memory') },
    });
    expect(await layOn(server)).toMatchObject({
      state: 'failed',
      error: expect.stringContaining('more memory'),
    });
    expect((await server.send('GET', '/api/health')).body).toMatchObject({ status: 'ok' });
  });

  it('by never coming to an end: a file is given up, a lay ends with what it has', async () => {
    const server = await serverWith(BROKEN.hanging, 300);
    expect(await server.send('GET', server.pdf)).toMatchObject({
      status: 422,
      body: { type: 'urn:clothlay:problem:file-too-much', detail: expect.stringContaining('time') },
    });
    expect(await layOn(server)).toMatchObject({ state: 'done', notices: [{ code: 'outOfTime' }] });
  });

  it('are not there at all in good times: the same file as made here, and problems as they are', async () => {
    const server = await serverWith(undefined);
    const answer = await server.send<string>('GET', server.pdf);
    expect(answer.status).toBe(200);
    expect(answer.body).toMatch(/^%PDF-1\.7/);
    const fault = await server.send('GET', `${server.pdf}?margin=150`);
    expect(fault).toMatchObject({ status: 422, body: { type: 'urn:clothlay:problem:cannot-be-made' } });
    expect((await server.send('GET', `${server.pdf}?piece=none`)).status).toBe(404);
  });

  it('whoever asks for too many files at once is asked to wait, others are not', async () => {
    const server = await serverWith(BROKEN.hanging);
    const input = { project: sampleProject(), query: {}, ending: 'csv' as const };
    const ask = (client: string) => server.files.make('cutList', input, { client, language: 'en' });
    const asked = [ask('a'), ask('a'), ask('a')];
    await expect(ask('a')).rejects.toMatchObject({ status: 429 });
    asked.push(ask('b'), ask('b'));
    await expect(ask('c')).rejects.toMatchObject({ status: 503 });
    const ended = Promise.allSettled(asked);
    await server.files.close();
    for (const one of await ended) expect(one.status).toBe('rejected');
  });
});
