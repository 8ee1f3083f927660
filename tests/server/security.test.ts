import { get, request as httpRequest } from 'node:http';
import { describe, expect, it } from 'vitest';
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
