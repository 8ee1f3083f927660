import { describe, expect, it } from 'vitest';
import type { ProjectSummary, StoredProject } from '../../pattern/exchange/lay.ts';
import { KEPT_DAYS, KEPT_HOURS, KEPT_REVISIONS } from '../../server/storage/projectStore.ts';
import { sampleProject, startServer } from './harness.ts';

describe('projects', () => {
  it('are created, read, listed, written and deleted', async () => {
    const { send } = await startServer();
    expect((await send('GET', '/api/projects')).body).toEqual([]);

    const created = await send<StoredProject>('POST', '/api/projects', { project: sampleProject() });
    expect(created.status).toBe(201);
    expect(created.body).toMatchObject({ revision: 1, project: sampleProject() });
    const address = `/api/projects/${created.body.id}`;
    expect(created.headers.get('location')).toBe(address);

    expect((await send('GET', address)).body).toEqual(created.body);

    const project = sampleProject({ name: 'Saddle pouch' });
    const written = await send<StoredProject>('PUT', address, { revision: 1, project });
    expect(written.status).toBe(200);
    expect(written.body).toMatchObject({ id: created.body.id, revision: 2, project });

    const list = await send<ProjectSummary[]>('GET', '/api/projects');
    expect(list.body).toEqual([
      { id: created.body.id, name: 'Saddle pouch', revision: 2, updatedAt: written.body.updatedAt },
    ]);

    const deleted = await send('DELETE', address);
    expect([deleted.status, deleted.body]).toEqual([204, '']);
    expect((await send('GET', address)).status).toBe(404);
    expect((await send('GET', '/api/projects')).body).toEqual([]);
  });

  it('fill in what a document may leave out', async () => {
    const { send } = await startServer();
    const project = { format: 'clothlay-project', version: 2, name: 'Bare' };
    const { body } = await send<StoredProject>('POST', '/api/projects', { project });
    expect(body.project).toEqual(
      sampleProject({ name: 'Bare', pieces: [], materials: [], cutList: [], cloths: [] }),
    );
  });

  it('come back as they were typed, in any script', async () => {
    const { send } = await startServer();
    const project = sampleProject({ name: 'Ärmel ☂ 袋 😀', notes: 'tab\t, nul \0, lone \ud800, "quotes"\n' });
    const { body } = await send<StoredProject>('POST', '/api/projects', { project });
    const read = await send<StoredProject>('GET', `/api/projects/${body.id}`);
    expect(read.body.project).toEqual(project);
  });

  it('list the latest change first', async () => {
    let minute = 0;
    const { send } = await startServer({ now: () => new Date(Date.UTC(2030, 0, 1, 0, minute++)) });
    const ids: string[] = [];
    for (const name of ['One', 'Two', 'Three']) {
      const { body } = await send<StoredProject>('POST', '/api/projects', {
        project: sampleProject({ name }),
      });
      ids.push(body.id);
    }
    await send('PUT', `/api/projects/${ids[0]}`, {
      revision: 1,
      project: sampleProject({ name: 'One more' }),
    });
    const { body } = await send<ProjectSummary[]>('GET', '/api/projects');
    expect(body.map(({ name }) => name)).toEqual(['One more', 'Three', 'Two']);
  });

  it('refuse a write made from an old revision and say what is there', async () => {
    const { send } = await startServer();
    const { body } = await send<StoredProject>('POST', '/api/projects', { project: sampleProject() });
    const address = `/api/projects/${body.id}`;
    const mine = sampleProject({ name: 'Mine' });
    const theirs = sampleProject({ name: 'Theirs' });
    const first = await send<StoredProject>('PUT', address, { revision: 1, project: theirs });
    const second = await send('PUT', address, { revision: 1, project: mine });
    expect(second.status).toBe(409);
    expect(second.headers.get('content-type')).toContain('application/problem+json');
    expect(second.body).toMatchObject({
      type: 'urn:clothlay:problem:stale-revision',
      currentRevision: 2,
      updatedAt: first.body.updatedAt,
    });
    expect((await send<StoredProject>('GET', address)).body.project).toEqual(theirs);
    const fromTheFuture = await send('PUT', address, { revision: 7, project: mine });
    expect(fromTheFuture.status).toBe(409);
  });

  it('let exactly one of many writes of the same moment through', async () => {
    const { send } = await startServer();
    const { body } = await send<StoredProject>('POST', '/api/projects', { project: sampleProject() });
    const address = `/api/projects/${body.id}`;
    const writes = Array.from({ length: 20 }, (_, tab) =>
      send<StoredProject>('PUT', address, { revision: 1, project: sampleProject({ name: `Tab ${tab}` }) }),
    );
    const answers = await Promise.all(writes);
    const stored = answers.filter((answer) => answer.status === 200);
    expect(stored).toHaveLength(1);
    expect(answers.filter((answer) => answer.status === 409)).toHaveLength(19);
    expect((await send('GET', address)).body).toEqual(stored[0]!.body);
  });

  it('take a write again whose answer got lost', async () => {
    const { send } = await startServer();
    const { body } = await send<StoredProject>('POST', '/api/projects', { project: sampleProject() });
    const address = `/api/projects/${body.id}`;
    const write = { revision: 1, project: sampleProject({ name: 'Once' }) };
    const first = await send('PUT', address, write);
    const again = await send('PUT', address, write);
    expect(again).toMatchObject({ status: 200, body: first.body });
    expect((await send<ProjectSummary[]>('GET', `${address}/revisions`)).body).toHaveLength(1);
  });

  it('tell a project that never was from a deleted one', async () => {
    const { send } = await startServer();
    const write = { revision: 1, project: sampleProject() };
    const missing = await send('PUT', '/api/projects/nowhere', write);
    expect([missing.status, missing.body.detail]).toEqual([404, 'There is no project with this id.']);
    const { body } = await send<StoredProject>('POST', '/api/projects', { project: sampleProject() });
    await send('DELETE', `/api/projects/${body.id}`);
    const binned = await send('PUT', `/api/projects/${body.id}`, write);
    expect([binned.status, binned.body.detail]).toEqual([404, expect.stringContaining('bin')]);
    for (const [method, path] of [
      ['GET', ''],
      ['DELETE', ''],
      ['GET', '/revisions'],
      ['GET', '/revisions/1'],
    ]) {
      expect((await send(method!, `/api/projects/nowhere${path}`)).status).toBe(404);
    }
  });
});

