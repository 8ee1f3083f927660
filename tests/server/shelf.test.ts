import { describe, expect, it } from 'vitest';
import type { ShelfEntry } from '../../pattern/exchange/shelf.ts';
import { box } from '../support/layOf.ts';
import { startServer } from './harness.ts';

interface Answered {
  readonly entries: readonly ShelfEntry[];
  readonly change: number;
}

const remnant = (id: string, name: string, more: object = {}) => ({
  id,
  cloth: { kind: 'remnant', id, name, materialId: 'anything', outline: box(300, 200) },
  ...more,
});

describe('the shelf in the API', () => {
  it('keeps cloth, finds it, reserves it, takes it when it is cut, and takes steps back', async () => {
    const { send } = await startServer();
    const put = await send<Answered>('POST', '/api/shelf/changes', {
      kind: 'put',
      items: [remnant('a', 'Olive canvas', { place: 'box 3' }), remnant('b', 'Red vinyl')],
    });
    expect(put.status).toBe(200);
    const found = await send<Answered>('GET', '/api/shelf?search=box%203%20olive');
    expect(found.body.entries.map(({ id }) => id)).toEqual(['a']);

    const mine = { projectId: 'p1', projectName: 'Pannier' };
    await send('POST', '/api/shelf/changes', { kind: 'reserve', ids: ['a'], ...mine });
    const other = await send<{ detail: string }>('POST', '/api/shelf/changes', {
      kind: 'cut',
      ids: ['a'],
      projectId: 'p2',
      projectName: 'Picnic roll',
    });
    expect(other.status).toBe(422);
    expect(other.body.detail).toContain('Pannier');

    const cut = await send<Answered>('POST', '/api/shelf/changes', {
      kind: 'cut',
      ids: ['a'],
      items: [remnant('c', 'Olive canvas, offcut 1')],
      ...mine,
    });
    const kindOf = (id: string, { entries }: Answered) =>
      entries.find((entry) => entry.id === id)?.state.kind;
    expect([kindOf('a', cut.body), kindOf('c', cut.body)]).toEqual(['taken', 'free']);
    const undone = await send<Answered>('POST', `/api/shelf/changes/${cut.body.change}/undo`);
    expect([kindOf('a', undone.body), kindOf('c', undone.body)]).toEqual(['reserved', undefined]);
    const redone = await send<Answered>('POST', `/api/shelf/changes/${undone.body.change}/undo`);
    expect(kindOf('a', redone.body)).toBe('taken');
    expect((await send('POST', `/api/shelf/changes/${put.body.change}/undo`)).status).toBe(422);
    expect((await send('POST', '/api/shelf/changes/99/undo')).status).toBe(404);
  });

  it('names the field of bad input and stores nothing', async () => {
    const { send } = await startServer();
    for (const bad of [
      { kind: 'put', items: [] },
      { kind: 'put', items: [{ ...remnant('a', ''), cloth: { ...remnant('a', '').cloth } }] },
      { kind: 'put', items: [remnant('a', 'A', { valueCents: -1 })] },
      { kind: 'put', items: [remnant('a', 'A', { weighed: { grams: 0, gramsPerMetre: 125 } })] },
      { kind: 'nonsense' },
    ]) {
      const answer = await send<{ faults: { path: string }[] }>('POST', '/api/shelf/changes', bad);
      expect(answer.status).toBe(400);
      expect(answer.body.faults.length).toBeGreaterThan(0);
    }
    expect((await send<Answered>('GET', '/api/shelf')).body.entries).toEqual([]);
  });

  it('takes a picture by what it is, not by what it says it is', async () => {
    const { send } = await startServer();
    const put = (picture: string) =>
      send('POST', '/api/shelf/changes', { kind: 'put', items: [remnant('a', 'Olive', { picture })] });
    const script = Buffer.from('<script>alert(1)</script>').toString('base64');
    for (const picture of [
      `data:image/png;base64,${script}`,
      `data:image/jpeg;base64,${script}`,
      `data:image/svg+xml;base64,${script}`,
      `data:text/html;base64,iVBORw0KGgo${script}`,
      `data:image/png;base64,iVBORw0KGgo" onload="x`,
      'https://elsewhere.test/picture.png',
      `data:image/png;base64,iVBORw0KGgo${'A'.repeat(500_000)}`,
    ]) {
      expect((await put(picture)).status, picture.slice(0, 60)).toBe(400);
    }
    expect((await put('data:image/png;base64,iVBORw0KGgo=')).status).toBe(200);
  });
});
