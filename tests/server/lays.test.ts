import { describe, expect, it } from 'vitest';
import { type LayRequest, layRequestSchema } from '../../pattern/exchange/lay.ts';
import { Lays, type LaysParts } from '../../server/lays.ts';
import { PuppetEngine, sampleProgress, sampleProject, until } from './harness.ts';

function request(change: Partial<Record<keyof LayRequest, unknown>> = {}): LayRequest {
  return layRequestSchema.parse({ project: sampleProject(), ...change });
}

function queue(limits: LaysParts['limits'] = {}, parts: Partial<LaysParts> = {}) {
  const engine = new PuppetEngine();
  let now = 0;
  const lays = new Lays({
    runLay: engine.runLay,
    limits,
    clock: () => now,
    ...parts,
  });
  const add = (change?: Parameters<typeof request>[0]): string => {
    const result = lays.add(request(change));
    if (result.kind !== 'accepted') throw new Error(result.kind);
    return result.id;
  };
  const phase = (id: string) => lays.get(id)?.state.state;
  const pass = (ms: number) => {
    now += ms;
  };
  return { engine, lays, add, phase, pass };
}

describe('a lay', () => {
  it('runs, shows each better result and keeps the last', async () => {
    const { engine, lays, add, phase, pass } = queue();
    const id = add();
    const run = await engine.started(0);
    expect(lays.get(id)?.state).toMatchObject({ id, state: 'running', results: [], elapsedMs: 0 });
    pass(40);
    run.report(sampleProgress(900));
    const first = lays.get(id)!.state;
    expect(first).toMatchObject({ state: 'running', elapsedMs: 40, ...sampleProgress(900) });
    run.report(sampleProgress(800));
    const second = lays.get(id)!.state;
    expect(second.revision).toBeGreaterThan(first.revision);
    pass(60);
    run.resolve(sampleProgress(700));
    await until(() => phase(id) === 'done');
    pass(1000);
    expect(lays.get(id)?.state).toMatchObject({ state: 'done', elapsedMs: 100, ...sampleProgress(700) });
    expect(lays.get(id)?.project).toEqual(sampleProject());
  });

  it('that is cancelled ends at once with the best so far, whatever the engine reports later', async () => {
    const { engine, lays, add, phase } = queue();
    engine.endsOnAbort = false;
    const id = add();
    const run = await engine.started(0);
    run.report(sampleProgress(900));
    expect(lays.cancel(id)?.state).toMatchObject({ state: 'cancelled', ...sampleProgress(900) });
    expect(run.signal.aborted).toBe(true);
    const { revision } = lays.get(id)!.state;
    run.report(sampleProgress(100));
    run.resolve(sampleProgress(50));
    await until(() => lays.counts().running === 0);
    expect(lays.get(id)?.state).toMatchObject({ state: 'cancelled', revision, ...sampleProgress(900) });
    expect(lays.cancel(id)?.state.revision).toBe(revision);
    expect(phase('nowhere')).toBeUndefined();
    expect(lays.cancel('nowhere')).toBeUndefined();
  });

  it('that fails by a fault of ours says so without its message, and the fault is told', async () => {
    const faults: unknown[] = [];
    const { engine, lays, add, phase } = queue({}, { onFault: (error) => faults.push(error) });
    const id = add();
    const run = await engine.started(0);
    run.report(sampleProgress(900));
    run.reject(new Error('secret inner matter'));
    await until(() => phase(id) === 'failed');
    const { state } = lays.get(id)!;
    expect(state.error).toContain('fault in the program');
    expect(JSON.stringify(state)).not.toContain('secret');
    expect(state.results).toEqual(sampleProgress(900).results);
    expect(faults).toEqual([new Error('secret inner matter')]);
  });

  it('that takes too long ends with what it has and says why', async () => {
    const { engine, lays, add, phase } = queue({ runMs: 20 });
    engine.endsOnAbort = false;
    const id = add();
    const run = await engine.started(0);
    await until(() => run.signal.aborted);
    run.resolve(sampleProgress(900));
    await until(() => phase(id) === 'done');
    expect(lays.get(id)?.state).toMatchObject({
      results: sampleProgress(900).results,
      notices: [{ level: 'warning', code: 'outOfTime' }],
    });
  });
});

