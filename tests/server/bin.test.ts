import { describe, expect, it } from 'vitest';
import type { ProjectSummary, StoredProject } from '../../pattern/exchange/lay.ts';
import type { BinnedProject } from '../../pattern/exchange/storedProject.ts';
import { BIN_DAYS } from '../../server/storage/projectStore.ts';
import { sampleProject, startServer } from './harness.ts';

const DAY_MS = 86_400_000;

describe('the bin', () => {
  it('gives a deleted project back as it was, with its earlier revisions', async () => {
    const { send } = await startServer();
    const { body } = await send<StoredProject>('POST', '/api/projects', { project: sampleProject() });
    const address = `/api/projects/${body.id}`;
    const last = await send<StoredProject>('PUT', address, {
      revision: 1,
      project: sampleProject({ name: 'Last' }),
    });
    await send('DELETE', address);

    const bin = await send<BinnedProject[]>('GET', '/api/bin');
    expect(bin.body).toMatchObject([{ id: body.id, name: 'Last', revision: 2 }]);
    const { deletedAt, keptUntil } = bin.body[0]!;
    expect(Date.parse(keptUntil) - Date.parse(deletedAt)).toBe(BIN_DAYS * DAY_MS);

    const restored = await send<StoredProject>('POST', `/api/bin/${body.id}/restore`);
    expect(restored).toMatchObject({ status: 200, body: last.body });
    expect(restored.headers.get('location')).toBe(address);
    expect((await send('GET', address)).body).toEqual(last.body);
    expect((await send<ProjectSummary[]>('GET', `${address}/revisions`)).body).toHaveLength(1);
    expect((await send('GET', '/api/bin')).body).toEqual([]);
  });

  it('has nothing to give back twice', async () => {
    const { send } = await startServer();
    const { body } = await send<StoredProject>('POST', '/api/projects', { project: sampleProject() });
    expect((await send('POST', `/api/bin/${body.id}/restore`)).status).toBe(404);
    await send('DELETE', `/api/projects/${body.id}`);
    expect((await send('POST', `/api/bin/${body.id}/restore`)).status).toBe(200);
    expect((await send('POST', `/api/bin/${body.id}/restore`)).status).toBe(404);
  });

  it(`forgets after ${BIN_DAYS} days`, async () => {
    let now = Date.UTC(2030, 0, 1);
    const { send, store } = await startServer({ now: () => new Date(now) });
    const old = store.create(sampleProject());
    store.update(old.id, 1, sampleProject({ name: 'Changed' }));
    store.remove(old.id);
    const young = store.create(sampleProject());
    now += BIN_DAYS * DAY_MS;
    expect(store.binned().map(({ id }) => id)).toEqual([old.id]);
    now += 1;
    expect(store.binned()).toEqual([]);
    expect((await send('POST', `/api/bin/${old.id}/restore`)).status).toBe(404);
    store.remove(young.id);
    expect(store.binned().map(({ id }) => id)).toEqual([young.id]);
  });
});
