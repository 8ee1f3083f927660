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

/** The browser's database. Every method rejects where the browser refuses. */
export interface DeepStore {
  get(projectId: string): Promise<unknown>;
  put(projectId: string, work: unknown): Promise<void>;
  drop(projectId: string): Promise<void>;
}

const keptSchema = z.object({
  revision: z.number().int(),
  project: projectSchema,
  savedAt: z.number().default(0),
});
type Dated = z.infer<typeof keptSchema>;
const keyOf = (projectId: string): string => `clothlay.unsent.${projectId}`;

/**
 * Keeps unsent work in this browser, in two places. Its storage is written before a call returns, as a page that goes
 * away needs it, but reaches the disk seconds later and has little room; its database is written a moment later, and is
 * on the disk then. Where one is full or forbidden the other serves; that is told, never thrown.
 */
export class LocalKeep {
  readonly #storage: TextStorage | null;
  readonly #deep: DeepStore | null;
  readonly #now: () => number;
  /** What the database is known to hold of each project. */
  readonly #written = new Map<string, Project>();

  /** @param now milliseconds of the clock on the wall: it orders what was kept in different visits */
  constructor(storage: TextStorage | null, deep: DeepStore | null = null, now: () => number = () => 0) {
    this.#storage = storage;
    this.#deep = deep;
    this.#now = now;
  }

  /** @returns whether the work is safe here already */
  put(projectId: string, work: KeptWork): boolean {
    const dated = { ...work, savedAt: this.#now() };
    const isDeep = this.#written.get(projectId) === work.project;
    if (!isDeep) void this.#putDeep(projectId, dated);
    try {
      if (!this.#storage) return isDeep;
      this.#storage.setItem(keyOf(projectId), JSON.stringify(dated));
      return true;
    } catch {
      return isDeep;
    }
  }

  /** Unsent work of an earlier visit, the latest there is; null when there is none or it can't be read. */
  async get(projectId: string): Promise<KeptWork | null> {
    const [shallow, deep] = [this.#getShallow(projectId), await this.#getDeep(projectId)];
    const latest = shallow && deep ? (deep.savedAt > shallow.savedAt ? deep : shallow) : (shallow ?? deep);
    return latest && { revision: latest.revision, project: latest.project };
  }

  drop(projectId: string): void {
    this.#written.delete(projectId);
    // A place that can't be written to has nothing to drop either.
    this.#deep?.drop(projectId).catch(() => {});
    try {
      this.#storage?.removeItem(keyOf(projectId));
    } catch {
      // As above.
    }
  }

  async #putDeep(projectId: string, work: Dated): Promise<void> {
    try {
      await this.#deep?.put(projectId, work);
      if (this.#deep) this.#written.set(projectId, work.project);
    } catch {
      this.#written.delete(projectId);
    }
  }

  #getShallow(projectId: string): Dated | null {
    try {
      const text = this.#storage?.getItem(keyOf(projectId));
      return text ? keptSchema.parse(JSON.parse(text)) : null;
    } catch {
      return null;
    }
  }

  async #getDeep(projectId: string): Promise<Dated | null> {
    try {
      return keptSchema.nullish().parse(await this.#deep?.get(projectId)) ?? null;
    } catch {
      return null;
    }
  }
}
