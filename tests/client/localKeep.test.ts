import { describe, expect, it } from 'vitest';
import { type DeepStore, LocalKeep } from '../../client/state/localKeep.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { MemoryStorage, settle } from './harness.ts';

class MemoryDeepStore implements DeepStore {
  readonly works = new Map<string, unknown>();
  isFull = false;

  async beginning(prefix: string): Promise<ReadonlyMap<string, unknown>> {
    return new Map(
      [...this.works]
        .filter(([key]) => key.startsWith(prefix))
        .map(([key, work]) => [key, structuredClone(work)]),
    );
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

  /** Two tabs of one browser, at one project. */
  function tabs() {
    const [storage, deep] = [new MemoryStorage(), new MemoryDeepStore()];
    let time = 0;
    const tab = (name: string) => new LocalKeep(storage, deep, () => ++time, name);
    return { storage, deep, tab };
  }

  it('of one tab is neither written over nor dropped by another', async () => {
    const { tab } = tabs();
    const [one, other] = [tab('one'), tab('other')];
    one.put('p1', work('mine, waiting for a choice'));
    other.put('p1', work('theirs'));
    other.drop('p1');
    await settle();
    // After a reload it has the same name, after a crash another one: both find it.
    expect(await tab('one').get('p1')).toEqual(work('mine, waiting for a choice'));
    expect(await tab('third').get('p1')).toEqual(work('mine, waiting for a choice'));
  });

  it('of several tabs that were killed comes back one after the other, each once', async () => {
    const { storage, deep, tab } = tabs();
    tab('one').put('p1', work('first'));
    tab('two').put('p1', work('second'));
    tab('elsewhere').put('p10', work('of another project'));
    await settle();
    const next = tab('next');
    expect(await next.get('p1')).toEqual(work('second'));
    next.put('p1', work('second, gone on with'));
    await settle();
    expect(await tab('next').get('p1')).toEqual(work('second, gone on with'));
    next.drop('p1');
    await settle();
    expect(await next.get('p1')).toEqual(work('first'));
    next.drop('p1');
    await settle();
    expect(await next.get('p1')).toBeNull();
    expect([...storage.entries.keys()]).toEqual(['clothlay.unsent.p10.elsewhere']);
    expect([...deep.works.keys()]).toEqual(['p10.elsewhere']);
  });

  it('taken up by a second tab stays the first one’s where that has gone on since', async () => {
    const { tab } = tabs();
    const [living, second] = [tab('living'), tab('second')];
    living.put('p1', work('so far'));
    await settle();
    expect(await second.get('p1')).toEqual(work('so far'));
    living.put('p1', work('further'));
    await settle();
    second.drop('p1');
    await settle();
    expect(await tab('living').get('p1')).toEqual(work('further'));
  });
});
