import { describe, expect, it } from 'vitest';
import { COPY_HEADER, Copies } from '../../client/offline/copies.ts';
import { type NetWorld, Shell } from '../../client/offline/shell.ts';

const SITE = 'http://localhost:4680';
const pathOf = (request: RequestInfo | URL): string =>
  new URL(request instanceof Request ? request.url : String(request), SITE).pathname;

/** The part of a browser's Cache that is used: answers by path, the latest put last. */
class MemoryCache {
  readonly entries = new Map<string, Response>();
  readonly #net: Net;

  constructor(net: Net) {
    this.#net = net;
  }

  async match(request: RequestInfo | URL): Promise<Response | undefined> {
    return this.entries.get(pathOf(request))?.clone();
  }
  async put(request: RequestInfo | URL, response: Response): Promise<void> {
    if (this.#net.isFull) throw new DOMException('no room', 'QuotaExceededError');
    this.entries.delete(pathOf(request));
    this.entries.set(pathOf(request), response);
  }
  async addAll(paths: readonly string[]): Promise<void> {
    const answers = await Promise.all(paths.map((path) => this.#net.fetch(path)));
    if (!answers.every(({ ok }) => ok)) throw new TypeError('not all could be fetched');
    for (const [place, path] of paths.entries()) await this.put(path, answers[place]!);
  }
  async keys(): Promise<Request[]> {
    return [...this.entries.keys()].map((path) => new Request(SITE + path));
  }
  async delete(request: RequestInfo | URL): Promise<boolean> {
    return this.entries.delete(pathOf(request));
  }
}

/** A network and a browser's caches, both in the hands of the test. */
class Net implements NetWorld {
  isAway = false;
  /** Takes every request and never answers. */
  isSilent = false;
  isFull = false;
  readonly served = new Map<string, string>();
  readonly asked: string[] = [];
  readonly #caches = new Map<string, MemoryCache>();
  readonly caches = {
    open: async (name: string) => {
      const cache = this.#caches.get(name) ?? new MemoryCache(this);
      this.#caches.set(name, cache);
      return cache;
    },
    keys: async () => [...this.#caches.keys()],
    delete: async (name: string) => this.#caches.delete(name),
    match: async (request: Request) => {
      for (const cache of this.#caches.values()) {
        const found = await cache.match(request);
        if (found) return found;
      }
      return undefined;
    },
  } as unknown as CacheStorage;

  fetch = async (request: Request | string): Promise<Response> => {
    const path = pathOf(request);
    this.asked.push(path);
    if (this.isSilent) return new Promise<Response>(() => {});
    if (this.isAway) throw new TypeError('Failed to fetch');
    const text = this.served.get(path);
    const headers = path === '/api/projects' ? { location: '/api/projects/new' } : {};
    return new Response(text ?? 'nothing here', { status: text === undefined ? 404 : 200, headers });
  };
  wait = async (): Promise<void> => {};
}

const BUILD = { id: 'one', files: ['/assets/page-1.js', '/favicon.svg'] };

async function installed() {
  const net = new Net();
  net.served.set('/', 'index one').set('/assets/page-1.js', 'page 1').set('/favicon.svg', '<svg/>');
  const shell = new Shell(BUILD, net);
  await shell.install();
  return { net, shell };
}

const request = (path: string, init: RequestInit = {}): Request => new Request(SITE + path, init);
const text = async (answer: Promise<Response>): Promise<string> => (await answer).text();

describe('the page without a connection', () => {
  it('opens from what is kept, and from the server as soon as that answers', async () => {
    const { net, shell } = await installed();
    net.isAway = true;
    expect(await text(shell.index(request('/')))).toBe('index one');
    expect(await text(shell.file(request('/assets/page-1.js')))).toBe('page 1');
    net.isAway = false;
    net.served.set('/', 'index two');
    expect(await text(shell.index(request('/')))).toBe('index two');
  });

  it('opens where the server takes the request and says nothing, or a gateway answers for it', async () => {
    const { net, shell } = await installed();
    net.isSilent = true;
    expect(await text(shell.index(request('/')))).toBe('index one');
    const gateway: NetWorld = {
      ...net,
      caches: net.caches,
      fetch: async () => new Response('', { status: 502 }),
      wait: () => new Promise(() => {}),
    };
    expect(await text(new Shell(BUILD, gateway).index(request('/')))).toBe('index one');
  });

  it('is kept whole or not at all', async () => {
    const net = new Net();
    net.served.set('/', 'index one').set('/assets/page-1.js', 'page 1');
    await expect(new Shell(BUILD, net).install()).rejects.toThrow();
    net.isAway = true;
    await expect(new Shell(BUILD, net).index(request('/'))).rejects.toThrow();
  });

  it('goes on with the files of the build a page was opened from, for some updates', async () => {
    const { net, shell } = await installed();
    await shell.tidy();
    for (const id of ['two', 'three', 'four']) {
      net.served.clear();
      net.served.set('/', `index ${id}`).set(`/assets/page-${id}.js`, id);
      const next = new Shell({ id, files: [`/assets/page-${id}.js`] }, net);
      await next.install();
      await next.tidy();
      const old = next.file(request('/assets/page-1.js'));
      expect(await text(old)).toBe(id === 'four' ? 'nothing here' : 'page 1');
      net.isAway = true;
      expect(await text(next.index(request('/')))).toBe(`index ${id}`);
      net.isAway = false;
    }
  });
});

describe('copies of what the server said', () => {
  it('are read only where the server is away, and say that they are copies', async () => {
    const net = new Net();
    const copies = new Copies(net);
    net.served.set('/api/projects/p1', 'first');
    const fresh = await copies.answer(request('/api/projects/p1'));
    expect([fresh.headers.has(COPY_HEADER), await fresh.text()]).toEqual([false, 'first']);
    net.served.set('/api/projects/p1', 'second');
    expect(await text(copies.answer(request('/api/projects/p1')))).toBe('second');
    for (const trouble of ['isAway', 'isSilent'] as const) {
      net[trouble] = true;
      const copy = await copies.answer(request('/api/projects/p1'));
      expect([copy.headers.get(COPY_HEADER), await copy.text()]).toEqual(['1', 'second']);
      net[trouble] = false;
    }
    net.isAway = true;
    await expect(copies.answer(request('/api/projects/p2'))).rejects.toThrow();
  });

  it('are never given to who asks past them', async () => {
    const net = new Net();
    const copies = new Copies(net);
    net.served.set('/api/projects/p1', 'first');
    await copies.answer(request('/api/projects/p1', { cache: 'no-store' }));
    net.isAway = true;
    await expect(copies.answer(request('/api/projects/p1', { cache: 'no-store' }))).rejects.toThrow();
    // What came past them is kept for the others.
    expect(await text(copies.answer(request('/api/projects/p1')))).toBe('first');
  });

  it('follow every write, and go with what is deleted and with signing out', async () => {
    const net = new Net();
    const copies = new Copies(net);
    net.served.set('/api/projects/p1', 'written').set('/api/projects', 'created').set('/api/session', '');
    net.served.set('/api/bin/p2/restore', 'restored');
    const write = (method: string, path: string) => copies.answer(request(path, { method }));
    await write('PUT', '/api/projects/p1');
    await write('POST', '/api/projects');
    await write('POST', '/api/bin/p2/restore');
    net.isAway = true;
    expect(await text(copies.answer(request('/api/projects/p1')))).toBe('written');
    expect(await text(copies.answer(request('/api/projects/new')))).toBe('created');
    expect(await text(copies.answer(request('/api/projects/p2')))).toBe('restored');
    // A write that did not arrive changes nothing.
    await expect(write('DELETE', '/api/projects/p1')).rejects.toThrow();
    expect(await text(copies.answer(request('/api/projects/p1')))).toBe('written');
    net.isAway = false;
    await write('DELETE', '/api/projects/p1');
    net.isAway = true;
    await expect(copies.answer(request('/api/projects/p1'))).rejects.toThrow();
    net.isAway = false;
    await write('DELETE', '/api/session');
    net.isAway = true;
    await expect(copies.answer(request('/api/projects/p2'))).rejects.toThrow();
  });

  it('are bounded, the list of projects never the one to go; and without room all goes on', async () => {
    const net = new Net();
    const copies = new Copies(net);
    net.served.set('/api/projects', 'list');
    await copies.answer(request('/api/projects'));
    for (let n = 0; n < 70; n++) {
      net.served.set(`/api/projects/p${n}`, `${n}`);
      await copies.answer(request(`/api/projects/p${n}`));
    }
    net.isFull = true;
    expect(await text(copies.answer(request('/api/projects/p0')))).toBe('0');
    net.isAway = true;
    expect(await text(copies.answer(request('/api/projects')))).toBe('list');
    expect(await text(copies.answer(request('/api/projects/p69')))).toBe('69');
    await expect(copies.answer(request('/api/projects/p1'))).rejects.toThrow();
  });

  it('leave alone whatever else is asked for', () => {
    const copies = new Copies(new Net());
    const handles = (method: string, path: string) => copies.handles(method, new URL(path, SITE));
    expect(handles('GET', '/api/lays/l1/events')).toBe(false);
    expect(handles('GET', '/api/projects/p1/revisions')).toBe(false);
    expect(handles('GET', '/api/projects/p1/plan.pdf')).toBe(false);
    expect(handles('GET', '/api/shelf?search=olive')).toBe(false);
    expect(handles('POST', '/api/lays')).toBe(false);
    expect(handles('GET', '/api/shelf')).toBe(true);
  });
});
