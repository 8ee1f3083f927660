import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, readFileSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { StoredProject } from '../../pattern/exchange/lay.ts';
import { ProjectStore } from '../../server/storage/projectStore.ts';
import { afterTest, sampleProject, startServer, temporaryFolder } from './harness.ts';
import { startListening } from './program.ts';

/** Whether a command does what these tests need of it here: it may be missing, or forbidden in a container. */
const can = (...command: [string, ...string[]]): boolean =>
  spawnSync(command[0], command.slice(1)).status === 0;
const canMount = can('unshare', '-m', '--', 'sh', '-c', 'mount -t tmpfs none /mnt');
const canLimit = can('prlimit', '--version');

const named = (number: number) =>
  sampleProject({ name: `Version ${number}`, notes: 'n'.repeat(number * 700) });

describe('a power cut in the middle of a write', () => {
  /** What lies on the disk after eight writes, and how long the log was once each was acknowledged. */
  function image() {
    const folder = temporaryFolder();
    const file = join(folder, 'clothlay.sqlite');
    const store = new ProjectStore({ file });
    afterTest(() => store.close());
    const { id } = store.create(named(1));
    const log = `${file}-wal`;
    const lengths = [statSync(log).size];
    for (let revision = 1; revision < 8; revision++) {
      store.update(id, revision, named(revision + 1));
      lengths.push(statSync(log).size);
    }
    // Copied while it is open: nothing has been tidied up.
    const copy = (): string => {
      const to = temporaryFolder();
      for (const end of ['', '-wal']) cpSync(file + end, join(to, `clothlay.sqlite${end}`));
      return join(to, 'clothlay.sqlite');
    };
    return { id, lengths, copy };
  }

  function opened(file: string, id: string): StoredProject | undefined {
    const store = new ProjectStore({ file });
    try {
      const stored = store.get(id);
      if (stored === undefined) return undefined;
      // Each earlier version is there too, whole.
      for (const { revision } of store.revisions(id)!)
        expect(store.revision(id, revision)?.project).toEqual(named(revision));
      expect(store.revisions(id)).toHaveLength(stored.revision - 1);
      // And it takes the next write.
      expect(store.update(id, stored.revision, named(20)).kind).toBe('stored');
      return stored;
    } finally {
      store.close();
    }
  }

  it('wherever the log is cut off, leaves every acknowledged version and none by half', () => {
    const { id, lengths, copy } = image();
    expect(lengths).toEqual([...lengths].sort((one, other) => one - other));
    const longest = lengths.at(-1)!;
    fc.assert(
      fc.property(fc.integer({ min: lengths[0]!, max: longest }), (length) => {
        const file = copy();
        truncateSync(`${file}-wal`, length);
        const acknowledged = lengths.filter((each) => each <= length).length;
        const stored = opened(file, id);
        expect(stored?.revision).toBe(acknowledged);
        expect(stored?.project).toEqual(named(acknowledged));
      }),
      { numRuns: 30 },
    );
  });

  it('with what was being written garbled, leaves what was acknowledged before', () => {
    const { id, lengths, copy } = image();
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 7 }), fc.integer({ min: 0, max: 255 }), (torn, byte) => {
        const file = copy();
        const bytes = readFileSync(`${file}-wal`);
        // A sector of the write after the last acknowledged one holds something else.
        const at = lengths[torn - 1]!;
        bytes.fill(byte, at + 24, at + 24 + 512);
        writeFileSync(`${file}-wal`, bytes);
        const stored = opened(file, id);
        expect(stored?.revision).toBe(torn);
        expect(stored?.project).toEqual(named(torn));
      }),
      { numRuns: 20 },
    );
  });
});

