import { readdirSync, readFileSync } from 'node:fs';
import { get, request as httpRequest } from 'node:http';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { StoredProject } from '../../pattern/exchange/lay.ts';
import { type HostRule, isOwnHost } from '../../server/http/security.ts';
import { sampleProject, startServer } from './harness.ts';

/** `fetch` sets these headers itself, so the test writes the request by hand. */
function rawStatus(
  port: number,
  method: string,
  path: string,
  headers: Record<string, string>,
  body?: string,
): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    const request = httpRequest(
      { host: '127.0.0.1', port, method, path, headers, setHost: false },
      (response) => {
        response.resume();
        response.on('end', () => resolve(response.statusCode));
      },
    );
    request.on('error', reject);
    request.end(body);
  });
}

describe('headers', () => {
  it('are on every answer, problems too', async () => {
    const { send } = await startServer();
    for (const path of ['/api/health', '/api/nothing', '/', '/x.js']) {
      const { headers } = await send('GET', path);
      const policy = headers.get('content-security-policy')!;
      expect(policy).toContain("default-src 'self'");
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).not.toMatch(/unsafe|\*/);
      expect(headers.get('x-content-type-options')).toBe('nosniff');
      expect(headers.get('referrer-policy')).toBe('no-referrer');
      expect(headers.get('cross-origin-opener-policy')).toBe('same-origin');
      expect(headers.get('cross-origin-resource-policy')).toBe('same-origin');
      expect(headers.get('x-frame-options')).toBe('DENY');
      expect(headers.get('x-powered-by')).toBeNull();
    }
  });

  it('keep states out of caches', async () => {
    const { send } = await startServer();
    expect((await send('GET', '/api/projects')).headers.get('cache-control')).toBe('no-store');
    expect((await send('GET', '/api/projects/x')).headers.get('cache-control')).toBe('no-store');
  });
});

describe('the host of a request', () => {
  const loopback: HostRule = { loopbackOnly: true, names: ['bags.example'] };
  const open: HostRule = { loopbackOnly: false, names: ['bags.example'] };

  it.each([
    ['localhost', true, true],
    ['LocalHost:4680', true, true],
    ['127.0.0.1:4680', true, true],
    ['127.1.2.3', true, true],
    ['[::1]:4680', true, true],
    ['bags.example:80', true, true],
    ['192.0.2.7:4680', false, true],
    ['[2001:db8::7]', false, true],
    ['evil.example', false, false],
    ['localhost.evil.example', false, false],
    ['127.0.0.1.evil.example', false, false],
    ['evil.example:127.0.0.1', false, false],
    ['user@localhost', false, false],
    ['localhost/..', false, false],
    ['', false, false],
    [undefined, false, false],
  ])('%s: on the loopback address %s, open %s', (host, onLoopback, onOpen) => {
    expect(isOwnHost(host, loopback)).toBe(onLoopback);
    expect(isOwnHost(host, open)).toBe(onOpen);
  });

  it('must be ours, or the answer is 421', async () => {
    const { port } = await startServer();
    expect(await rawStatus(port, 'GET', '/api/health', { host: 'localhost' })).toBe(200);
    expect(await rawStatus(port, 'GET', '/api/health', { host: 'rebound.example' })).toBe(421);
    expect(await rawStatus(port, 'GET', '/', { host: 'rebound.example' })).toBe(421);
  });
});

describe('writes', () => {
  it('are taken from our own page and from programs, not from other sites', async () => {
    const { port, store } = await startServer();
    const host = `127.0.0.1:${port}`;
    const body = JSON.stringify({ project: sampleProject() });
    const post = (headers: Record<string, string>) =>
      rawStatus(
        port,
        'POST',
        '/api/projects',
        { host, 'content-type': 'application/json', 'content-length': String(body.length), ...headers },
        body,
      );
    expect(await post({})).toBe(201);
    expect(await post({ origin: `http://${host}`, 'sec-fetch-site': 'same-origin' })).toBe(201);
    expect(await post({ origin: `https://${host}` })).toBe(201);
    // The page of a development server, which passes writes on under our name.
    expect(await post({ origin: 'http://localhost:4681', 'sec-fetch-site': 'same-origin' })).toBe(201);
    for (const headers of [
      { origin: 'http://evil.example' },
      { origin: `http://127.0.0.1:${port + 1}` },
      { origin: `http://localhost:${port}` },
      { origin: 'null' },
      { origin: '' },
      { origin: `http://${host}`, 'sec-fetch-site': 'cross-site' },
      { 'sec-fetch-site': 'same-site' },
    ]) {
      expect(await post(headers as Record<string, string>)).toBe(403);
    }
    expect(store.list()).toHaveLength(4);
    const [first] = store.list();
    const remove = (origin: string) =>
      rawStatus(port, 'DELETE', `/api/projects/${first!.id}`, { host, origin });
    expect(await remove('http://evil.example')).toBe(403);
    expect(await remove(`http://${host}`)).toBe(204);
  });

  it('can’t be made by reading', async () => {
    const { url, store } = await startServer();
    store.create(sampleProject());
    await new Promise((resolve) => get(`${url}/api/projects?_method=DELETE`, resolve).on('close', resolve));
    expect(store.list()).toHaveLength(1);
  });
});

