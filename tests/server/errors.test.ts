import { describe, expect, it } from 'vitest';
import { problemDetailsSchema } from '../../pattern/exchange/lay.ts';
import { errorHandler } from '../../server/http/errors.ts';
import { BODY_LIMIT_BYTES } from '../../server/http/jsonBody.ts';
import { jsonLinesLog } from '../../server/http/log.ts';
import { type Answer, sampleProgress, sampleProject, startServer } from './harness.ts';

function expectProblem(answer: Answer<unknown>, status: number): Record<string, unknown> {
  expect(answer.status).toBe(status);
  expect(answer.headers.get('content-type')).toBe('application/problem+json; charset=utf-8');
  expect(problemDetailsSchema.parse(answer.body)).toMatchObject({ status });
  return answer.body as Record<string, unknown>;
}

describe('errors are problem details', () => {
  it('404 for an address the API does not have', async () => {
    const { send } = await startServer();
    expectProblem(await send('GET', '/api'), 404);
    expectProblem(await send('GET', '/api/nothing/here'), 404);
    expectProblem(await send('POST', '/api/nothing', {}), 404);
    expectProblem(await send('POST', '/anything', {}), 404);
  });

  it('405 with what is allowed for a method an address does not have', async () => {
    const { send } = await startServer();
    for (const [method, path, allow] of [
      ['PATCH', '/api/projects', 'GET, HEAD, OPTIONS, POST'],
      ['DELETE', '/api/projects', 'GET, HEAD, OPTIONS, POST'],
      ['POST', '/api/projects/x', 'DELETE, GET, HEAD, OPTIONS, PUT'],
      ['PUT', '/api/lays/x', 'DELETE, GET, HEAD, OPTIONS'],
      ['GET', '/api/lays', 'OPTIONS, POST'],
      ['GET', '/api/bin/x/restore', 'OPTIONS, POST'],
      ['POST', '/api/health', 'GET, HEAD, OPTIONS'],
    ]) {
      const answer = await send(method!, path!);
      expect(expectProblem(answer, 405).detail).toBe(`Allowed here: ${allow}.`);
      expect(answer.headers.get('allow')).toBe(allow);
    }
  });

  it('answers OPTIONS with what is allowed and opens nothing to other sites', async () => {
    const { send } = await startServer();
    const answer = await send('OPTIONS', '/api/projects', undefined, { origin: 'http://elsewhere.example' });
    expect(answer.status).toBe(204);
    expect(answer.headers.get('allow')).toBe('GET, HEAD, OPTIONS, POST');
    expect(answer.headers.get('access-control-allow-origin')).toBeNull();
  });

  it('answers HEAD like GET, without the body', async () => {
    const { send } = await startServer();
    const answer = await send('HEAD', '/api/projects');
    expect([answer.status, answer.body]).toEqual([200, '']);
    expect((await send('HEAD', '/api/projects/nowhere')).status).toBe(404);
  });

  it('400 with a path and a sentence for each fault', async () => {
    const { send, store } = await startServer();
    const project = sampleProject({
      cloths: [{ kind: 'roll', id: 'roll', name: 'Roll', materialId: 'main', widthMm: 1400 }],
    });
    const broken = {
      ...project,
      name: '',
      pieces: [{ ...project.pieces[0], outline: [[0, 0]] }],
      cloths: [{ ...project.cloths[0], widthMm: 0 }],
    };
    const body = expectProblem(await send('POST', '/api/projects', { project: broken }), 400);
    expect(body.type).toBe('urn:clothlay:problem:invalid-request');
    expect(body.detail).toBe('The body has 3 faults; see "faults".');
    const faults = problemDetailsSchema.parse(body).faults!;
    expect(faults.map(({ path }) => path)).toEqual([
      'project.name',
      'project.pieces.0.outline',
      'project.cloths.0.widthMm',
    ]);
    expect(faults[2]!.message).toBe('Cloth “Roll”, width: must be greater than zero.');
    expect(store.list()).toEqual([]);
  });

  it('400 for bodies of the wrong kind altogether', async () => {
    const { send } = await startServer();
    for (const body of ['[]', '{}', '{"project":null}', '{"project":[]}', '{"project":"x"}']) {
      expectProblem(await send('POST', '/api/projects', body), 400);
    }
    const project = sampleProject();
    expectProblem(await send('PUT', '/api/projects/x', { project }), 400);
    expectProblem(await send('PUT', '/api/projects/x', { project, revision: '1' }), 400);
    expectProblem(await send('POST', '/api/lays', { project, seconds: 0 }), 400);
    expectProblem(await send('POST', '/api/lays', { project, seconds: 1e9 }), 400);
  });

  it('400 for two pieces with one id, which could not be opened again', async () => {
    const { send, store } = await startServer();
    const [piece] = sampleProject().pieces;
    const project = sampleProject({ pieces: [piece, { ...piece, name: 'Other' }] });
    const { id } = store.create(sampleProject());
    for (const [method, path, body] of [
      ['POST', '/api/projects', { project }],
      ['PUT', `/api/projects/${id}`, { project, revision: 1 }],
      ['POST', '/api/lays', { project }],
    ] as const) {
      const answer = expectProblem(await send(method, path, body), 400);
      expect(answer.faults).toEqual([
        { path: 'project', message: expect.stringContaining('same id “side”') },
      ]);
    }
  });

  it('400 for a document of a version that is not known', async () => {
    const { send } = await startServer();
    const body = expectProblem(
      await send('POST', '/api/projects', { project: { ...sampleProject(), version: 99 } }),
      400,
    );
    expect(problemDetailsSchema.parse(body).faults).toMatchObject([{ path: 'project.version' }]);
  });

  it('400 for malformed JSON, an empty body and a bare value', async () => {
    const { send } = await startServer();
    const cases = [
      '{"project": ',
      'project',
      '{}}',
      'null',
      '"x"',
      '12',
      ' ',
      '',
      '{"a":1,}',
      '\u0000',
      '[1',
    ];
    for (const text of cases) {
      const body = expectProblem(await send('POST', '/api/projects', text), 400);
      expect(body.type).toBe('urn:clothlay:problem:malformed-json');
    }
  });

  it('400 for a body nested a million deep', async () => {
    const { send } = await startServer();
    const deep = '['.repeat(1_000_000);
    expectProblem(await send('POST', '/api/projects', deep), 400);
    expectProblem(await send('POST', '/api/projects', `${deep}${']'.repeat(1_000_000)}`), 400);
    expectProblem(await send('POST', '/api/projects', `{"project":${deep}${']'.repeat(1_000_000)}}`), 400);
  });

  it('400 for an address that can’t be decoded', async () => {
    const { send } = await startServer();
    expectProblem(await send('GET', '/api/projects/%E0%A4%A'), 400);
  });

  it('413 with the limit for a body too large, with a declared length or without', async () => {
    const { send, url } = await startServer();
    const project = sampleProject({ notes: 'n'.repeat(10_000) });
    const json = JSON.stringify({ project });
    const atTheLimit = `${json}${' '.repeat(BODY_LIMIT_BYTES - json.length)}`;
    expect((await send('POST', '/api/projects', atTheLimit)).status).toBe(201);
    const body = expectProblem(await send('POST', '/api/projects', `${atTheLimit} `), 413);
    expect(body.detail).toBe('A request may hold at most 8 MB.');

    const inChunks = new ReadableStream({
      start(controller) {
        for (let sent = 0; sent <= BODY_LIMIT_BYTES; sent += 65_536) {
          controller.enqueue(new Uint8Array(65_536).fill(0x20));
        }
        controller.close();
      },
    });
    const response = await fetch(`${url}/api/projects`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: inChunks,
      duplex: 'half',
    } as RequestInit);
    expect(response.status).toBe(413);
    expect((await send('GET', '/api/health')).status).toBe(200);
  });

  it('415 for what is not plain JSON', async () => {
    const { send } = await startServer();
    const text = JSON.stringify({ project: sampleProject() });
    for (const type of [
      'text/plain',
      'application/x-www-form-urlencoded',
      'multipart/form-data; boundary=x',
      'application/jsonp',
      'text/json, application/json',
      '',
    ]) {
      const answer = await send('POST', '/api/projects', text, { 'content-type': type });
      expectProblem(answer, 415);
      expect(answer.headers.get('accept-post')).toBe('application/json');
    }
    for (const headers of [
      { 'content-type': 'application/json; charset=latin1' },
      { 'content-encoding': 'gzip' },
      { 'content-encoding': 'none-such' },
    ]) {
      expectProblem(await send('POST', '/api/projects', text, headers as Record<string, string>), 415);
    }
    const accepted = await send('POST', '/api/projects', text, {
      'content-type': 'Application/JSON; charset=UTF-8',
    });
    expect(accepted.status).toBe(201);
  });
});

