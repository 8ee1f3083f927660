import { LocalKeep } from '../../client/state/localKeep.ts';
import { Messages } from '../../client/state/messages.ts';
import { renameProject } from '../../client/state/projectCommands.ts';
import { Session } from '../../client/state/session.ts';
import { StepLog } from '../../client/state/stepLog.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import type { StoredProject } from '../../pattern/exchange/lay.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { MemoryStepStore, MemoryStorage } from './harness.ts';

const TIME = '2026-01-02T03:04:05.000Z';

/** A server with two projects, in memory, that refuses stale writes as the real one does. */
export class FakeServer {
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
export class Browser {
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

  /** A session that has begun, as when the page is opened or loaded again. */
  async open(server: FakeServer, projectId = ''): Promise<Session> {
    const session = this.visit(server);
    await session.begin(projectId);
    return session;
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

/** A server with two projects, a browser, and a session that has the first of them open. */
export async function opened() {
  const server = new FakeServer();
  const first = server.add(emptyProject('First'));
  server.add(emptyProject('Second'));
  const browser = new Browser();
  const session = await browser.open(server, first.id);
  return { server, browser, session };
}

/** The words that stand on the page. */
export const said = (session: Session): string[] =>
  session.messages.shown.value.map((message) => message.text);

/** Gives the project a name and lets the page save it. */
export async function rename(session: Session, name: string): Promise<void> {
  session.do(renameProject(name));
  await session.autosave.flush();
}

/** The same while the server cannot be reached: what waits to be sent afterwards. */
export async function renameUnsent(server: FakeServer, session: Session, name: string): Promise<void> {
  server.isAway = true;
  await rename(session, name);
  server.isAway = false;
}
