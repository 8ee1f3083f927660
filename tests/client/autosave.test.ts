import { describe, expect, it } from 'vitest';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { SavingWorld } from './harness.ts';

const project = (name: string) => emptyProject(name, 'cm');

function opened(): SavingWorld {
  const world = new SavingWorld();
  world.autosave.open('p1', 7);
  return world;
}

describe('saving by itself', () => {
  it('sends a change after a pause, with the revision it was made from', async () => {
    const world = opened();
    world.autosave.changed(project('a'));
    expect(world.autosave.state.value.kind).toBe('saving');
    await world.passes(1000);
    expect(world.sent.map((send) => [send.projectId, send.revision, send.project.name])).toEqual([
      ['p1', 7, 'a'],
    ]);
    expect(world.autosave.state.value).toEqual({ kind: 'saved' });
    expect(world.autosave.revision).toBe(8);
    expect(world.storage.entries.size).toBe(0);
  });

  it('waits no longer than a second however busy the typing', async () => {
    const world = opened();
    for (let i = 0; i < 10; i++) {
      world.autosave.changed(project(`a${i}`));
      await world.passes(200);
    }
    expect(world.sent[0]!.at).toBeLessThanOrEqual(1000);
    expect(world.sent.length).toBeGreaterThan(1);
  });

  it('sends the last of several quick changes once, not each', async () => {
    const world = opened();
    for (const name of ['a', 'ab', 'abc']) world.autosave.changed(project(name));
    await world.passes(1000);
    expect(world.sent.map((send) => send.project.name)).toEqual(['abc']);
  });

  it('keeps work here while the server is away and sends it when it is back', async () => {
    const world = opened();
    world.answers = [{ kind: 'offline' }, { kind: 'offline' }];
    world.autosave.changed(project('a'));
    await world.passes(500);
    expect(world.autosave.state.value).toEqual({ kind: 'offline', keptHere: true });
    expect(await world.keep.get('p1')).toMatchObject({ revision: 7, project: { name: 'a' } });
    await world.passes(5000);
    expect(world.autosave.state.value).toEqual({ kind: 'saved' });
    expect(await world.keep.get('p1')).toBeNull();
    expect(world.sent.length).toBe(3);
  });

  it('says so when neither the server nor this browser can keep the work', async () => {
    const world = opened();
    world.storage.isFull = true;
    world.answers = [{ kind: 'offline' }];
    world.autosave.changed(project('a'));
    await world.passes(500);
    expect(world.autosave.state.value).toEqual({ kind: 'offline', keptHere: false });
  });

  it('tells why the server refused, and tries again with the next change', async () => {
    const world = opened();
    world.answers = [{ kind: 'refused', reason: 'no room on the disk' }];
    world.autosave.changed(project('a'));
    await world.passes(1000);
    expect(world.autosave.state.value).toEqual({
      kind: 'refused',
      reason: 'no room on the disk',
      keptHere: true,
    });
    world.autosave.changed(project('b'));
    await world.passes(1000);
    expect(world.autosave.state.value).toEqual({ kind: 'saved' });
  });

  it('tries again by itself what the server could not take for a fault of its own', async () => {
    const world = opened();
    const full = { kind: 'refused', reason: 'no room on the disk', mayPass: true } as const;
    world.answers = [full, full];
    world.autosave.changed(project('a'));
    await world.passes(1000);
    expect(world.autosave.state.value).toMatchObject({ kind: 'refused', keptHere: true });
    await world.passes(60_000);
    expect(world.sent).toHaveLength(3);
    expect(world.autosave.state.value).toEqual({ kind: 'saved' });
    // What is wrong with the work itself stays so until it is changed.
    world.answers = [{ kind: 'refused', reason: 'too large', mayPass: false }];
    world.autosave.changed(project('b'));
    await world.passes(60_000);
    expect(world.sent).toHaveLength(4);
  });

  it('never writes over a newer version: it stops and asks', async () => {
    const world = opened();
    world.answers = [{ kind: 'conflict' }];
    world.autosave.changed(project('mine'));
    await world.passes(1000);
    expect(world.autosave.state.value).toEqual({ kind: 'conflict' });
    world.autosave.changed(project('mine, more'));
    await world.passes(60_000);
    expect(world.sent.length).toBe(1);
    expect((await world.keep.get('p1'))?.project.name).toBe('mine, more');
    world.autosave.adopt(9);
    expect(world.autosave.state.value).toEqual({ kind: 'saved' });
    expect(await world.keep.get('p1')).toBeNull();
    world.autosave.changed(project('on from theirs'));
    await world.passes(1000);
    expect(world.sent.at(-1)).toMatchObject({ revision: 9 });
  });

  it('sends what was typed during a request afterwards, with the new revision', async () => {
    const world = opened();
    world.autosave.changed(project('a'));
    const flushing = world.autosave.flush();
    world.autosave.changed(project('b'));
    await flushing;
    expect(world.autosave.state.value.kind).toBe('saving');
    await world.passes(1000);
    expect(world.sent.map((send) => [send.revision, send.project.name])).toEqual([
      [7, 'a'],
      [8, 'b'],
    ]);
    expect(world.autosave.isSettled).toBe(true);
  });

  it('does not let a late answer for one project touch another', async () => {
    const world = opened();
    world.autosave.changed(project('a'));
    const flushing = world.autosave.flush();
    world.autosave.open('p2', 3);
    await flushing;
    expect(world.autosave.revision).toBe(3);
    expect(await world.keep.get('p1')).toBeNull();
  });
});
