import { type NetWorld, PATIENCE_MS } from './shell.ts';

/** Answers of the server kept for when it is away. */
const COPIES = 'clothlay.copies';
/** Projects opened last. */
const MOST_COPIES = 60;
/** On an answer that is a copy. */
export const COPY_HEADER = 'x-clothlay-copy';

const LISTS = new Set(['/api/projects', '/api/shelf']);
const PROJECT = /^\/api\/projects\/[^/]+$/;
const RESTORED = /^\/api\/bin\/([^/]+)\/restore$/;
const SESSION = '/api/session';

/**
 * What the server last said about the projects opened here, kept in the browser. Reading asks the server first; a copy
 * is given only where it is away, and says that it is one. Writes always go to the server.
 */
export class Copies {
  readonly #world: NetWorld;

  constructor(world: NetWorld) {
    this.#world = world;
  }

  /** Whether requests like this are handled here; all others go to the server untouched. */
  handles(method: string, { pathname, search }: URL): boolean {
    if (search !== '') return false;
    if (method === 'GET') return LISTS.has(pathname) || PROJECT.test(pathname);
    if (method === 'PUT' || method === 'DELETE') return PROJECT.test(pathname) || pathname === SESSION;
    return method === 'POST' && (pathname === '/api/projects' || RESTORED.test(pathname));
  }

  async answer(request: Request): Promise<Response> {
    const { pathname } = new URL(request.url);
    // A caller that has work to compare asks past all copies.
    if (request.method === 'GET')
      return request.cache === 'no-store'
        ? this.#keep(pathname, await this.#world.fetch(request))
        : this.#read(request, pathname);
    const response = await this.#world.fetch(request);
    if (!response.ok) return response;
    if (request.method === 'DELETE') {
      // Who signs out leaves nothing behind.
      if (pathname === SESSION) await this.#quietly(() => this.#world.caches.delete(COPIES));
      else await this.#quietly(async () => (await this.#cache()).delete(pathname));
      return response;
    }
    const restored = RESTORED.exec(pathname)?.[1];
    const address = restored === undefined ? response.headers.get('location') : `/api/projects/${restored}`;
    return this.#keep(address ?? pathname, response);
  }

  async #read(request: Request, pathname: string): Promise<Response> {
    const fresh = this.#world.fetch(request);
    fresh.catch(() => {});
    try {
      const first = await Promise.race([fresh, this.#world.wait(PATIENCE_MS)]);
      if (first && first.status !== 502 && first.status !== 504) return this.#keep(pathname, first);
    } catch {
      // Away.
    }
    const copy = await this.#cache()
      .then((cache) => cache.match(pathname))
      .catch(() => undefined);
    return copy ? asCopy(copy) : fresh;
  }

  /** Keeps a good answer, the latest last; a browser without room for it goes on without. */
  async #keep(path: string, response: Response): Promise<Response> {
    if (response.ok) {
      const copy = response.clone();
      await this.#quietly(async () => {
        const cache = await this.#cache();
        await cache.put(path, copy);
        const keys = await cache.keys();
        for (const old of keys.slice(0, Math.max(0, keys.length - MOST_COPIES))) {
          if (!LISTS.has(new URL(old.url).pathname)) await cache.delete(old);
        }
      });
    }
    return response;
  }

  #cache(): Promise<Cache> {
    return this.#world.caches.open(COPIES);
  }

  async #quietly(work: () => Promise<unknown>): Promise<void> {
    await work().catch(() => {});
  }
}

async function asCopy(copy: Response): Promise<Response> {
  const headers = new Headers(copy.headers);
  headers.set(COPY_HEADER, '1');
  return new Response(await copy.blob(), { status: copy.status, headers });
}
