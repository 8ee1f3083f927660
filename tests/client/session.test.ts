import { describe, expect, it } from 'vitest';
import { LocalKeep } from '../../client/state/localKeep.ts';
import { Messages } from '../../client/state/messages.ts';
import { renameProject } from '../../client/state/projectCommands.ts';
import { Session } from '../../client/state/session.ts';
import { StepLog } from '../../client/state/stepLog.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import type { StoredProject } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { MemoryStepStore, MemoryStorage, settle } from './harness.ts';

const TIME = '2026-01-02T03:04:05.000Z';

/** A server with two projects, in memory, that refuses stale writes as the real one does. */
class FakeServer {
  readonly stored = new Map<string, StoredProject>();
  readonly bin = new Map<string, StoredProject>();
  readonly earlier: StoredProject[] = [];
  isAway = false;
  #last = 0;

  add(project: Project): StoredProject {
    this.#last += 1;
    const stored = { id: `p${this.#last}`, revision: 1, updatedAt: TIME, project };
    this.stored.set(stored.id, stored);
    return stored;
  }

  read(id: string): StoredProject {
    const stored = this.stored.get(id);
    if (!stored || this.isAway) throw new Error(this.isAway ? 'away' : `no project ${id}`);
    return stored;
  }

  versions(id: string) {
    return this.earlier
      .filter((stored) => stored.id === id)
      .map(({ project, ...rest }) => ({ ...rest, name: project.name }));
  }

  version(id: string, revision: number): StoredProject {
    const found = this.earlier.find((stored) => stored.id === id && stored.revision === revision);
    if (!found) throw new Error(`revision ${revision} is not kept`);
    return found;
  }

  write(id: string, revision: number, project: Project): StoredProject | 'stale' {
    const stored = this.read(id);
    if (stored.revision !== revision) return 'stale';
    this.earlier.unshift(stored);
    const next = { ...stored, revision: revision + 1, project };
    this.stored.set(id, next);
    return next;
  }
}

/** One browser: what it keeps outlives a session, as a reload does. */
class Browser {
  readonly storage = new MemoryStorage();
  readonly steps = new MemoryStepStore();
  #tabs = 0;
  lastProject: string | null = null;
  /** What it had of each project last, as a service worker keeps it. */
  readonly copies = new Map<string, StoredProject>();

  copy(id: string): StoredProject & { readonly isCopy: boolean } {
    const copy = this.copies.get(id);
    if (!copy) throw new Error('away');
    return { ...copy, isCopy: true };
  }

  #copied(stored: StoredProject): StoredProject {
    this.copies.set(stored.id, stored);
    return stored;
  }

  visit(server: FakeServer): Session {
    const words = {
      untitled: 'New',
      undoLabel: 'Undo',
      copyOf: (name: string) => `${name} copy`,
      mineOf: (name: string) => `${name} mine`,
      deleted: (name: string) => `deleted ${name}`,
      updatedElsewhere: 'updated elsewhere',
      restoredUnsent: 'restored unsent',
      fromCopy: 'from a copy',
      joined: 'joined',
      wentBack: (time: string) => `back to ${time}`,
      undid: (name: string) => `undid ${name}`,
      layers: (material: string, added: readonly string[], gone: readonly string[]) =>
        `${material}: +${added.join(' ')} -${gone.join(' ')}`,
      redid: (name: string) => `redid ${name}`,
    };
    return new Session({
      projects: {
        list: async () =>
          [...server.stored.values()].map(({ project, ...rest }) => ({ ...rest, name: project.name })),
        read: async (id) => (server.isAway ? this.copy(id) : this.#copied(server.read(id))),
        readNow: async (id) => server.read(id),
        create: async (project) => server.add(project),
        remove: async (id) => {
          server.bin.set(id, server.read(id));
          server.stored.delete(id);
        },
        restore: async (id) => {
          const stored = server.bin.get(id);
          if (!stored) throw new Error(`nothing called ${id} in the bin`);
          server.stored.set(id, stored);
          return stored;
        },
        versions: async (id) => server.versions(id),
        version: async (id, revision) => server.version(id, revision),
        explain: String,
      },
      saving: {
        // Saved only when the test says so, by `flush`.
        later: () => () => undefined,
        now: () => 0,
        send: async (id, revision, project) => {
          if (server.isAway) return { kind: 'offline' };
          const result = server.write(id, revision, project);
          return result === 'stale' ? { kind: 'conflict' } : { kind: 'saved', revision: result.revision };
        },
      },
      laying: {
        request: async () => 'lay-1',
        watch: () => () => undefined,
        cancel: async () => null,
        remember: () => undefined,
        forget: () => undefined,
        now: () => TIME,
        explain: String,
        words: { lost: 'lost', failed: 'failed' },
      },
      keep: new LocalKeep(this.storage),
      steps: new StepLog(
        { store: this.steps, later: () => () => undefined, now: () => TIME, onTrouble: () => undefined },
        `tab ${++this.#tabs}`,
      ),
      messages: new Messages(() => undefined),
      remember: (id) => {
        this.lastProject = id;
      },
      recall: () => this.lastProject,
      words,
    });
  }
}

