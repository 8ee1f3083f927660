import { answer, BrowserDatabase, ended } from './browserDatabase.ts';
import type { KeptHead, KeptStep, StepStore } from './stepLog.ts';

const HEADS = 'heads';
const STEPS = 'steps';

/** The steps in this browser's IndexedDB: a head a project, and its steps by number. */
export class BrowserStepStore implements StepStore {
  readonly #database: BrowserDatabase;

  /** @param factory null where the browser has none, or forbids it */
  constructor(factory: IDBFactory | null) {
    this.#database = new BrowserDatabase(factory, 'clothlay.steps', [HEADS, STEPS]);
  }

  async read(projectId: string): Promise<{ head: KeptHead; steps: readonly KeptStep[] } | null> {
    const transaction = (await this.#database.open()).transaction([HEADS, STEPS]);
    const [head, steps] = await Promise.all([
      answer<KeptHead | undefined>(transaction.objectStore(HEADS).get(projectId)),
      answer<KeptStep[]>(transaction.objectStore(STEPS).getAll(rangeFrom(projectId, 0))),
    ]);
    // A log that is not whole is none.
    if (head === undefined || steps.length !== head.count) return null;
    return { head, steps };
  }

  async write(projectId: string, head: KeptHead, from: number, steps: readonly KeptStep[]): Promise<boolean> {
    const transaction = (await this.#database.open()).transaction([HEADS, STEPS], 'readwrite');
    const done = ended(transaction);
    const heads = transaction.objectStore(HEADS);
    const store = transaction.objectStore(STEPS);
    if (from > 0) {
      const last = await answer<KeptHead | undefined>(heads.get(projectId));
      if (last?.writer !== head.writer || last.count < from) return false;
    }
    store.delete(rangeFrom(projectId, from));
    for (const [place, step] of steps.entries()) store.put(step, [projectId, from + place]);
    heads.put(head, projectId);
    await done;
    return true;
  }

  async dropBefore(time: string, keep: readonly string[]): Promise<void> {
    const transaction = (await this.#database.open()).transaction([HEADS, STEPS], 'readwrite');
    const done = ended(transaction);
    const heads = transaction.objectStore(HEADS);
    for (const id of await answer<IDBValidKey[]>(heads.getAllKeys())) {
      const projectId = String(id);
      if (keep.includes(projectId)) continue;
      const head = await answer<KeptHead>(heads.get(projectId));
      if (head.savedAt >= time) continue;
      heads.delete(projectId);
      transaction.objectStore(STEPS).delete(rangeFrom(projectId, 0));
    }
    await done;
  }
}

function rangeFrom(projectId: string, step: number): IDBKeyRange {
  return IDBKeyRange.bound([projectId, step], [projectId, Number.POSITIVE_INFINITY]);
}
