import { describe, expect, it } from 'vitest';
import { renameProject } from '../../client/state/projectCommands.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { settle } from './harness.ts';
import { Browser, FakeServer, opened, rename, renameUnsent, said } from './sessionWorld.ts';

describe('opening', () => {
  it('opens what the address asks for, else what was open last, else the newest', async () => {
    const { server, browser, session } = await opened();
    expect(session.project.name).toBe('First');
    const again = await browser.open(server);
    expect(again.project.name).toBe('First');
    const elsewhere = await new Browser().open(server, 'no such project');
    expect(elsewhere.project.name).toBe('First');
  });

  it('makes a project where there is none', async () => {
    const server = new FakeServer();
    const session = await new Browser().open(server);
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
    await renameUnsent(server, session, 'Unsent');
    const again = await browser.open(server);
    expect(again.project.name).toBe('Unsent');
    expect(said(again)).toEqual(['restored unsent']);
    await again.autosave.flush();
    expect(server.stored.get('p1')?.project.name).toBe('Unsent');
  });

  it('asks where that work has been overtaken by a newer version', async () => {
    const { server, browser, session } = await opened();
    await renameUnsent(server, session, 'Unsent');
    server.write('p1', 1, emptyProject('Theirs'));
    const again = await browser.open(server);
    expect(again.project.name).toBe('Unsent');
    expect(again.others.conflict.value?.theirs.project.name).toBe('Theirs');
    expect(server.stored.get('p1')?.project.name).toBe('Theirs');
  });
});

describe('without a connection', () => {
  it('goes on with this browser’s copy, and sends what was done when the server is back', async () => {
    const { server, browser } = await opened();
    server.isAway = true;
    const session = await browser.open(server, 'p1');
    expect(session.messages.shown.value.map(({ text }) => text)).toEqual(['from a copy']);
    await rename(session, 'Done offline');
    expect(session.autosave.state.value).toMatchObject({ kind: 'offline', keptHere: true });
    // And once more, as after a reload.
    const again = await browser.open(server, 'p1');
    expect(again.project.name).toBe('Done offline');
    server.isAway = false;
    await again.autosave.flush();
    expect(server.stored.get('p1')?.project.name).toBe('Done offline');
    expect(again.autosave.state.value).toEqual({ kind: 'saved' });
  });

  it('takes over what changed there meanwhile, where nothing was done here', async () => {
    const { server, browser } = await opened();
    server.isAway = true;
    const session = await browser.open(server, 'p1');
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
    await rename(session, 'Sent');
    server.isAway = true;
    await rename(session, 'Unsent');
    browser.copies.set('p1', old);
    const again = await browser.open(server, 'p1');
    expect(again.project.name).toBe('Unsent');
    server.isAway = false;
    await again.autosave.flush();
    expect(server.stored.get('p1')).toMatchObject({ revision: 3, project: { name: 'Unsent' } });
    expect(again.others.conflict.value).toBeNull();
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
    const again = await browser.open(server);
    expect(again.project.name).toBe('C');
    again.redo();
    expect(again.project.name).toBe('D');
    for (const name of ['C', 'B', 'A', 'First']) {
      again.undo();
      expect(again.project.name).toBe(name);
    }
    await again.autosave.flush();
    await again.steps?.flush();
    const third = await browser.open(server);
    expect(third.project.name).toBe('First');
    expect(third.history.value.future).toHaveLength(4);
  });

  it('go on behind a change that was made elsewhere', async () => {
    const { server, browser, session } = await opened();
    await rename(session, 'Mine');
    await session.steps?.flush();
    server.write('p1', 2, emptyProject('Theirs'));
    const again = await browser.open(server);
    expect(again.project.name).toBe('Theirs');
    again.undo();
    expect(again.project.name).toBe('Mine');
    again.undo();
    expect(again.project.name).toBe('First');
  });

  it('include going back to an earlier version', async () => {
    const { server, session } = await opened();
    await rename(session, 'Later');
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