async function opened() {
  const server = new FakeServer();
  const first = server.add(emptyProject('First'));
  server.add(emptyProject('Second'));
  const browser = new Browser();
  const session = browser.visit(server);
  await session.begin(first.id);
  return { server, browser, session };
}

const said = (session: Session): string[] => session.messages.shown.value.map((message) => message.text);

describe('opening', () => {
  it('opens what the address asks for, else what was open last, else the newest', async () => {
    const { server, browser, session } = await opened();
    expect(session.project.name).toBe('First');
    const again = browser.visit(server);
    await again.begin('');
    expect(again.project.name).toBe('First');
    const elsewhere = new Browser().visit(server);
    await elsewhere.begin('no such project');
    expect(elsewhere.project.name).toBe('First');
  });

  it('makes a project where there is none', async () => {
    const server = new FakeServer();
    const session = new Browser().visit(server);
    await session.begin('');
    expect(session.status.value).toEqual({ kind: 'ready', projectId: 'p1' });
    expect(server.stored.size).toBe(1);
  });

  it('sends what is unsent before it goes to another project', async () => {
    const { server, session } = await opened();
    session.do(renameProject('Renamed'));
    await session.open('p2');
    expect(server.stored.get('p1')?.project.name).toBe('Renamed');
    expect(session.project.name).toBe('Second');
  });

  it('brings back work that a closed window had not sent', async () => {
    const { server, browser, session } = await opened();
    server.isAway = true;
    session.do(renameProject('Unsent'));
    await session.autosave.flush();
    server.isAway = false;
    const again = browser.visit(server);
    await again.begin('');
    expect(again.project.name).toBe('Unsent');
    expect(said(again)).toEqual(['restored unsent']);
    await again.autosave.flush();
    expect(server.stored.get('p1')?.project.name).toBe('Unsent');
  });

  it('asks where that work has been overtaken by a newer version', async () => {
    const { server, browser, session } = await opened();
    server.isAway = true;
    session.do(renameProject('Unsent'));
    await session.autosave.flush();
    server.isAway = false;
    server.write('p1', 1, emptyProject('Theirs'));
    const again = browser.visit(server);
    await again.begin('');
    expect(again.project.name).toBe('Unsent');
    expect(again.others.conflict.value?.theirs.project.name).toBe('Theirs');
    expect(server.stored.get('p1')?.project.name).toBe('Theirs');
  });
});

describe('without a connection', () => {
  it('goes on with this browser’s copy, and sends what was done when the server is back', async () => {
    const { server, browser } = await opened();
    server.isAway = true;
    const session = browser.visit(server);
    await session.begin('p1');
    expect(session.messages.shown.value.map(({ text }) => text)).toEqual(['from a copy']);
    session.do(renameProject('Done offline'));
    await session.autosave.flush();
    expect(session.autosave.state.value).toMatchObject({ kind: 'offline', keptHere: true });
    // And once more, as after a reload.
    const again = browser.visit(server);
    await again.begin('p1');
    expect(again.project.name).toBe('Done offline');
    server.isAway = false;
    await again.autosave.flush();
    expect(server.stored.get('p1')?.project.name).toBe('Done offline');
    expect(again.autosave.state.value).toEqual({ kind: 'saved' });
  });

  it('takes over what changed there meanwhile, where nothing was done here', async () => {
    const { server, browser } = await opened();
    server.isAway = true;
    const session = browser.visit(server);
    await session.begin('p1');
    await session.autosave.flush();
    server.isAway = false;
    server.write('p1', 1, emptyProject('Theirs'));
    await session.autosave.flush();
    await settle();
    expect(session.project.name).toBe('Theirs');
    expect(session.others.conflict.value).toBeNull();
    await session.autosave.flush();
    expect(server.stored.get('p1')).toMatchObject({ revision: 2, project: { name: 'Theirs' } });
  });

  it('brings unsent work back from a copy that is older than it', async () => {
    const { server, browser, session } = await opened();
    const old = browser.copies.get('p1')!;
    session.do(renameProject('Sent'));
    await session.autosave.flush();
    server.isAway = true;
    session.do(renameProject('Unsent'));
    await session.autosave.flush();
    browser.copies.set('p1', old);
    const again = browser.visit(server);
    await again.begin('p1');
    expect(again.project.name).toBe('Unsent');
    server.isAway = false;
    await again.autosave.flush();
    expect(server.stored.get('p1')).toMatchObject({ revision: 3, project: { name: 'Unsent' } });
    expect(again.others.conflict.value).toBeNull();
  });
});

