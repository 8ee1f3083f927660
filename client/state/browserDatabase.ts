/** A database of this browser, opened when it is first needed, and anew after it had to be closed. */
export class BrowserDatabase {
  #database: Promise<IDBDatabase> | null = null;
  readonly #factory: IDBFactory | null;
  readonly #name: string;
  readonly #stores: readonly string[];

  /** @param factory null where the browser has none, or forbids it */
  constructor(factory: IDBFactory | null, name: string, stores: readonly string[]) {
    this.#factory = factory;
    this.#name = name;
    this.#stores = stores;
  }

  /** Rejects where the browser keeps nothing. */
  open(): Promise<IDBDatabase> {
    const factory = this.#factory;
    if (factory === null) return Promise.reject(new Error('this browser keeps nothing'));
    this.#database ??= new Promise<IDBDatabase>((resolve, reject) => {
      const request = factory.open(this.#name, 1);
      request.onupgradeneeded = () => {
        for (const store of this.#stores) request.result.createObjectStore(store);
      };
      request.onsuccess = () => {
        const database = request.result;
        // A later version of the page in another tab may go ahead; this one opens it anew when it needs it.
        database.onversionchange = () => {
          database.close();
          this.#database = null;
        };
        resolve(database);
      };
      request.onerror = () => reject(request.error);
    }).catch((error: unknown) => {
      this.#database = null;
      throw error;
    });
    return this.#database;
  }
}

export function answer<T>(request: IDBRequest): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result as T);
    request.onerror = () => reject(request.error);
  });
}

export function ended(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error);
    transaction.onerror = () => reject(transaction.error);
  });
}
