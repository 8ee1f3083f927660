import { describe, expect, it } from 'vitest';
import { type DeepStore, LocalKeep } from '../../client/state/localKeep.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { MemoryStorage, settle } from './harness.ts';

class MemoryDeepStore implements DeepStore {
  readonly works = new Map<string, unknown>();
  isFull = false;

  async get(id: string): Promise<unknown> {
    return structuredClone(this.works.get(id));
  }
  async put(id: string, work: unknown): Promise<void> {
    if (this.isFull) throw new DOMException('no room', 'QuotaExceededError');
    this.works.set(id, structuredClone(work));
  }
  async drop(id: string): Promise<void> {
    this.works.delete(id);
  }
}

function browser() {
  const [storage, deep] = [new MemoryStorage(), new MemoryDeepStore()];
  let time = 0;
  const keep = new LocalKeep(storage, deep, () => ++time);
  return { storage, deep, keep };
}

const work = (name: string, revision = 3) => ({ revision, project: emptyProject(name, 'cm') });

describe('unsent work in the browser', () => {
  it('is read from whichever place has the later one', async () => {
    const { storage, deep, keep } = browser();
    keep.put('p1', work('first'));
    await settle();
    // A browser that was killed: its storage never reached the disk, or only an older state of it.
    const old = storage.getItem('clothlay.unsent.p1')!;
    keep.put('p1', work('second'));
    await settle();
    storage.setItem('clothlay.unsent.p1', old);
    expect(await keep.get('p1')).toEqual(work('second'));
    // The other way round: the page went away before the database was written.
    deep.isFull = true;
    keep.put('p1', work('third', 4));
    await settle();
    expect(await keep.get('p1')).toEqual(work('third', 4));
    keep.drop('p1');
    expect(await keep.get('p1')).toBeNull();
  });

  it('is safe where either place has room, and said not to be where neither has', async () => {
    const { storage, deep, keep } = browser();
    storage.isFull = true;
    const [first, second] = [work('first'), work('second')];
    // The database has not answered yet.
    expect(keep.put('p1', first)).toBe(false);
    await settle();
    expect(keep.put('p1', first)).toBe(true);
    expect(await keep.get('p1')).toEqual(first);
    deep.isFull = true;
    expect(keep.put('p1', second)).toBe(false);
    await settle();
    expect(keep.put('p1', second)).toBe(false);
    storage.isFull = false;
    expect(keep.put('p1', second)).toBe(true);
  });

  it('is read where it was kept by a page that knew one place alone, and passed over where it is damaged', async () => {
    const { storage, keep } = browser();
    storage.setItem('clothlay.unsent.p1', JSON.stringify(work('before')));
    expect(await keep.get('p1')).toEqual(work('before'));
    storage.setItem('clothlay.unsent.p1', '{"revision":');
    expect(await keep.get('p1')).toBeNull();
    expect(await new LocalKeep(null).get('p1')).toBeNull();
  });
});
