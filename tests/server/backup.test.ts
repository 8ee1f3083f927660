import { gunzipSync, gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import type { RestoreReport } from '../../pattern/exchange/backup.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { box } from '../support/layOf.ts';
import { sampleProject, startServer } from './harness.ts';

type Server = Awaited<ReturnType<typeof startServer>>;

const PICTURE = 'data:image/png;base64,iVBORw0KGgo=';

async function backUp({ url }: Server): Promise<Buffer> {
  const response = await fetch(`${url}/api/backup`);
  expect(response.status).toBe(200);
  return Buffer.from(await response.arrayBuffer());
}

async function restore({ url }: Server, file: Uint8Array): Promise<{ status: number; body: RestoreReport }> {
  const response = await fetch(`${url}/api/backup/restore`, {
    method: 'POST',
    headers: { 'content-type': 'application/gzip' },
    body: file as Uint8Array<ArrayBuffer>,
  });
  return { status: response.status, body: (await response.json()) as RestoreReport };
}

const put = ({ store }: Server, id: string, place = 'box 3'): void => {
  store.shelf.change({
    kind: 'put',
    items: [
      {
        id,
        cloth: {
          ...sampleProject({
            cloths: [
              { kind: 'remnant', id, name: `Olive ${id}`, materialId: 'main', outline: box(300, 200) },
            ],
          }).cloths[0]!,
        },
        fibre: '',
        place,
        picture: PICTURE,
        valueCents: null,
      },
    ],
  });
};

/** Everything the store can tell about what it holds. */
function all({ store }: Server) {
  const projects = store.list().map(({ id }) => ({
    now: store.get(id),
    earlier: store.revisions(id)!.map(({ revision }) => store.revision(id, revision)),
  }));
  return { projects, bin: store.binned(), shelf: store.shelf.list() };
}

/** Two projects, one with earlier versions and one without, a third in the bin, and two cloths on the shelf. */
async function filled(): Promise<Server> {
  const server = await startServer();
  const { store } = server;
  const first = store.create(sampleProject({ name: 'Pannier' }));
  for (const [place, notes] of ['one', 'two', 'three'].entries())
    store.update(first.id, place + 1, { ...first.project, notes });
  store.create(sampleProject({ name: 'Picnic roll' }));
  store.remove(store.create(sampleProject({ name: 'Given up' })).id);
  put(server, 'a');
  put(server, 'b');
  return server;
}

describe('a backup of everything', () => {
  it('brings an empty store to the same state: projects, versions, bin, shelf with pictures', async () => {
    const from = await filled();
    const to = await startServer();
    const { status, body } = await restore(to, await backUp(from));
    expect(status).toBe(200);
    expect(body).toMatchObject({ beside: [], unchanged: 0, shelfAdded: 2, shelfKept: [], leftOut: [] });
    expect([...body.added].sort()).toEqual(['Pannier', 'Picnic roll']);
    expect(body.binned).toEqual(['Given up']);
    const [a, b] = [all(from), all(to)];
    expect(b.projects).toEqual(a.projects);
    expect(b.shelf).toEqual(a.shelf);
    expect(b.shelf[0]!.picture).toBe(PICTURE);
    expect(b.bin.map(({ name, revision }) => [name, revision])).toEqual([['Given up', 1]]);
    expect(b.projects.flatMap(({ earlier }) => earlier)).toHaveLength(3);
  });

  it('changes nothing where everything is there already, however often', async () => {
    const server = await filled();
    const before = all(server);
    const file = await backUp(server);
    for (let time = 0; time < 2; time++) {
      const { body } = await restore(server, file);
      expect(body).toMatchObject({ added: [], beside: [], binned: [], unchanged: 3, shelfUnchanged: 2 });
      expect(all(server)).toEqual(before);
    }
  });

  it('over work that has gone on: keeps all of it, and puts what differs beside it', async () => {
    const server = await filled();
    const file = await backUp(server);
    const { store } = server;
    const idOf = (name: string) => store.list().find((entry) => entry.name === name)!.id;
    const [pannier, picnic] = [idOf('Pannier'), idOf('Picnic roll')];
    // One goes on, so that the backup's state is one of its versions; one is deleted; the shelf changes.
    const now = store.get(pannier)!;
    store.update(pannier, now.revision, { ...now.project, notes: 'gone on' });
    store.remove(picnic);
    put(server, 'b', 'box 9');
    store.shelf.change({ kind: 'remove', ids: ['a'] });
    const added = store.create(sampleProject({ name: 'Newer' }));
    const before = all(server);

    const { body } = await restore(server, file);
    expect(body).toMatchObject({ added: ['Picnic roll'], beside: [], unchanged: 2, shelfAdded: 1 });
    expect(body.shelfKept).toEqual(['Olive b']);
    expect(store.get(pannier)!.project.notes).toBe('gone on');
    expect(store.get(picnic)!.project.name).toBe('Picnic roll');
    expect(store.get(added.id)).toEqual(added);
    const after = all(server);
    for (const project of before.projects) expect(after.projects).toContainEqual(project);
    expect(after.shelf.map(({ id, place }) => [id, place]).sort()).toEqual([
      ['a', 'box 3'],
      ['b', 'box 9'],
    ]);
  });

  it('puts a state that is known no more beside the project, once', async () => {
    const from = await filled();
    const file = await backUp(from);
    // The same project went another way elsewhere: same ids, other documents.
    const other = await startServer();
    await restore(other, file);
    const lines = gunzipSync(file).toString().trimEnd().split('\n');
    const changed = lines.map((line) => line.replaceAll('"Picnic roll"', '"Picnic roll for four"'));
    const back = gzipSync(`${changed.join('\n')}\n`);
    const before = all(other);
    const first = await restore(other, back);
    expect(first.body.beside).toHaveLength(1);
    expect(first.body.beside[0]).toMatch(/^Picnic roll for four \(\d{4}-\d\d-\d\d\)$/);
    const after = all(other);
    for (const project of before.projects) expect(after.projects).toContainEqual(project);
    expect(after.projects).toHaveLength(before.projects.length + 1);
    const second = await restore(other, back);
    expect(second.body.beside).toEqual([]);
    expect(all(other)).toEqual(after);
  });

  it('is refused as a whole where it is cut off, damaged, no backup or from the future', async () => {
    const from = await filled();
    const file = await backUp(from);
    const text = gunzipSync(file).toString();
    const bad: readonly [Uint8Array, RegExp][] = [
      [file.subarray(0, file.length - 40), /cut off|damaged/],
      [file.subarray(0, file.length / 2), /cut off/],
      [Buffer.concat([file.subarray(0, 60), Buffer.alloc(20), file.subarray(80)]), /damaged|cut off/],
      [gzipSync(text.slice(0, text.lastIndexOf('{'))), /cut off/],
      [gzipSync(text.slice(0, -20)), /cut off|damaged/],
      [gzipSync(text.replace(/\n.*\n/, '\n')), /missing/],
      [Buffer.from(JSON.stringify(sampleProject())), /cut off|one project/],
      [Buffer.from(`${JSON.stringify(sampleProject())}\n`), /one project/],
      [Buffer.from('a parcel of cloth\n'), /no backup/],
      [Buffer.alloc(0), /empty/],
      [gzipSync(text.replace('"version":1', '"version":2')), /newer/],
    ];
    const to = await startServer();
    for (const [bytes, why] of bad) {
      const answer = await restore(to, bytes);
      expect(answer.status, String(why)).toBe(422);
      expect((answer.body as unknown as { detail: string }).detail).toMatch(why);
      expect(all(to)).toEqual({ projects: [], bin: [], shelf: [] });
    }
  });

  it('restores what can be read of one with a faulty project, and names the rest', async () => {
    const from = await filled();
    const text = gunzipSync(await backUp(from)).toString();
    // The present state of the project with versions loses its pieces' outlines; its versions stay.
    const lines = text.split('\n').map((line) => {
      const value = line === '' ? null : (JSON.parse(line) as { kind: string; document?: Project });
      if (value?.kind !== 'project' || value.document?.name !== 'Pannier') return line;
      return JSON.stringify({ ...value, document: { ...value.document, pieces: [{ id: 'x' }] } });
    });
    const to = await startServer();
    const { status, body } = await restore(to, gzipSync(lines.join('\n')));
    expect(status).toBe(200);
    expect(body.leftOut).toHaveLength(1);
    expect(body.leftOut[0]).toContain('“Pannier”');
    expect([...body.added].sort()).toEqual(['Pannier', 'Picnic roll']);
    expect(all(to).projects.find(({ now }) => now!.project.name === 'Pannier')!.now!.project.notes).toBe(
      'two',
    );
  });

  it('stops at a full disk, keeps what was there, and goes on where there is room again', async () => {
    const from = await startServer();
    const big = 'x'.repeat(19_000);
    for (let n = 0; n < 12; n++) from.store.create(sampleProject({ name: `Bag ${n}`, notes: `${n}${big}` }));
    const file = await backUp(from);
    const small = await startServer({ maxBytes: 150_000 });
    const mine = small.store.create(sampleProject({ name: 'Mine' }));
    const answer = await restore(small, file);
    expect(answer.status).toBe(507);
    expect(small.store.get(mine.id)).toEqual(mine);
    const half = small.store.list().length;
    expect(half).toBeLessThan(13);
    small.store.close();
    const again = await startServer({ file: small.file });
    const { body } = await restore(again, file);
    expect(body.added.length + body.unchanged).toBe(12);
    expect(again.store.list()).toHaveLength(13);
  });

  it('takes no other type of body, and is safe to be sent twice at once', async () => {
    const server = await filled();
    const { send } = server;
    expect((await send('POST', '/api/backup/restore', {})).status).toBe(415);
    const file = await backUp(server);
    const before = all(server);
    const answers = await Promise.all([restore(server, file), restore(server, file)]);
    for (const { status } of answers) expect([200, 503]).toContain(status);
    expect(answers.some(({ status }) => status === 200)).toBe(true);
    expect(all(server)).toEqual(before);
  });
});