describe.skipIf(!canMount)(
  `a disk that is full${canMount ? '' : ' (skipped: nothing can be mounted here)'}`,
  { timeout: 120_000 },
  () => {
    it('takes nothing by half, gives what it has, and goes on where there is room again', async () => {
      const folder = temporaryFolder();
      const mount = `mount -t tmpfs -o size=4m none ${folder} && head -c 2m /dev/zero > ${folder}/ballast && exec "$@"`;
      const { send, child } = await startListening({ DATA_DIR: folder }, [
        'unshare',
        '-m',
        '--',
        'sh',
        '-c',
        mount,
        'sh',
      ]);
      const created = await send<StoredProject>('POST', '/api/projects', { project: named(1) });
      const address = `/api/projects/${created.body.id}`;
      const large = (revision: number) =>
        sampleProject({ name: `Large ${revision}`, notes: 'n'.repeat(20_000) });
      let revision = 1;
      const put = () => send<StoredProject>('PUT', address, { revision, project: large(revision) });
      let answer = await put();
      while (answer.status === 200) {
        revision = answer.body.revision;
        answer = await put();
      }
      expect(answer).toMatchObject({ status: 507, body: { type: 'urn:clothlay:problem:storage-full' } });
      expect(revision).toBeGreaterThan(2);
      const kept = await send<StoredProject>('GET', address);
      expect(kept.body).toMatchObject({ revision, project: large(revision - 1) });
      expect((await send<unknown[]>('GET', `${address}/revisions`)).body).toHaveLength(
        Math.min(revision - 1, 50),
      );
      expect((await send('GET', '/api/projects')).status).toBe(200);
      // Seen from outside the process's own view of the disks.
      rmSync(`/proc/${child.pid}/root${folder}/ballast`);
      const after = await put();
      expect(after).toMatchObject({
        status: 200,
        body: { revision: revision + 1, project: large(revision) },
      });
    });
  },
);

describe.skipIf(!canLimit)(
  `a disk that gives up in the middle of a write${canLimit ? '' : ' (skipped: no prlimit here)'}`,
  { timeout: 120_000 },
  () => {
    it('costs that write alone, also when the program is killed over it', async () => {
      const folder = temporaryFolder();
      const { send, child, ended } = await startListening({ DATA_DIR: folder });
      const created = await send<StoredProject>('POST', '/api/projects', { project: named(1) });
      const address = `/api/projects/${created.body.id}`;
      const log = statSync(join(folder, 'clothlay.sqlite-wal')).size;
      // No file may grow beyond a few pages more: the write that does not fit is cut off inside.
      execFileSync('prlimit', ['--pid', String(child.pid), `--fsize=${log + 20_000}:`]);
      const large = sampleProject({ name: 'Too much', notes: 'n'.repeat(20_000) });
      const refused = await send('PUT', address, { revision: 1, project: large });
      const twice = await send('POST', '/api/projects', {
        project: sampleProject({ notes: 'n'.repeat(19_999) }),
      });
      for (const answer of [refused, twice]) {
        expect([503, 507]).toContain(answer.status);
        expect(answer.body.detail).toMatch(/nothing was stored/);
      }
      expect((await send<StoredProject>('GET', address)).body).toEqual(created.body);
      child.kill('SIGKILL');
      await ended;
      const again = await startListening({ DATA_DIR: folder });
      expect((await again.send<StoredProject>('GET', address)).body).toEqual(created.body);
      const stored = await again.send<StoredProject>('PUT', address, { revision: 1, project: large });
      expect(stored).toMatchObject({ status: 200, body: { revision: 2 } });
    });
  },
);

describe('a slow disk', () => {
  it('makes writers wait, one after the other, and loses none of them', async () => {
    const { send, store } = await startServer();
    const { id } = store.create(named(1));
    const update = store.update.bind(store);
    // As when the disk takes a moment to say that it has synced: the thread stands still meanwhile.
    store.update = (...parts) => {
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 150);
      return update(...parts);
    };
    const address = `/api/projects/${id}`;
    const answers = await Promise.all([
      ...[2, 3, 4].map((number) => send('PUT', address, { revision: 1, project: named(number) })),
      send('POST', '/api/projects', { project: sampleProject({ name: 'Beside' }) }),
      send('GET', address),
    ]);
    const statuses = answers.map(({ status }) => status);
    expect(statuses.slice(0, 3).sort()).toEqual([200, 409, 409]);
    expect(statuses.slice(3)).toEqual([201, 200]);
    const winner = [2, 3, 4][statuses.indexOf(200)]!;
    expect(store.get(id)).toMatchObject({ revision: 2, project: named(winner) });
    expect(store.list().map(({ name }) => name)).toContain('Beside');
  });
});
