import { describe, expect, it } from 'vitest';
import type { LayState } from '../../pattern/exchange/lay.ts';
import { LIMITS } from '../../pattern/exchange/project.ts';
import { sampleProgress, sampleProject, startServer, until } from './harness.ts';

describe('lays over HTTP', () => {
  it('are accepted, read and finished', async () => {
    const { send, engine } = await startServer();
    const accepted = await send<{ id: string }>('POST', '/api/lays', {
      project: sampleProject(),
      seconds: 2,
    });
    expect(accepted.status).toBe(202);
    const address = `/api/lays/${accepted.body.id}`;
    expect(accepted.headers.get('location')).toBe(address);
    const run = await engine.started(0);
    run.report(sampleProgress(700));
    expect((await send('GET', address)).body).toMatchObject({ state: 'running', ...sampleProgress(700) });
    run.resolve(sampleProgress(650));
    await until(async () => (await send<LayState>('GET', address)).body.state === 'done');
  });

  it('are cancelled by the time the answer comes, though the engine is slow to let go', async () => {
    const { send, engine } = await startServer();
    engine.endsOnAbort = false;
    const { body } = await send<{ id: string }>('POST', '/api/lays', { project: sampleProject() });
    const run = await engine.started(0);
    run.report(sampleProgress(700));
    const cancelled = await send('DELETE', `/api/lays/${body.id}`);
    expect(cancelled).toMatchObject({ status: 200, body: { state: 'cancelled', ...sampleProgress(700) } });
    expect(run.signal.aborted).toBe(true);
    expect((await send('DELETE', `/api/lays/${body.id}`)).body).toEqual(cancelled.body);
    expect((await send('GET', `/api/lays/${body.id}`)).body).toEqual(cancelled.body);
  });

  it('that no one knows are 404, whatever is asked of them', async () => {
    const { send } = await startServer();
    for (const [method, path] of [
      ['GET', ''],
      ['DELETE', ''],
      ['GET', '/events'],
      ['GET', '/layout.svg'],
    ]) {
      const answer = await send(method!, `/api/lays/nowhere${path}`);
      expect(answer.status).toBe(404);
      expect(answer.headers.get('content-type')).toBe('application/problem+json; charset=utf-8');
    }
  });

  it('are refused when the queue is full, with a hint when to come again', async () => {
    const { send } = await startServer({ lays: { limits: { running: 1, waiting: 1 } } });
    const lay = { project: sampleProject() };
    expect((await send('POST', '/api/lays', lay)).status).toBe(202);
    expect((await send('POST', '/api/lays', lay)).status).toBe(202);
    const full = await send('POST', '/api/lays', lay);
    expect(full).toMatchObject({ status: 503, body: { type: 'urn:clothlay:problem:queue-full' } });
    expect(full.headers.get('retry-after')).toBe('10');
    expect(full.body.detail).toContain('at most 1');
  });

  it('are refused while the server shuts down', async () => {
    const { send, lays } = await startServer();
    await lays.close();
    const answer = await send('POST', '/api/lays', { project: sampleProject() });
    expect([answer.status, answer.body.detail]).toEqual([503, 'The server is shutting down.']);
  });

  it('state the limit when too many pieces are asked for', async () => {
    const { send } = await startServer();
    const outline = [
      [0, 0],
      [9, 0],
      [0, 9],
    ];
    const pieces = Array.from({ length: 10_000 }, (_, number) => ({
      id: `p${number}`,
      name: 'Tab',
      outline,
    }));
    const shapes = await send('POST', '/api/lays', { project: { ...sampleProject(), pieces } });
    expect(shapes).toMatchObject({
      status: 400,
      body: { faults: [{ path: 'project.pieces', message: expect.stringContaining(String(LIMITS.pieces)) }] },
    });
    const cutList = [
      { pieceId: 'side', materialId: 'main', plain: 6_000 },
      { pieceId: 'side', materialId: 'main', mirrored: 6_000 },
    ];
    const copies = await send('POST', '/api/lays', { project: { ...sampleProject(), cutList } });
    expect(copies).toMatchObject({
      status: 400,
      body: {
        faults: [
          {
            path: 'project.cutList',
            message: 'the cut list asks for 12000 pieces; one lay may hold at most 10000',
          },
        ],
      },
    });
  });
});

describe('the drawing of a lay', () => {
  async function withTwoSpreads() {
    const server = await startServer();
    const { body } = await server.send<{ id: string }>('POST', '/api/lays', { project: sampleProject() });
    const run = await server.engine.started(0);
    const path = `/api/lays/${body.id}/layout.svg`;
    expect((await server.send('GET', path)).body.detail).toBe('There is no layout for this cloth yet.');
    const folded = sampleProgress(400, 'folded');
    run.report({ notices: [], results: [...sampleProgress(700).results, ...folded.results] });
    return { ...server, path };
  }

  it('is found by cloth, material and spread', async () => {
    const { send, path } = await withTwoSpreads();
    const get = (query: string) => send<string>('GET', `${path}?${query}`);
    expect((await get('cloth=roll&material=main&spread=single')).body).toContain('cut 70 cm');
    expect((await get('cloth=roll&material=main&spread=folded')).body).toContain('cut 40 cm');
    expect((await get('spread=folded')).body).toContain('cut 40 cm');
    expect((await get('')).body).toContain('cut 70 cm');
    for (const query of ['cloth=other', 'material=lining', 'cloth=roll&material=lining']) {
      expect((await get(query)).status).toBe(404);
    }
    for (const query of ['spread=crumpled', 'cloth=a&cloth=b', 'download=yes']) {
      expect(await get(query)).toMatchObject({
        status: 400,
        body: { faults: [{ path: query.split('=')[0] }] },
      });
    }
  });

  it('is an SVG file that can run nothing', async () => {
    const { send, path } = await withTwoSpreads();
    const shown = await send('GET', path);
    expect(shown.headers.get('content-type')).toBe('image/svg+xml; charset=utf-8');
    expect(shown.headers.get('content-security-policy')).toBe(
      "default-src 'none'; frame-ancestors 'none'; sandbox",
    );
    expect(shown.headers.get('content-disposition')).toBe('inline; filename="lay-roll-single.svg"');
    const saved = await send('GET', `${path}?download=1`);
    expect(saved.headers.get('content-disposition')).toContain('attachment');
  });
});