describe('earlier revisions', () => {
  it('are listed and read, and can be written back', async () => {
    const { send } = await startServer();
    const { body } = await send<StoredProject>('POST', '/api/projects', { project: sampleProject() });
    const address = `/api/projects/${body.id}`;
    await send('PUT', address, { revision: 1, project: sampleProject({ name: 'Second', pieces: [] }) });
    await send('PUT', address, { revision: 2, project: sampleProject({ name: 'Third', cutList: [] }) });

    const list = await send<ProjectSummary[]>('GET', `${address}/revisions`);
    expect(list.body.map(({ revision, name }) => [revision, name])).toEqual([
      [2, 'Second'],
      [1, 'Handlebar pouch'],
    ]);
    const first = await send<StoredProject>('GET', `${address}/revisions/1`);
    expect(first.body).toEqual(body);
    const current = await send<StoredProject>('GET', `${address}/revisions/3`);
    expect(current.body.project.name).toBe('Third');
    for (const wrong of ['4', '0', '1.5', 'x', '1e999']) {
      expect((await send('GET', `${address}/revisions/${wrong}`)).status).toBe(404);
    }
    const back = await send<StoredProject>('PUT', address, { revision: 3, project: first.body.project });
    expect(back.body).toMatchObject({ revision: 4, project: body.project });
  });

  it(`keep the newest ${KEPT_REVISIONS} and beyond them the last of each of ${KEPT_DAYS} days`, async () => {
    const start = Date.UTC(2030, 0, 1);
    let hour = 0;
    const { store } = await startServer({ now: () => new Date(start + hour * 3_600_000) });
    const { id } = store.create(sampleProject());
    // Every six hours for sixty days: revisions 1 to 241, of which 241 is the current one.
    for (let revision = 1; revision <= 240; revision++) {
      hour = revision * 6;
      store.update(id, revision, sampleProject({ name: `At ${hour}` }));
    }
    const kept = store.revisions(id)!.map(({ revision }) => revision);
    const newest = Array.from({ length: KEPT_REVISIONS }, (_, index) => 240 - index);
    // Revision r was written at hour 6 (r − 1), so the last of a day is each multiple of four.
    const lastOfDays = Array.from({ length: KEPT_DAYS }, (_, index) => 240 - 4 * index);
    expect(kept).toEqual([...new Set([...newest, ...lastOfDays])].sort((one, other) => other - one));
  });

  it(`keep the last of each of ${KEPT_HOURS} hours beyond the newest`, async () => {
    let minute = 0;
    const { store } = await startServer({
      now: () => new Date(Date.UTC(2030, 0, 1) + minute * 60_000),
    });
    const { id } = store.create(sampleProject());
    // Every two minutes for five hours, all of one day: revision r was written at minute 2 (r − 1).
    for (let revision = 1; revision <= 149; revision++) {
      minute = revision * 2;
      store.update(id, revision, sampleProject({ name: `At ${minute}` }));
    }
    const kept = store.revisions(id)!.map(({ revision }) => revision);
    expect(kept).toEqual([...Array.from({ length: KEPT_REVISIONS }, (_, i) => 149 - i), 90, 60, 30]);
  });
});
