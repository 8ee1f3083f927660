import { answer, BrowserDatabase, ended } from './browserDatabase.ts';
import type { DeepStore } from './localKeep.ts';

const WORK = 'work';

/** Unsent work in this browser's IndexedDB. */
export class BrowserDeepStore implements DeepStore {
  readonly #database: BrowserDatabase;

  /** @param factory null where the browser has none, or forbids it */
  constructor(factory: IDBFactory | null) {
    this.#database = new BrowserDatabase(factory, 'clothlay.unsent', [WORK]);
  }

  async get(projectId: string): Promise<unknown> {
    const transaction = (await this.#database.open()).transaction(WORK);
    return answer(transaction.objectStore(WORK).get(projectId));
  }

  async put(projectId: string, work: unknown): Promise<void> {
    await this.#write((store) => store.put(work, projectId));
  }

  async drop(projectId: string): Promise<void> {
    await this.#write((store) => store.delete(projectId));
  }

  async #write(change: (store: IDBObjectStore) => void): Promise<void> {
    // Strict: on the disk when it has ended, not only handed to the system.
    const transaction = (await this.#database.open()).transaction(WORK, 'readwrite', {
      durability: 'strict',
    });
    const done = ended(transaction);
    change(transaction.objectStore(WORK));
    await done;
  }
}
