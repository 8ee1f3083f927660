import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Libsql from 'libsql';
import { describe, expect, it } from 'vitest';
import type { LayState, StoredProject } from '../../pattern/exchange/lay.ts';
import { openProject } from '../../pattern/exchange/openProject.ts';
import { PROJECT_VERSION } from '../../pattern/exchange/project.ts';
import { ProjectStore } from '../../server/storage/projectStore.ts';
import { client, sampleProject, startServer, temporaryFolder } from './harness.ts';

const FOLDER = fileURLToPath(new URL('../../fixtures/projects', import.meta.url));
const OLD = readdirSync(FOLDER)
  .filter((name) => name.endsWith('.json'))
  .map((name) => {
    const text = readFileSync(join(FOLDER, name), 'utf8');
    return { name, text, version: Number(/^version-(\d+)-/.exec(name)?.[1]) };
  });

/** Changes the data file behind the server's back, as an earlier version of the program would have written it. */
function write(file: string, sql: string, ...values: string[]): void {
  const database = new Libsql(file);
  database.prepare(sql).run(...values);
  database.close();
}

describe('what an earlier version left', () => {
  it('is at hand in every version there was', () => {
    expect([...new Set(OLD.map(({ version }) => version))].sort()).toEqual(
      Array.from({ length: PROJECT_VERSION }, (_, version) => version),
    );
  });

  it.each(OLD)(
    '$name in the store: read, kept as it is until it is saved, saved, laid, backed up',
    async ({ text }) => {
      const opened = openProject(text);
      if (!opened.ok) throw new Error(opened.message);
      const { send, store, file, url } = await startServer();
      const { id } = store.create(sampleProject());
      const address = `/api/projects/${id}`;
      // Documents were always stored on one line.
      const document = JSON.stringify(JSON.parse(text));
      write(file, 'UPDATE projects SET document = ? WHERE id = ?', document, id);
      const read = await send<StoredProject>('GET', address);
      expect(read).toMatchObject({ status: 200, body: { revision: 1 } });
      expect(read.body.project).toEqual(opened.project);
      expect(read.body.project.version).toBe(PROJECT_VERSION);

      // Out of a backup it comes in the same state on another machine, where nothing newer ever saw it.
      const backup = await fetch(`${url}/api/backup`);
      const other = await startServer();
      const restored = await fetch(`${other.url}/api/backup/restore`, {
        method: 'POST',
        headers: { 'content-type': 'application/gzip' },
        body: Buffer.from(await backup.arrayBuffer()),
      });
      expect(restored.status).toBe(200);
      const there = await client(other.url).send<StoredProject>('GET', address);
      expect(there.body.project).toEqual(opened.project);

      const lay = await send<LayState>('POST', '/api/lays', { project: read.body.project });
      expect(lay.status).toBe(202);
      const project = { ...read.body.project, notes: 'Saved anew' };
      expect((await send('PUT', address, { revision: 1, project })).status).toBe(200);
      // The document as it was is among the earlier versions.
      const before = await send<StoredProject>('GET', `${address}/revisions/1`);
      expect(before.body.project).toEqual(opened.project);
    },
  );

  it('the data file of before there was a shelf: projects stay, and cloth can be put on it', async () => {
    const file = join(temporaryFolder(), 'clothlay.sqlite');
    const first = new ProjectStore({ file });
    const stored = first.create(sampleProject());
    first.update(stored.id, 1, sampleProject({ name: 'Second' }));
    first.close();
    const database = new Libsql(file);
    database.exec('DROP TABLE shelf; DROP TABLE shelf_changes; PRAGMA user_version = 1');
    database.close();
    const { send, store } = await startServer({ file });
    expect(store.get(stored.id)?.project.name).toBe('Second');
    expect(store.revision(stored.id, 1)?.project).toEqual(sampleProject());
    expect((await send('GET', '/api/shelf')).body).toEqual({ entries: [] });
    const cloth = { kind: 'roll', id: 'r', name: 'Olive', materialId: 'shelf', widthMm: 1400 };
    const put = { kind: 'put', items: [{ id: 'r', cloth }] };
    expect((await send('POST', '/api/shelf/changes', put)).status).toBe(200);
    expect((await send<{ entries: unknown[] }>('GET', '/api/shelf')).body.entries).toHaveLength(1);
  });
});
