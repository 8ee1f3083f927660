import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { startServer, temporaryFolder } from './harness.ts';

function builtPage(): string {
  const folder = temporaryFolder();
  mkdirSync(join(folder, 'assets'));
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>clothlay</title>');
  writeFileSync(join(folder, 'assets', 'page-1a2b.js'), 'export {};');
  writeFileSync(join(folder, '.secret'), 'not to be served');
  return folder;
}

describe('the page', () => {
  it('is served at the root and at any address of its own', async () => {
    const { send } = await startServer({ clientDir: builtPage() });
    for (const path of ['/', '/index.html', '/lay', '/project/1/plan?x=y.z']) {
      const { status, headers, body } = await send('GET', path);
      expect(status).toBe(200);
      expect(headers.get('content-type')).toBe('text/html; charset=utf-8');
      expect(headers.get('cache-control')).toBe('no-cache');
      expect(body).toContain('<title>clothlay</title>');
    }
  });

  it('has its files kept by the browser for good, as their names change with their content', async () => {
    const { send } = await startServer({ clientDir: builtPage() });
    const { status, headers } = await send('GET', '/assets/page-1a2b.js');
    expect(status).toBe(200);
    expect(headers.get('content-type')).toContain('javascript');
    expect(headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
  });

  it('comes packed to whoever can unpack it, and plain to the rest', async () => {
    const folder = builtPage();
    const script = 'export const words = "long words";';
    const file = join(folder, 'assets', 'start-3c4d.js');
    writeFileSync(file, script);
    writeFileSync(`${file}.br`, brotliCompressSync(script));
    writeFileSync(`${file}.gz`, gzipSync(script));
    const { send } = await startServer({ clientDir: folder });
    for (const [accepted, coding] of [
      ['gzip, deflate, br', 'br'],
      ['gzip', 'gzip'],
      ['identity', null],
      ['br;q=0, gzip;q=0', null],
    ] as const) {
      const { status, headers, body } = await send('GET', '/assets/start-3c4d.js', undefined, {
        'Accept-Encoding': accepted,
      });
      expect([status, headers.get('content-encoding'), body], accepted).toEqual([200, coding, script]);
      expect(headers.get('content-type')).toContain('javascript');
      expect(headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
      expect(headers.get('vary')).toContain('Accept-Encoding');
    }
    expect((await send('GET', '/assets/page-1a2b.js')).headers.has('content-encoding')).toBe(false);
  });

  it('is not shown in place of a missing file, for a write or in place of the API', async () => {
    const { send } = await startServer({ clientDir: builtPage() });
    expect((await send('GET', '/assets/page-old.js')).status).toBe(404);
    expect((await send('GET', '/favicon.ico')).status).toBe(404);
    expect((await send('POST', '/lay', {})).status).toBe(404);
    expect((await send('GET', '/api/lay')).status).toBe(404);
  });

  it('lists no folder and sends nobody elsewhere', async () => {
    const { url } = await startServer({ clientDir: builtPage() });
    for (const path of [
      '/assets',
      '/assets/',
      '//elsewhere.test',
      '/%2f%2felsewhere.test',
      '/.git/',
      '/assets/..',
    ]) {
      const answer = await fetch(url + path, { redirect: 'manual' });
      expect([200, 404], path).toContain(answer.status);
      expect(answer.headers.get('location')).toBeNull();
      expect(await answer.text()).not.toContain('page-1a2b.js');
    }
  });

  it('gives nothing from outside its folder and no hidden file', async () => {
    const { send } = await startServer({ clientDir: builtPage() });
    for (const path of ['/.secret', '/..%2f..%2fetc%2fpasswd', '/assets/..%2f..%2f.secret']) {
      expect(JSON.stringify((await send('GET', path)).body)).not.toMatch(/root:|not to be served/);
    }
  });

  it('says how to build it where it is missing', async () => {
    const { send } = await startServer();
    const answer = await send('GET', '/');
    expect([answer.status, answer.body.detail]).toEqual([404, expect.stringContaining('npm run build')]);
  });
});