describe('a fault of ours', () => {
  it('is a 500 without its message or stack, and is logged with its stack alone', async () => {
    const lines: string[] = [];
    const { send, engine } = await startServer({
      log: jsonLinesLog(
        (line) => lines.push(line),
        () => new Date(0),
      ),
      makeFile: () => Promise.reject(new TypeError('secret: Handlebar pouch')),
    });
    const { body } = await send<{ id: string }>('POST', '/api/lays', { project: sampleProject() });
    const run = await engine.started(0);
    run.report(sampleProgress(700));
    const answer = await send('GET', `/api/lays/${body.id}/layout.svg`);
    expect(JSON.stringify(expectProblem(answer, 500))).not.toMatch(/secret|at .*\.ts/);
    const fault = lines.map((line) => JSON.parse(line)).find(({ event }) => event === 'fault');
    expect(fault).toMatchObject({ time: '1970-01-01T00:00:00.000Z', level: 'error', name: 'TypeError' });
    expect(fault.stack[0]).toMatch(/^at .*errors\.test\.ts/);
    expect(lines.join('')).not.toContain('Handlebar');
  });

  it('in the middle of an answer cuts the connection, so that half is not taken for whole', () => {
    let isDestroyed = false;
    const response = { headersSent: true, destroy: () => (isDestroyed = true) };
    const handle = errorHandler(() => {}) as (...parts: unknown[]) => void;
    handle(new Error('late'), {}, response, () => {});
    expect(isDestroyed).toBe(true);
  });
});

