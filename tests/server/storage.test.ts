import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import Libsql from 'libsql';
import { describe, expect, it } from 'vitest';
import type { StoredProject } from '../../pattern/exchange/lay.ts';
import { Database } from '../../server/storage/database.ts';
import { ProjectStore } from '../../server/storage/projectStore.ts';
import { StorageFault } from '../../server/storage/storageFault.ts';
import { afterTest, sampleProject, startServer, temporaryFolder } from './harness.ts';

function newFile(): string {
  return join(temporaryFolder(), 'clothlay.sqlite');
}

function openStore(file: string): ProjectStore {
  const store = new ProjectStore({ file });
  afterTest(() => store.close());
  return store;
}

function faultOf(action: () => unknown): StorageFault {
  try {
    action();
  } catch (error) {
    if (error instanceof StorageFault) return error;
    throw error;
  }
  throw new Error('it went well');
}

/** Changes the file as another program would. */
function tamper(file: string, ...statements: readonly string[]): void {
  const database = new Libsql(file);
  for (const statement of statements) database.exec(statement);
  database.close();
}

describe('the project file', () => {
  it('is made with its folder and read again by the next process', () => {
    const file = join(temporaryFolder(), 'a', 'b', 'clothlay.sqlite');
    const first = openStore(file);
    expect(first.isEmpty()).toBe(true);
    const stored = first.create(sampleProject());
    first.close();
    const second = openStore(file);
    expect(second.get(stored.id)).toEqual(stored);
    expect(second.isEmpty()).toBe(false);
    second.remove(stored.id);
    expect(second.isEmpty()).toBe(false);
  });

  it('syncs at every commit', () => {
    const file = newFile();
    const database = new Database(file);
    afterTest(() => database.close());
    expect(database.all('PRAGMA journal_mode')).toEqual([{ journal_mode: 'wal' }]);
    // 2 is FULL: in write-ahead mode it syncs the log at each commit (sqlite.org/pragma.html#pragma_synchronous).
    expect(database.all('PRAGMA synchronous')).toEqual([{ synchronous: 2 }]);
  });

  it('is shared by two processes without losing a write', () => {
    const file = newFile();
    const [one, other] = [openStore(file), openStore(file)];
    const { id } = one.create(sampleProject());
    expect(other.update(id, 1, sampleProject({ name: 'Other' })).kind).toBe('stored');
    expect(one.update(id, 1, sampleProject({ name: 'One' })).kind).toBe('stale');
    expect(one.get(id)?.project.name).toBe('Other');
  });

  it('that is no database is refused and left as it is', () => {
    const file = newFile();
    const text = 'a shopping list, not a database\n'.repeat(200);
    writeFileSync(file, text);
    const fault = faultOf(() => openStore(file).probe());
    expect(fault.kind).toBe('damaged');
    expect(fault.message).toContain('clothlay.sqlite is damaged');
    expect(readFileSync(file, 'utf8')).toBe(text);
  });

  it('that was cut off is refused and left as it is', () => {
    const file = newFile();
    const store = openStore(file);
    for (let number = 0; number < 200; number++) store.create(sampleProject({ notes: 'x'.repeat(500) }));
    store.close();
    const half = readFileSync(file).subarray(0, 60_000);
    writeFileSync(file, half);
    expect(faultOf(() => openStore(file).probe()).kind).toBe('damaged');
    expect(readFileSync(file).equals(half)).toBe(true);
  });

  it('with pages overwritten is refused', () => {
    const file = newFile();
    const store = openStore(file);
    for (let number = 0; number < 200; number++) store.create(sampleProject({ notes: 'x'.repeat(500) }));
    store.close();
    const bytes = readFileSync(file);
    writeFileSync(file, bytes.fill(0x5a, 4096, 40_960));
    expect(faultOf(() => openStore(file).probe()).kind).toBe('damaged');
  });

  it('of another program is refused and left as it is', () => {
    const file = newFile();
    tamper(file, 'CREATE TABLE recipes (name TEXT)');
    const fault = faultOf(() => openStore(file).probe());
    expect(fault.kind).toBe('foreign');
    tamper(file, 'DROP TABLE recipes', 'PRAGMA application_id = 7');
    expect(faultOf(() => openStore(file).probe()).kind).toBe('foreign');
  });

  it('of a newer version is refused', () => {
    const file = newFile();
    openStore(file).probe();
    tamper(file, 'PRAGMA user_version = 99');
    const fault = faultOf(() => openStore(file).probe());
    expect(fault.kind).toBe('newer');
    expect(fault.message).toContain('newer version');
  });

  it('left empty by a process killed at once is taken for new', () => {
    const file = newFile();
    tamper(file, 'PRAGMA journal_mode = WAL');
    const store = openStore(file);
    const { id } = store.create(sampleProject());
    expect(store.get(id)?.revision).toBe(1);
  });

  it('in a place that is no folder gives a clear word', () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'data'), '');
    const fault = faultOf(() => openStore(join(folder, 'data', 'clothlay.sqlite')).probe());
    expect(fault.kind).toBe('unavailable');
    mkdirSync(join(folder, 'clothlay.sqlite'));
    expect(faultOf(() => openStore(join(folder, 'clothlay.sqlite')).probe()).kind).toBe('unavailable');
  });

  it('moved away while open takes no more writes, until it is back', () => {
    const file = newFile();
    const store = openStore(file);
    const { id } = store.create(sampleProject());
    renameSync(file, `${file}.away`);
    const fault = faultOf(() => store.update(id, 1, sampleProject({ name: 'Lost?' })));
    expect(fault.kind).toBe('moved');
    expect(store.get(id)?.project.name).toBe('Handlebar pouch');
    renameSync(`${file}.away`, file);
    expect(store.update(id, 1, sampleProject({ name: 'Kept' })).kind).toBe('stored');
  });

  it('held by another process is waited for, and then a clear word is given', () => {
    const file = newFile();
    const store = openStore(file);
    store.probe();
    const other = new Libsql(file);
    afterTest(() => void other.close());
    other.exec('BEGIN IMMEDIATE');
    expect(faultOf(() => store.create(sampleProject())).kind).toBe('busy');
    other.exec('ROLLBACK');
    expect(store.create(sampleProject()).revision).toBe(1);
  });
});

