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

  async beginning(prefix: string): Promise<ReadonlyMap<string, unknown>> {
    const store = (await this.#database.open()).transaction(WORK).objectStore(WORK);
    const range = IDBKeyRange.bound(prefix, `${prefix}\uFFFF`);
    // In the same order, as one transaction.
    const [keys, works] = await Promise.all([
      answer<IDBValidKey[]>(store.getAllKeys(range)),
      answer<unknown[]>(store.getAll(range)),
    ]);
    return new Map(keys.map((key, place) => [String(key), works[place]]));
  }

  async put(key: string, work: unknown): Promise<void> {
    await this.#write((store) => store.put(work, key));
  }

  async drop(key: string): Promise<void> {
    await this.#write((store) => store.delete(key));
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