describe('two at once', () => {
  async function conflicting() {
    const parts = await opened();
    parts.server.write('p1', 1, emptyProject('Theirs'));
    parts.session.do(renameProject('Mine'));
    await parts.session.autosave.flush();
    await settle();
    return parts;
  }

  it('shows both versions and sends nothing until one is chosen', async () => {
    const { server, session } = await conflicting();
    expect(session.others.conflict.value?.theirs.project.name).toBe('Theirs');
    session.do(renameProject('Mine, more'));
    await session.autosave.flush();
    expect(server.stored.get('p1')?.project.name).toBe('Theirs');
  });

  it('takes theirs, with mine one undo away', async () => {
    const { server, session } = await conflicting();
    session.others.keepTheirs();
    expect(session.project.name).toBe('Theirs');
    expect(session.autosave.state.value).toEqual({ kind: 'saved' });
    session.undo();
    await session.autosave.flush();
    expect(server.stored.get('p1')).toMatchObject({ revision: 3, project: { name: 'Mine' } });
  });

  it('keeps mine as a project of its own, theirs untouched, the history going on', async () => {
    const { server, session } = await conflicting();
    await session.others.keepBoth();
    expect(session.project.name).toBe('Mine mine');
    expect(session.projectId).toBe('p3');
    expect(server.stored.get('p1')?.project.name).toBe('Theirs');
    session.undo();
    session.undo();
    expect(session.project.name).toBe('First');
  });

  it('takes over what was saved elsewhere when the page comes to the front with nothing unsent', async () => {
    const { server, session } = await opened();
    server.write('p1', 1, emptyProject('Newer'));
    await session.others.lookForNews();
    expect(session.project.name).toBe('Newer');
    expect(said(session)).toEqual(['updated elsewhere']);
  });
});

