import { statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import {
  type LayState,
  layStateSchema,
  type ProjectSummary,
  type StoredProject,
  storedProjectSchema,
} from '../../pattern/exchange/lay.ts';
import { sampleProject, temporaryFolder, until } from './harness.ts';
import { start, startListening } from './program.ts';

/** The state in the last of these server-sent events. */
function lastState(events: string): LayState {
  const data = [...events.matchAll(/^data: (.*)$/gm)].at(-1)![1]!;
  return layStateSchema.parse(JSON.parse(data));
}

describe('the program', { timeout: 60_000 }, () => {
  it('prints where it is and listens on the loopback address alone', async () => {
    const { output, url, send } = await startListening({ DATA_DIR: temporaryFolder() });
    expect(output()).toMatch(/^clothlay is at http:\/\/127\.0\.0\.1:\d+\n$/);
    expect(new URL(url).hostname).toBe('127.0.0.1');
    expect((await send('GET', '/api/health')).body).toMatchObject({ status: 'ok', version: '0.1.0' });
  });

  it('logs JSON lines', async () => {
    const { errors, send } = await startListening({ DATA_DIR: temporaryFolder() });
    await send('GET', '/api/projects');
    const lines = errors().trim().split('\n');
    expect(lines.map((line) => JSON.parse(line).event)).toContain('listening');
  });

  it('loses nothing it has acknowledged when it is killed in the middle of writing', async () => {
    const folder = temporaryFolder();
    const first = await startListening({ DATA_DIR: folder });
    const { body } = await first.send<StoredProject>('POST', '/api/projects', { project: sampleProject() });
    const address = `/api/projects/${body.id}`;
    first.child.kill('SIGKILL');
    expect(await first.ended).toBe('SIGKILL');

    let revision = 1;
    let name = sampleProject().name;
    const created = new Set([body.id]);
    for (const writes of [1, 7, 20]) {
      const server = await startListening({ DATA_DIR: folder });
      const before = await server.send<StoredProject>('GET', address);
      expect(before.body.revision).toBeGreaterThanOrEqual(revision);
      // A write whose answer was cut off may or may not be there; one that was answered is.
      if (before.body.revision === revision) expect(before.body.project.name).toBe(name);
      const list = await server.send<ProjectSummary[]>('GET', '/api/projects');
      const ids = new Set(list.body.map(({ id }) => id));
      for (const id of created) expect(ids).toContain(id);
      revision = before.body.revision;
      name = before.body.project.name;

      for (let number = 0; number < writes; number++) {
        const project = sampleProject({ name: `After ${writes}, write ${number}` });
        const answer = await server.send<StoredProject>('PUT', address, { revision, project });
        expect(answer.status).toBe(200);
        revision = answer.body.revision;
        name = project.name;
      }
      // The kill falls among several writes under way.
      const flood = Array.from({ length: 10 }, async () => {
        const answer = await server.send<StoredProject>('POST', '/api/projects', {
          project: sampleProject(),
        });
        created.add(answer.body.id);
        server.child.kill('SIGKILL');
      });
      await Promise.allSettled(flood);
      expect(await server.ended).toBe('SIGKILL');
    }
    expect(created.size).toBeGreaterThanOrEqual(4);
    const last = await startListening({ DATA_DIR: folder });
    const list = await last.send<ProjectSummary[]>('GET', '/api/projects');
    expect(list.body.map(({ id }) => id)).toEqual(expect.arrayContaining([...created]));
    expect((await last.send<StoredProject>('GET', address)).body).toMatchObject({
      revision,
      project: { name },
    });
  });

  it('ends in order when told to, with everything in the one file', async () => {
    for (const signal of ['SIGTERM', 'SIGINT'] as const) {
      const folder = temporaryFolder();
      const { child, ended, send } = await startListening({ DATA_DIR: folder });
      await send('POST', '/api/projects', { project: sampleProject() });
      child.kill(signal);
      expect(await ended).toBe(0);
      expect(statSync(join(folder, 'clothlay.sqlite-wal')).size).toBe(0);
    }
  });

  it('opens on the demo the first time, and does not bring it back once it is deleted', async () => {
    const folder = temporaryFolder();
    const first = await startListening({ DATA_DIR: folder });
    const list = await first.send<ProjectSummary[]>('GET', '/api/projects');
    expect(list.body.map(({ name }) => name)).toEqual([demoProject().name]);
    const address = `/api/projects/${list.body[0]!.id}`;
    const stored = await first.send<StoredProject>('GET', address);
    expect(storedProjectSchema.parse(stored.body).project).toEqual(demoProject());
    await first.send('DELETE', address);
    first.child.kill('SIGTERM');
    await first.ended;
    const second = await startListening({ DATA_DIR: folder });
    expect((await second.send('GET', '/api/projects')).body).toEqual([]);
    expect((await second.send('GET', '/api/bin')).body).toHaveLength(1);
  });

  it('lays a project with the real engine: layouts, drawing, cancelling', async () => {
    const { url, send } = await startListening({ DATA_DIR: temporaryFolder() });
    const project = sampleProject({
      cutList: [{ pieceId: 'side', materialId: 'main', plain: 4, mirrored: 4 }],
      layChoices: [{ materialId: 'main', spread: 'compare' }],
    });
    const { body } = await send<{ id: string }>('POST', '/api/lays', { project, seconds: 0.2 });
    const events = await (await fetch(`${url}/api/lays/${body.id}/events`)).text();
    const state = lastState(events);
    expect(state).toMatchObject({ state: 'done' });
    expect(state.results.slice(0, 2).map(({ spread, verdict }) => [spread, verdict])).toEqual([
      ['single', 'fits'],
      ['folded', 'fits'],
    ]);
    for (const { segments, usedMm, buyMm } of state.results) {
      expect(segments.flatMap(({ placed }) => placed).length).toBeGreaterThan(0);
      expect(buyMm).toBeGreaterThanOrEqual(usedMm);
    }
    // Eight trapezia of 190 × 120 mm on 1400 mm: their area alone needs 130 mm of length.
    expect(state.results[0]!.usedMm).toBeGreaterThan(130);
    const drawing = await send<string>('GET', `/api/lays/${body.id}/layout.svg?cloth=roll&spread=folded`);
    expect(drawing.status).toBe(200);
    expect(drawing.body).toMatch(/^<\?xml[^>]*>\s*<svg /);
    expect(drawing.body).toContain('Handlebar pouch');

    const long = await send<{ id: string }>('POST', '/api/lays', { project, seconds: 600 });
    const address = `/api/lays/${long.body.id}`;
    await until(async () => (await send<LayState>('GET', address)).body.results.length > 0);
    const cancelled = await send<LayState>('DELETE', address);
    expect(cancelled.body.state).toBe('cancelled');
    expect(cancelled.body.results.map(({ verdict }) => verdict)).toContain('fits');
  });

  it('ends a running lay and tells its listeners when it is told to stop', async () => {
    const { url, child, ended, send } = await startListening({ DATA_DIR: temporaryFolder() });
    const { body } = await send<{ id: string }>('POST', '/api/lays', {
      project: demoProject(),
      seconds: 600,
    });
    const events = await fetch(`${url}/api/lays/${body.id}/events`);
    await until(async () => (await send<LayState>('GET', `/api/lays/${body.id}`)).body.results.length > 0);
    child.kill('SIGTERM');
    const last = lastState(await events.text());
    expect(last.state).toBe('cancelled');
    expect(last.results.length).toBeGreaterThan(0);
    expect(await ended).toBe(0);
  });

  it('says so when its port is taken or its settings are wrong', async () => {
    const { url } = await startListening({ DATA_DIR: temporaryFolder() });
    const { port } = new URL(url);
    const second = start({ DATA_DIR: temporaryFolder(), PORT: port });
    expect(await second.ended).toBe(1);
    expect(second.errors()).toContain(`Port ${port} on 127.0.0.1 is taken`);
    expect(second.errors()).not.toMatch(/^\s+at /m);
    const third = start({ PORT: 'many' });
    expect(await third.ended).toBe(1);
    expect(third.errors()).toBe('PORT must be a whole number from 0 to 65535, not "many"\n');
  });

  it('starts with a damaged project file, says so and leaves the file alone', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'clothlay.sqlite'), 'not a database '.repeat(1000));
    const { errors, send } = await startListening({ DATA_DIR: folder });
    expect(errors()).toContain('clothlay.sqlite is damaged');
    expect((await send('GET', '/api/projects')).status).toBe(503);
    expect((await send('GET', '/api/health')).body).toMatchObject({ status: 'degraded' });
  });
});