describe('the log', () => {
  it('leaves out what is below its level', () => {
    const lines: string[] = [];
    const log = jsonLinesLog(
      (line) => lines.push(line),
      () => new Date(0),
      'warn',
    );
    log('info', 'request');
    log('warn', 'slow');
    log('error', 'fault', { name: 'Error' });
    expect(lines.map((line) => JSON.parse(line).event)).toEqual(['slow', 'fault']);
  });

  it('has one JSON line a request: route, status and time, nothing the user typed', async () => {
    const lines: string[] = [];
    const { send } = await startServer({
      log: jsonLinesLog(
        (line) => lines.push(line),
        () => new Date(0),
      ),
    });
    const { body } = await send<{ id: string }>('POST', '/api/projects', { project: sampleProject() });
    await send('GET', `/api/projects/${body.id}`);
    await send('GET', '/api/secret-thing?q=secret');
    await send('POST', '/api/projects', { project: { ...sampleProject(), name: 42 } });
    const requests = lines.map((line) => JSON.parse(line)).filter(({ event }) => event === 'request');
    expect(requests.map(({ method, route, status }) => [method, route, status])).toEqual([
      ['POST', '/api/projects', 201],
      ['GET', '/api/projects/{id}', 200],
      ['GET', null, 404],
      ['POST', '/api/projects', 400],
    ]);
    for (const line of lines) {
      expect(line.endsWith('}\n')).toBe(true);
      expect(line).not.toMatch(/secret|Handlebar|olive/);
      expect(line).not.toContain(body.id);
    }
    expect(requests[0]).toMatchObject({ level: 'info', complete: true, ms: expect.any(Number) });
  });
});