describe('two at once, on different things', () => {
  const noted = (name: string, notes: string): Project => ({ ...emptyProject(name), notes });

  it('joins both without asking, and sends what came of it', async () => {
    const { server, session } = await opened();
    server.write('p1', 1, noted('First', 'theirs'));
    session.do(renameProject('Mine'));
    await session.autosave.flush();
    await settle();
    expect(session.others.conflict.value).toBeNull();
    expect(session.project).toMatchObject({ name: 'Mine', notes: 'theirs' });
    expect(said(session)).toContain('joined');
    await session.autosave.flush();
    expect(server.stored.get('p1')).toMatchObject({
      revision: 3,
      project: { name: 'Mine', notes: 'theirs' },
    });
    session.undo();
    expect(session.project).toMatchObject({ name: 'Mine', notes: '' });
  });

  it('joins work that waited in a closed window with what came meanwhile', async () => {
    const { server, browser, session } = await opened();
    server.isAway = true;
    session.do(renameProject('Mine'));
    await session.autosave.flush();
    server.isAway = false;
    server.write('p1', 1, noted('First', 'theirs'));
    const again = browser.visit(server);
    await again.begin('');
    expect(again.others.conflict.value).toBeNull();
    await again.autosave.flush();
    expect(server.stored.get('p1')?.project).toMatchObject({ name: 'Mine', notes: 'theirs' });
  });

  it('asks where both changed the same, and joins the rest with the side that was chosen', async () => {
    for (const [side, name] of [
      ['mine', 'Mine'],
      ['theirs', 'Theirs'],
    ] as const) {
      const { server, session } = await opened();
      server.write('p1', 1, noted('Theirs', 'theirs'));
      session.do(renameProject('Mine'));
      await session.autosave.flush();
      await settle();
      expect(session.others.joinedFor(side)?.clashes.map(({ path }) => path)).toEqual([['name']]);
      expect(server.stored.get('p1')?.project.name).toBe('Theirs');
      session.others.keepJoined(side);
      await session.autosave.flush();
      expect(server.stored.get('p1')?.project).toMatchObject({ name, notes: 'theirs' });
      expect(session.others.conflict.value).toBeNull();
    }
  });

  it('goes on asking after a reload, however often: theirs is never written over unseen', async () => {
    const { server, browser, session } = await opened();
    server.isAway = true;
    session.do(renameProject('Mine'));
    await session.autosave.flush();
    server.isAway = false;
    server.write('p1', 1, emptyProject('Theirs'));
    for (let visits = 0; visits < 3; visits++) {
      const again = browser.visit(server);
      await again.begin('');
      await again.autosave.flush();
      expect(again.others.conflict.value?.theirs.project.name).toBe('Theirs');
      expect(server.stored.get('p1')?.project.name).toBe('Theirs');
    }
  });

  it('asks where what both began with is no longer kept', async () => {
    const { server, browser, session } = await opened();
    server.isAway = true;
    session.do(renameProject('Mine'));
    await session.autosave.flush();
    server.isAway = false;
    server.write('p1', 1, noted('First', 'theirs'));
    server.earlier.length = 0;
    const again = browser.visit(server);
    await again.begin('');
    expect(again.others.conflict.value).toMatchObject({ base: null });
    expect(again.others.joinedFor('mine')).toBeNull();
  });
});

describe('steps', () => {
  it('can be taken back and made again after a reload, as far as ever', async () => {
    const { server, browser, session } = await opened();
    for (const name of ['A', 'B', 'C', 'D']) {
      session.do(renameProject(name));
      session.seal();
    }
    session.undo();
    await session.autosave.flush();
    await session.steps?.flush();
    const again = browser.visit(server);
    await again.begin('');
    expect(again.project.name).toBe('C');
    again.redo();
    expect(again.project.name).toBe('D');
    for (const name of ['C', 'B', 'A', 'First']) {
      again.undo();
      expect(again.project.name).toBe(name);
    }
    await again.autosave.flush();
    await again.steps?.flush();
    const third = browser.visit(server);
    await third.begin('');
    expect(third.project.name).toBe('First');
    expect(third.history.value.future).toHaveLength(4);
  });

  it('go on behind a change that was made elsewhere', async () => {
    const { server, browser, session } = await opened();
    session.do(renameProject('Mine'));
    await session.autosave.flush();
    await session.steps?.flush();
    server.write('p1', 2, emptyProject('Theirs'));
    const again = browser.visit(server);
    await again.begin('');
    expect(again.project.name).toBe('Theirs');
    again.undo();
    expect(again.project.name).toBe('Mine');
    again.undo();
    expect(again.project.name).toBe('First');
  });

  it('include going back to an earlier version', async () => {
    const { server, session } = await opened();
    session.do(renameProject('Later'));
    await session.autosave.flush();
    const [version] = await session.versions();
    session.goBackTo((await session.version(version!.revision)).project, 'noon');
    expect(session.project.name).toBe('First');
    expect(said(session)).toContain('back to noon');
    await session.autosave.flush();
    expect(server.stored.get('p1')).toMatchObject({ revision: 3, project: { name: 'First' } });
    session.undo();
    expect(session.project.name).toBe('Later');
  });
});

describe('deleting', () => {
  it('goes on with another project and can be taken back', async () => {
    const { server, session } = await opened();
    await session.remove('p1');
    expect(session.project.name).toBe('Second');
    const offer = session.messages.shown.value.find((message) => message.text === 'deleted First');
    offer?.action?.run();
    await settle();
    expect(session.project.name).toBe('First');
    expect(server.stored.has('p1')).toBe(true);
  });
});

describe('a word about what was done', () => {
  it('offers to take back that very step, and goes once something else is done', async () => {
    const { session } = await opened();
    session.do(renameProject('A'));
    session.seal();
    session.announce('renamed');
    expect(said(session)).toEqual(['renamed']);
    session.do(renameProject('B'));
    expect(said(session)).toEqual([]);
  });
});
