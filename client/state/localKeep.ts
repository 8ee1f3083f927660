import { z } from 'zod';
import { type Project, projectSchema } from '../../pattern/exchange/project.ts';

/** Work that the server has not acknowledged yet, with the revision it was made from. */
export interface KeptWork {
  readonly revision: number;
  readonly project: Project;
}

/** The part of `Storage` that is used, so that a test can hand in a map. */
export interface TextStorage {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

/** Storage whose keys can be asked for. */
export interface ListedStorage extends TextStorage {
  readonly length: number;
  key(index: number): string | null;
}

/** The browser's database. Every method rejects where the browser refuses. */
export interface DeepStore {
  /** What is kept under keys that begin so, by key. */
  beginning(prefix: string): Promise<ReadonlyMap<string, unknown>>;
  put(key: string, work: unknown): Promise<void>;
  drop(key: string): Promise<void>;
}

const keptSchema = z.object({
  revision: z.number().int(),
  project: projectSchema,
  savedAt: z.number().default(0),
});
type Dated = z.infer<typeof keptSchema>;
/** Before the name it has in the browser's storage, which is everybody's. */
const STORAGE = 'clothlay.unsent.';

/**
 * Keeps unsent work in this browser, in two places. Its storage is written before a call returns, as a page that goes
 * away needs it, but reaches the disk seconds later and has little room; its database is written a moment later, and is
 * on the disk then. Where one is full or forbidden the other serves; that is told, never thrown. Each tab keeps its own:
 * another at the same project neither writes over it nor takes it for sent.
 */
export class LocalKeep {
  readonly #storage: ListedStorage | null;
  readonly #deep: DeepStore | null;
  readonly #now: () => number;
  readonly #tab: string;
  /** What the database is known to hold of each project. */
  readonly #written = new Map<string, Project>();
  /** Work of other tabs that goes on in this one, or is sent, by key: as it was at that time. */
  readonly #taken = new Map<string, number>();

  /**
   * @param now milliseconds of the clock on the wall: it orders what was kept in different visits
   * @param tab a name no other tab has, and this one also after a reload
   */
  constructor(
    storage: ListedStorage | null,
    deep: DeepStore | null = null,
    now: () => number = () => 0,
    tab = '',
  ) {
    this.#storage = storage;
    this.#deep = deep;
    this.#now = now;
    this.#tab = tab;
  }

  /** @returns whether the work is safe here already */
  put(projectId: string, work: KeptWork): boolean {
    const dated = { ...work, savedAt: this.#now() };
    const isDeep = this.#written.get(projectId) === work.project;
    if (!isDeep) void this.#putDeep(projectId, dated);
    try {
      if (!this.#storage) return isDeep;
      this.#storage.setItem(STORAGE + this.#keyOf(projectId), JSON.stringify(dated));
      return true;
    } catch {
      return isDeep;
    }
  }

  /**
   * Unsent work of an earlier visit: this tab's own, else the latest of another's that is not taken yet; null when there is
   * none or it can't be read. Whatever becomes of it here, `drop` then drops it too.
   */
  async get(projectId: string): Promise<KeptWork | null> {
    const kept = this.#shallow(projectId);
    for (const [key, work] of await this.#deepOf(projectId)) {
      const other = kept.get(key);
      if (other === undefined || work.savedAt > other.savedAt) kept.set(key, work);
    }
    const own = kept.get(this.#keyOf(projectId));
    const others = [...kept].filter(([key, { savedAt }]) => this.#taken.get(key) !== savedAt);
    const [latest] = others.sort(([, one], [, other]) => other.savedAt - one.savedAt);
    const found = own ?? latest?.[1];
    if (found === undefined) return null;
    if (own === undefined && latest) this.#taken.set(latest[0], latest[1].savedAt);
    return { revision: found.revision, project: found.project };
  }

  /** The work is with the server, or is not wanted: this tab's own, and what it took from others, is kept no longer. */
  drop(projectId: string): void {
    this.#written.delete(projectId);
    this.#remove(this.#keyOf(projectId));
    for (const [key, savedAt] of this.#taken) {
      if (!isOf(key, projectId)) continue;
      // Written anew since, it is not what was taken.
      if ((this.#shallow(projectId).get(key)?.savedAt ?? savedAt) === savedAt) this.#remove(key);
    }
  }

  #keyOf(projectId: string): string {
    return this.#tab === '' ? projectId : `${projectId}.${this.#tab}`;
  }

  #remove(key: string): void {
    // A place that can't be written to has nothing to drop either.
    this.#deep?.drop(key).catch(() => {});
    try {
      this.#storage?.removeItem(STORAGE + key);
    } catch {
      // As above.
    }
  }

  async #putDeep(projectId: string, work: Dated): Promise<void> {
    try {
      await this.#deep?.put(this.#keyOf(projectId), work);
      if (this.#deep) this.#written.set(projectId, work.project);
    } catch {
      this.#written.delete(projectId);
    }
  }

  /** What the storage holds of a project, by key. */
  #shallow(projectId: string): Map<string, Dated> {
    const found = new Map<string, Dated>();
    const storage = this.#storage;
    if (storage === null) return found;
    try {
      for (let index = 0; index < storage.length; index++) {
        const key = storage.key(index)?.slice(STORAGE.length) ?? '';
        if (storage.key(index) !== STORAGE + key || !isOf(key, projectId)) continue;
        const work = read(() => JSON.parse(storage.getItem(STORAGE + key) ?? 'null'));
        if (work !== null) found.set(key, work);
      }
    } catch {
      // Forbidden: then there is nothing.
    }
    return found;
  }

  async #deepOf(projectId: string): Promise<Map<string, Dated>> {
    const found = new Map<string, Dated>();
    const kept = await this.#deep?.beginning(projectId).catch(() => null);
    for (const [key, value] of kept ?? []) {
      const work = read(() => value);
      if (work !== null && isOf(key, projectId)) found.set(key, work);
    }
    return found;
  }
}

function isOf(key: string, projectId: string): boolean {
  return key === projectId || key.startsWith(`${projectId}.`);
}

/** What is damaged, or of a version that is not known, is passed over. */
function read(get: () => unknown): Dated | null {
  try {
    return keptSchema.nullable().parse(get());
  } catch {
    return null;
  }
}
