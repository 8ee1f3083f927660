import type { Express } from 'express';
import { describe, expect, it } from 'vitest';
import { singleLayer } from '../plan/sampleLays.ts';
import { type ApiDocument as Document, validatorOf } from './apiDocument.ts';
import { type Answer, sampleProgress, sampleProject, startServer, until } from './harness.ts';

/** What the router really answers to: the application is asked, not the list it was made from. */
function routesOf(app: Express): string[] {
  return app.router.stack.flatMap(({ route }) => {
    if (route === undefined) return [];
    const methods = new Set(route.stack.map(({ method }) => method).filter((method) => method !== undefined));
    return [...methods].map((method) => `${method} ${route.path.replaceAll(/:(\w+)/g, '{$1}')}`);
  });
}

/** A lay with pieces on it, for the sample project's cloth. */
function placedProgress() {
  const { lay } = singleLayer();
  return { notices: [], results: [{ ...lay, clothId: 'roll', materialId: 'main' }] };
}

const CELL = {
  materialId: 'canvas',
  size: 'as drawn',
  widthMm: 900,
  nap: 'none',
  spread: 'single',
  verdict: 'fits',
  usedMm: 1234,
  buyMm: 1300,
  piecesToTrace: 3,
  costCents: null,
};

describe('the API document', () => {
  it('names exactly the routes there are', async () => {
    const { send, app } = await startServer();
    const { body } = await send<Document>('GET', '/api/openapi.json');
    const documented = Object.entries(body.paths).flatMap(([path, operations]) =>
      Object.keys(operations).map((method) => `${method} ${path}`),
    );
    expect(documented.sort()).toEqual(routesOf(app).sort());
    expect(documented).toContain('get /api/lays/{id}/layout.svg');
    expect(documented).toHaveLength(56);
  });

  it('is OpenAPI 3.1 with unique operations, named parameters and no loose reference', async () => {
    const { send } = await startServer({ version: '1.2.3' });
    const { body, headers } = await send<Document & { info: object }>('GET', '/api/openapi.json');
    expect(headers.get('content-type')).toBe('application/json; charset=utf-8');
    expect(body.openapi).toMatch(/^3\.1\.\d$/);
    expect(body.info).toMatchObject({ title: 'clothlay', version: '1.2.3' });
    const operations = Object.values(body.paths).flatMap((methods) => Object.values(methods));
    const ids = operations.map(({ operationId }) => operationId);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [path, methods] of Object.entries(body.paths)) {
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
      for (const { parameters = [] } of Object.values(methods)) {
        const named = parameters.filter((parameter) => parameter.in === 'path');
        expect(named.map(({ name }) => name)).toEqual(inPath);
        expect(named.every(({ required }) => required)).toBe(true);
      }
    }
    const text = JSON.stringify(body);
    const references = [...text.matchAll(/"\$ref":"([^"]+)"/g)].map(([, target]) => target!);
    const names = Object.keys(body.components.schemas).map((name) => `#/components/schemas/${name}`);
    expect(new Set(references)).toEqual(new Set(names));
    expect(text).not.toContain('"readOnly"');
  });

  it('lets requests leave out what has a default, and promises it in answers', async () => {
    const { send } = await startServer();
    const { body } = await send<Document>('GET', '/api/openapi.json');
    const validate = validatorOf(body);
    const sent = validate({ $ref: '#/components/schemas/ProjectCreateSent' });
    const got = validate({ $ref: '#/components/schemas/Project' });
    const bare = { format: 'clothlay-project', version: 2, name: 'Bare' };
    expect(sent({ project: bare })).toBe(true);
    expect(got(bare)).toBe(false);
    expect(got(sampleProject())).toBe(true);
    expect(sent({ project: { ...bare, version: 1 } })).toBe(false);
  });

  it('is kept by real answers, one of each operation and of many problems', async () => {
    const { send, engine } = await startServer();
    const { body: document } = await send<Document>('GET', '/api/openapi.json');
    const validate = validatorOf(document);
    const seen = new Set<string>();

    const check = async <Body>(
      method: string,
      path: string,
      values: Record<string, string> = {},
      sent?: unknown,
      query = '',
      headers: Record<string, string> = {},
    ): Promise<Answer<Body>> => {
      const address = path.replaceAll(/\{(\w+)\}/g, (_, name) => values[name]!);
      const answer = await send<Body>(method.toUpperCase(), address + query, sent, headers);
      const where = `${method} ${path} ${answer.status}`;
      const documented = document.paths[path]?.[method]?.responses[answer.status];
      expect(documented, where).toBeDefined();
      for (const name of Object.keys(documented!.headers ?? {})) {
        expect(answer.headers.get(name), `${where} ${name}`).not.toBeNull();
      }
      const mediaType = answer.headers.get('content-type')?.split(';')[0];
      expect(Object.keys(documented!.content ?? {}), where).toEqual(
        mediaType === undefined ? [] : [mediaType],
      );
      if (mediaType !== undefined) {
        const isValid = validate(documented!.content![mediaType]!.schema);
        expect(isValid(answer.body), `${where}: ${JSON.stringify(isValid.errors)}`).toBe(true);
      }
      seen.add(where);
      return answer;
    };

    await check('get', '/api/session');
    await check('post', '/api/session', {}, { secret: 'anything' });
    await check('post', '/api/session', {}, {});
    await check('delete', '/api/session');
    const project = sampleProject();
    const created = await check<{ id: string }>('post', '/api/projects', {}, { project });
    const { id } = created.body;
    await check('post', '/api/projects', {}, { project: {} });
    await check('get', '/api/projects');
    await check('get', '/api/projects/{id}', { id });
    await check('get', '/api/projects/{id}', { id: 'nowhere' });
    const changed = { ...project, name: 'Changed' };
    await check('put', '/api/projects/{id}', { id }, { revision: 1, project: changed });
    await check('put', '/api/projects/{id}', { id }, { revision: 1, project });
    await check('get', '/api/projects/{id}/revisions', { id });
    await check('get', '/api/projects/{id}/revisions/{revision}', { id, revision: '1' });
    await check('get', '/api/projects/{id}/revisions/{revision}', { id, revision: '9' });
    for (const file of [
      'pieces.pdf',
      'pieces.dxf',
      'cutlist.csv',
      'cutlist.json',
      'labels.pdf',
      'ticks.pdf',
      'pieces-projector.pdf',
      'shopping.pdf',
      'shopping.csv',
      'shopping.json',
    ]) {
      await check('get', `/api/projects/{id}/${file}`, { id });
      await check('get', `/api/projects/{id}/${file}`, { id: 'nowhere' });
    }
    const sample = singleLayer();
    const plan = { id: 'now.canvas', name: 'Canvas', createdAt: '', madeFrom: '', results: [sample.lay] };
    const laidOut = { ...sample.project, plans: [plan] };
    const held = await check<{ id: string }>('post', '/api/projects', {}, { project: laidOut });
    for (const file of [
      'plan.pdf',
      'full.pdf',
      'projector.pdf',
      'layout.dxf',
      'positions.csv',
      'positions.json',
      'consumption.csv',
      'consumption.json',
      'cutting.csv',
      'cutting.json',
    ]) {
      await check('get', `/api/projects/{id}/${file}`, { id: held.body.id });
      await check('get', `/api/projects/{id}/${file}`, { id });
    }
    await check('get', '/api/projects/{id}/labels.pdf', { id }, undefined, '?rows=90');
    await check('get', '/api/projects/{id}/pieces.pdf', { id }, undefined, '?page=foolscap');
    const table = { request: { widthsMm: [900] }, madeFrom: 'x', cells: [CELL] };
    const named = { project: 'Table', materials: [{ id: 'canvas', name: 'Canvas' }] };
    for (const ending of ['pdf', 'csv']) {
      await check('post', `/api/tables/${ending}`, {}, { ...named, table });
      await check('post', `/api/tables/${ending}`, {}, { ...named, table: { ...table, cells: 'none' } });
    }
    await check('post', '/api/tables/pdf', {}, { ...named, table: { ...table, cells: [] } });
    await check('delete', '/api/projects/{id}', { id });
    await check('delete', '/api/projects/{id}', { id });
    await check('get', '/api/bin');
    await check('post', '/api/bin/{id}/restore', { id });
    const outline = [
      [0, 0],
      [300, 0],
      [300, 200],
    ];
    const cloth = { kind: 'remnant', id: 'r', name: 'Olive', materialId: 'shelf', outline };
    await check('get', '/api/shelf');
    await check('post', '/api/shelf/changes', {}, { kind: 'put', items: [{ id: 'r', cloth }] });
    await check('get', '/api/shelf');
    await check('post', '/api/shelf/changes', {}, { kind: 'remove', ids: ['gone'] });
    await check('post', '/api/shelf/changes', {}, { kind: 'remove' });
    await check('post', '/api/shelf/changes/{number}/undo', { number: '1' });
    await check('post', '/api/shelf/changes/{number}/undo', { number: '1' });
    await check('post', '/api/shelf/changes/{number}/undo', { number: '7' });
    await check('post', '/api/bin/{id}/restore', { id });
    await check('get', '/api/backup');
    const lines = [
      '{"kind":"head","format":"clothlay-backup","version":1,"madeAt":"2026-11-25T10:00:00.000Z"}',
    ];
    const file = { 'content-type': 'application/gzip' };
    await check('post', '/api/backup/restore', {}, lines.join('\n'), '', file);
    lines.push('{"kind":"end","lines":0}', '');
    await check('post', '/api/backup/restore', {}, lines.join('\n'), '', file);
    await check('post', '/api/backup/restore', {}, {});

    const lay = (await check<{ id: string }>('post', '/api/lays', {}, { project })).body;
    await check('post', '/api/lays', {}, { project, seconds: -1 });
    const run = await engine.started(0);
    await check('get', '/api/lays/{id}/layout.svg', lay);
    run.report({
      ...sampleProgress(700),
      notices: [{ level: 'warning', code: 'unpaired', text: 'A hand is missing.', pieceId: 'side' }],
    });
    await check('get', '/api/lays/{id}', lay);
    await check('get', '/api/lays/{id}/layout.svg', lay);
    await check('get', '/api/lays/{id}/layout.svg', lay, undefined, '?spread=none');
    for (const [name, endings] of [
      ['plan', ['pdf']],
      ['layout', ['dxf']],
      ['positions', ['csv', 'json']],
      ['consumption', ['csv', 'json']],
      ['cutting', ['csv', 'json']],
    ] as const) {
      for (const ending of endings) {
        await check('get', `/api/lays/{id}/${name}.${ending}`, lay);
        await check('get', `/api/lays/{id}/${name}.${ending}`, lay, undefined, '?cloth=other');
      }
    }
    // The pieces' places don't matter here, only that there are some.
    run.report(placedProgress());
    await check('get', '/api/lays/{id}/full.pdf', lay);
    await check('get', '/api/lays/{id}/projector.pdf', lay);
    await check('get', '/api/lays/{id}/full.pdf', lay, undefined, '?margin=120');
    await check('delete', '/api/lays/{id}', lay);
    const events = await check<string>('get', '/api/lays/{id}/events', lay);
    const message = JSON.parse(/^data: (.*)$/m.exec(events.body)![1]!);
    const isState = validate({ $ref: '#/components/schemas/LayState' });
    expect(isState(message), JSON.stringify(isState.errors)).toBe(true);
    await until(async () => (await check('get', '/api/health')).status === 200);
    await check('get', '/api/openapi.json');

    const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method} ${path}`),
    );
    const answeredWell = [...seen]
      .filter((where) => / 2\d\d$/.test(where))
      .map((where) => where.slice(0, -4));
    expect(new Set(answeredWell)).toEqual(new Set(operations));
  });
});