describe('the queue', () => {
  it('works on so many at once, the others wait for their turn', async () => {
    const { engine, lays, add, phase } = queue({ running: 2 });
    const ids = [add(), add(), add(), add()];
    expect(ids.map(phase)).toEqual(['running', 'running', 'queued', 'queued']);
    expect(lays.counts()).toEqual({ running: 2, waiting: 2, kept: 0 });
    (await engine.started(1)).resolve(sampleProgress(1));
    await engine.started(2);
    expect(ids.map(phase)).toEqual(['running', 'done', 'running', 'queued']);
    lays.cancel(ids[3]!);
    (await engine.started(0)).resolve(sampleProgress(1));
    (await engine.started(2)).resolve(sampleProgress(1));
    await until(() => lays.counts().running === 0);
    expect(ids.map(phase)).toEqual(['done', 'done', 'done', 'cancelled']);
    expect(engine.runs).toHaveLength(3);
  });

  it('keeps the place of a cancelled lay until the engine lets go', async () => {
    const { engine, lays, add, phase } = queue({ running: 1 });
    engine.endsOnAbort = false;
    const first = add();
    const second = add();
    const run = await engine.started(0);
    lays.cancel(first);
    expect([phase(first), phase(second)]).toEqual(['cancelled', 'queued']);
    run.resolve(sampleProgress(1));
    await until(() => phase(second) === 'running');
  });

  it('does not start a lay that is cancelled before its turn comes', async () => {
    const { engine, lays, add, phase } = queue({ running: 1 });
    const first = add();
    lays.cancel(first);
    const second = add();
    await engine.started(0);
    expect(engine.runs).toHaveLength(1);
    expect([phase(first), phase(second)]).toEqual(['cancelled', 'running']);
  });

  it('refuses more than it can hold, by number and by size', async () => {
    const { lays, add } = queue({ running: 1, waiting: 2, waitingBytes: 5_000 });
    add();
    add();
    add();
    expect(lays.add(request())).toEqual({ kind: 'full' });
    const bySize = queue({ running: 1, waiting: 20, waitingBytes: 5_000 });
    bySize.add();
    bySize.add();
    expect(bySize.lays.add(request({ project: sampleProject({ notes: 'n'.repeat(6_000) }) }))).toEqual({
      kind: 'full',
    });
  });

  it('forgets ended lays that are too old, too many or too big together', async () => {
    const { engine, lays, add, phase, pass } = queue({ keptMs: 1_000, kept: 3, keptBytes: 20_000 });
    const ended = async (change?: Parameters<typeof request>[0]): Promise<string> => {
      const id = add(change);
      (await engine.started(engine.runs.length)).resolve(sampleProgress(1));
      await until(() => phase(id) === 'done');
      pass(1);
      return id;
    };
    const ids = [await ended(), await ended(), await ended(), await ended()];
    expect(ids.map(phase)).toEqual([undefined, 'done', 'done', 'done']);
    const large = await ended({ project: sampleProject({ notes: 'n'.repeat(19_000) }) });
    expect([...ids, large].map(phase)).toEqual([undefined, undefined, undefined, undefined, 'done']);
    pass(998);
    expect(phase(large)).toBe('done');
    pass(10);
    expect(phase(large)).toBeUndefined();
    expect(lays.counts().kept).toBe(0);
  });

  it('closes: cancels everything, takes nothing more and waits for the engine', async () => {
    const { engine, lays, add, phase } = queue({ running: 1 });
    engine.endsOnAbort = false;
    const ids = [add(), add()];
    const run = await engine.started(0);
    let isClosed = false;
    const closing = lays.close().then(() => {
      isClosed = true;
    });
    expect(ids.map(phase)).toEqual(['cancelled', 'cancelled']);
    expect(lays.add(request())).toEqual({ kind: 'closed' });
    await new Promise((resolve) => setTimeout(resolve, 10));
    expect(isClosed).toBe(false);
    run.resolve(sampleProgress(1));
    await closing;
    expect(engine.runs).toHaveLength(1);
  });
});
