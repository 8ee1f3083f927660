/** One project open in two places: what is joined, what is asked, and that nothing is written over unseen. */
import { describe, expect, it } from 'vitest';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import { settle } from './harness.ts';
import { opened, rename, renameUnsent, said } from './sessionWorld.ts';

describe('two at once', () => {
  async function conflicting() {
    const parts = await opened();
    parts.server.write('p1', 1, emptyProject('Theirs'));
    await rename(parts.session, 'Mine');
    await settle();
    return parts;
  }

  it('shows both versions and sends nothing until one is chosen', async () => {
    const { server, session } = await conflicting();
    expect(session.others.conflict.value?.theirs.project.name).toBe('Theirs');
    await rename(session, 'Mine, more');
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
    await rename(session, 'Mine');
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
    await renameUnsent(server, session, 'Mine');
    server.write('p1', 1, noted('First', 'theirs'));
    const again = await browser.open(server);
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
      await rename(session, 'Mine');
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
    await renameUnsent(server, session, 'Mine');
    server.write('p1', 1, emptyProject('Theirs'));
    for (let visits = 0; visits < 3; visits++) {
      const again = await browser.open(server);
      await again.autosave.flush();
      expect(again.others.conflict.value?.theirs.project.name).toBe('Theirs');
      expect(server.stored.get('p1')?.project.name).toBe('Theirs');
    }
  });

  it('asks where what both began with is no longer kept', async () => {
    const { server, browser, session } = await opened();
    await renameUnsent(server, session, 'Mine');
    server.write('p1', 1, noted('First', 'theirs'));
    server.earlier.length = 0;
    const again = await browser.open(server);
    expect(again.others.conflict.value).toMatchObject({ base: null });
    expect(again.others.joinedFor('mine')).toBeNull();
  });
});