describe('a store that fails', () => {
  it('is told over HTTP, while lays still work, and mends without a restart', async () => {
    const file = join(temporaryFolder(), 'data', 'clothlay.sqlite');
    mkdirSync(dirname(file));
    writeFileSync(file, 'not a database '.repeat(1000));
    const { send } = await startServer({ file });
    for (const [method, path, body] of [
      ['GET', '/api/projects', undefined],
      ['POST', '/api/projects', { project: sampleProject() }],
      ['GET', '/api/bin', undefined],
    ] as const) {
      const answer = await send(method, path, body);
      expect(answer.status).toBe(503);
      expect(answer.body).toMatchObject({
        type: 'urn:clothlay:problem:storage-damaged',
        detail: expect.stringContaining('clothlay.sqlite is damaged'),
      });
      expect(JSON.stringify(answer.body)).not.toContain(file);
    }
    const health = await send('GET', '/api/health');
    expect(health.body).toMatchObject({ status: 'degraded', storage: expect.stringContaining('damaged') });
    expect((await send('POST', '/api/lays', { project: sampleProject() })).status).toBe(202);
    rmSync(file);
    expect((await send('POST', '/api/projects', { project: sampleProject() })).status).toBe(201);
    expect((await send('GET', '/api/health')).body).toMatchObject({ status: 'ok', storage: 'ok' });
  });

  it('says so when one document can’t be read, and still gives the others', async () => {
    const { send, store, file } = await startServer();
    const good = store.create(sampleProject({ name: 'Good' }));
    const bad = store.create(sampleProject({ name: 'Bad' }));
    tamper(file, `UPDATE projects SET document = substr(document, 1, 40) WHERE id = '${bad.id}'`);
    expect((await send('GET', `/api/projects/${good.id}`)).status).toBe(200);
    expect((await send<unknown[]>('GET', '/api/projects')).body).toHaveLength(2);
    const answer = await send('GET', `/api/projects/${bad.id}`);
    expect(answer).toMatchObject({
      status: 500,
      body: { type: 'urn:clothlay:problem:storage-unreadable', detail: expect.stringContaining('cut off') },
    });
  });

  it('brings an older document up to date and does not touch a newer one', async () => {
    const { send, store, file } = await startServer();
    const [old, newer] = [store.create(sampleProject()), store.create(sampleProject())];
    const version0 = {
      format: 'clothlay-project',
      version: 0,
      title: 'Panier',
      pieces: [{ id: 'a', name: 'Flap', points: [0, 0, 90, 0, 90, 40], grain: 'upright' }],
      materials: ['Canvas'],
      cuts: [{ piece: 'a', material: 0, copies: 2, pairs: true }],
      rolls: [],
    };
    tamper(file, `UPDATE projects SET document = '${JSON.stringify(version0)}' WHERE id = '${old.id}'`);
    tamper(
      file,
      `UPDATE projects SET document = replace(document, '"version":2', '"version":9')
                  WHERE id = '${newer.id}'`,
    );
    const read = await send<StoredProject>('GET', `/api/projects/${old.id}`);
    expect(read.body).toMatchObject({ revision: 1, project: { version: 2, name: 'Panier' } });
    const answer = await send('GET', `/api/projects/${newer.id}`);
    expect(answer).toMatchObject({ status: 500, body: { detail: expect.stringContaining('newer') } });
  });

  it('is full: nothing is half stored, and what was there stays', async () => {
    const { send, store } = await startServer({ maxBytes: 400_000 });
    const { id } = store.create(sampleProject());
    const address = `/api/projects/${id}`;
    const large = (number: number) => sampleProject({ name: `Large ${number}`, notes: 'n'.repeat(20_000) });
    let revision = 1;
    let answer = await send<StoredProject>('PUT', address, { revision, project: large(revision) });
    while (answer.status === 200) {
      revision = answer.body.revision;
      answer = await send<StoredProject>('PUT', address, { revision, project: large(revision) });
    }
    expect(answer).toMatchObject({
      status: 507,
      body: { type: 'urn:clothlay:problem:storage-full', detail: expect.stringContaining('full') },
    });
    expect(revision).toBeGreaterThan(2);
    const kept = await send<StoredProject>('GET', address);
    expect(kept.body).toMatchObject({ revision, project: large(revision - 1) });
    expect(store.revisions(id)).toHaveLength(revision - 1);
  });

  it('can only be read: reading goes on, writing gives a clear word', async () => {
    const file = newFile();
    const before = openStore(file);
    const stored = before.create(sampleProject());
    before.close();
    // A write version above 2 makes SQLite treat a file as read-only, for root too (file format §1.3.3).
    const bytes = readFileSync(file);
    bytes[18] = 3;
    writeFileSync(file, bytes);
    const { send } = await startServer({ file });
    const address = `/api/projects/${stored.id}`;
    expect((await send('GET', address)).body).toEqual(stored);
    const answer = await send('PUT', address, { revision: 1, project: sampleProject({ name: 'New' }) });
    expect(answer).toMatchObject({ status: 503, body: { type: 'urn:clothlay:problem:storage-readOnly' } });
    expect((await send('GET', address)).body).toEqual(stored);
  });
});
