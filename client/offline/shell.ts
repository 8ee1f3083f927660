/** Caches of the page's own files have this beginning; the rest of the name tells the build. */
const SHELL = 'clothlay.page.';
/** Builds whose files are kept: pages opened before an update go on with theirs. */
const BUILDS_KEPT = 3;
/** Under the index the page itself is kept. */
const INDEX = '/';

/** Every file of one build of the page. */
export interface Build {
  /** Tells this build from any other. */
  readonly id: string;
  /** Absolute paths of all files but the index. */
  readonly files: readonly string[];
}

export interface NetWorld {
  readonly caches: CacheStorage;
  fetch(request: Request | string, init?: RequestInit): Promise<Response>;
  /** Resolves after so many milliseconds. */
  wait(ms: number): Promise<void>;
}

/** A server that does not answer for so long is taken as away, if there is a copy to go on with. */
export const PATIENCE_MS = 6_000;

/**
 * The page's own files, kept in the browser so that the page opens without a connection. The index always comes from the
 * server where that answers, so that an update is seen at the next load; the other files carry a hash of their content in
 * their names, so a kept one is never an old one.
 */
export class Shell {
  readonly #build: Build;
  readonly #world: NetWorld;

  constructor(build: Build, world: NetWorld) {
    this.#build = build;
    this.#world = world;
  }

  /** Fetches all files of this build: all or nothing. */
  async install(): Promise<void> {
    const cache = await this.#world.caches.open(SHELL + this.#build.id);
    // The index past the browser's own cache: it must be the one that belongs to these files.
    const index = await this.#world.fetch(INDEX, { cache: 'reload' });
    if (!index.ok) throw new Error(`the page answered ${index.status}`);
    await cache.addAll([...this.#build.files]);
    await cache.put(INDEX, index);
  }

  /** Drops the files of builds that no open page can still be from. */
  async tidy(): Promise<void> {
    const { caches } = this.#world;
    const builds = (await caches.keys()).filter((name) => name.startsWith(SHELL));
    const own = SHELL + this.#build.id;
    const others = builds.filter((name) => name !== own);
    for (const name of others.slice(0, Math.max(0, others.length - BUILDS_KEPT + 1)))
      await caches.delete(name);
  }

  /** Whether a path is one of the page's files that never change. */
  isFile(path: string): boolean {
    return path.startsWith('/assets/') || this.#build.files.includes(path);
  }

  async file(request: Request): Promise<Response> {
    return (await this.#world.caches.match(request)) ?? this.#world.fetch(request);
  }

  /** The index for a navigation: the server's, or the kept one where the server is away or takes too long. */
  async index(request: Request): Promise<Response> {
    const { fetch, wait } = this.#world;
    const kept = async (): Promise<Response | undefined> =>
      (await this.#world.caches.open(SHELL + this.#build.id)).match(INDEX);
    const fresh = fetch(request);
    // Whoever loses the race may still fail; that is no fault of its own.
    fresh.catch(() => {});
    try {
      const first = await Promise.race([fresh, wait(PATIENCE_MS)]);
      // A gateway in front of a stopped server answers for it.
      if (first && first.status !== 502 && first.status !== 504) return first;
    } catch {
      // Away.
    }
    return (await kept()) ?? fresh;
  }
}