describe('what is typed', () => {
  const HOSTILE = [
    `'); DROP TABLE projects; --`,
    `" OR 1=1 --`,
    '../../../../etc/passwd',
    '..\\..\\boot.ini',
    'con',
    '$(touch owned); `id` | sh',
    '<script>alert(1)</script><svg onload=alert(1)>',
    '{{7*7}} #{7*7} <%= 7*7 %>',
    'a\r\nSet-Cookie: x=y',
    '=cmd|"/c calc"!A1',
    '*)(uid=*))(|(uid=*',
  ];

  it('is text and nothing else: no command, path, statement, header or template', async () => {
    const { send, store } = await startServer();
    const ids: string[] = [];
    for (const text of HOSTILE) {
      const project = sampleProject({
        name: text,
        notes: text,
        materials: [{ id: 'main', name: text }],
      });
      const { status, body } = await send<StoredProject>('POST', '/api/projects', { project });
      expect(status).toBe(201);
      ids.push(body.id);
      expect((await send<StoredProject>('GET', `/api/projects/${body.id}`)).body.project).toEqual(project);
      // As an id and as a query it leads nowhere, and what is there stays.
      const address = `/api/projects/${encodeURIComponent(text)}`;
      expect([400, 404]).toContain((await send('GET', address)).status);
      expect([400, 404]).toContain((await send('DELETE', address)).status);
      const file = await send('GET', `/api/projects/${body.id}/pieces.dxf`);
      expect(file.status).toBe(200);
      expect(file.headers.get('set-cookie')).toBeNull();
      // Of its name only letters, digits and dots inside go into the file's.
      expect(file.headers.get('content-disposition')).toMatch(
        /^(inline|attachment); filename="[\w-][\w.-]*\.dxf"$/,
      );
    }
    expect(
      store
        .list()
        .map(({ id }) => id)
        .sort(),
    ).toEqual([...ids].sort());
    const listed = await send('GET', '/api/projects');
    expect(listed.headers.get('content-type')).toBe('application/json; charset=utf-8');
  });

  it('sets nothing but what a document has: further fields are dropped', async () => {
    const { send } = await startServer();
    const project = { ...sampleProject(), isAdmin: true, owner: 'me', __proto__: { polluted: true } };
    const sent = `{"revision":99,"id":"mine","updatedAt":"2000-01-01","project":${JSON.stringify(
      project,
    ).replace('{', '{"__proto__":{"polluted":true},"constructor":{"prototype":{"polluted":true}},')}}`;
    const { status, body } = await send<StoredProject>('POST', '/api/projects', sent);
    expect([201, 400]).toContain(status);
    if (status === 201) {
      expect(body).toMatchObject({ revision: 1, project: sampleProject() });
      expect(body.id).not.toBe('mine');
      expect(Object.keys(body.project).sort()).toEqual(Object.keys(sampleProject()).sort());
    }
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });

  it('is not taken twice: a query that says the same thing in two ways is refused', async () => {
    const { send, store } = await startServer();
    const { id } = store.create(sampleProject());
    const once = await send('GET', `/api/projects/${id}/pieces.pdf?page=a4`);
    expect(once.status).toBe(200);
    expect((await send('GET', `/api/projects/${id}/pieces.pdf?page=a4&page=a1`)).status).toBe(400);
  });
});

describe('the server’s own code', () => {
  const folder = fileURLToPath(new URL('../../server', import.meta.url));
  const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.startsWith('cli'))
    .map((name) => ({ name, text: readFileSync(join(folder, name), 'utf8') }));
  const where = (pattern: RegExp): string[] =>
    sources
      .filter(({ text }) => pattern.test(text))
      .map(({ name }) => name)
      .sort();

  it('runs no command, evaluates no text and asks no other server by an address it was given', () => {
    expect(sources.length).toBeGreaterThan(50);
    expect(where(/child_process|\beval\(|new Function|node:vm|\bimport\((?!'\.)/)).toEqual([]);
    expect(where(/\bfetch\(|\bhttps?\.(get|request)\(|node:(dgram|dns)/)).toEqual([]);
  });

  it('touches files in few places, none of which takes a name from a request', () => {
    // The page and its packed files, the certificate, the one data file, the fonts and the program's own version.
    expect(where(/from 'node:fs(\/promises)?'/)).toEqual([
      'certificate.ts',
      'http/packed.ts',
      'index.ts',
      'pdf/fonts.ts',
      'storage/database.ts',
      'version.ts',
    ]);
    expect(where(/\.sendFile\(|express\.static\(/)).toEqual(['routes/page.ts']);
  });

  it('puts values into statements by binding alone', () => {
    const inserted = sources
      .filter(({ name }) => name.startsWith('storage/'))
      .flatMap(({ text }) => text.split('\n'))
      .filter((line) => /\b(SELECT|INSERT|UPDATE|DELETE|FROM|WHERE|VALUES|PRAGMA|_version|_id)\b/.test(line))
      .flatMap((line) => [...line.matchAll(/\$\{([^}]*)\}/g)].map(([, value]) => value));
    // Columns and numbers of our own; `source` is what one of our own lines asks the database about itself.
    expect([...new Set(inserted)].sort()).toEqual(['APPLICATION_ID', 'COLUMNS', 'STEPS.length', 'source']);
  });
});
