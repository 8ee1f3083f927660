import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { noteProject, renameProject, withUnits } from '../../client/state/projectCommands.ts';
import { StepLog } from '../../client/state/stepLog.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { Maker, MemoryStepStore } from './harness.ts';

function logOn(store: MemoryStepStore, writer = 'tab', now = '2026-01-01T00:00:00.000Z') {
  let troubles = 0;
  const log = new StepLog(
    {
      store,
      later: () => () => undefined,
      now: () => now,
      onTrouble: () => {
        troubles += 1;
      },
    },
    writer,
  );
  return { log, troubles: () => troubles };
}

/** 'u' undo, 'r' redo, 'a' a change written into every snapshot, a number a change of its own. */
const doings = fc.array(
  fc.oneof(fc.nat(9), fc.constantFrom('u' as const, 'r' as const, 'a' as const, 'w' as const)),
  { maxLength: 40 },
);

describe('the log of steps', () => {
  it('gives the whole history back, whatever was done and whenever it was written', async () => {
    await fc.assert(
      fc.asyncProperty(doings, async (steps) => {
        const store = new MemoryStepStore();
        const { log } = logOn(store);
        const maker = new Maker(emptyProject('Start'));
        await log.open('p', maker.project);
        for (const [turn, step] of steps.entries()) {
          if (step === 'u') maker.undoes();
          else if (step === 'r') maker.redoes();
          else if (step === 'a') maker.receives(withUnits((['cm', 'mm', 'in'] as const)[turn % 3]!));
          else if (step === 'w') await log.flush();
          else {
            maker.pauses();
            maker.does(step % 2 === 0 ? renameProject(`N${step}`) : noteProject(`T${turn}`));
          }
          log.changed('p', maker.history);
        }
        await log.flush();
        const back = await logOn(store).log.open('p', structuredClone(maker.project));
        if (steps.length === 0) return;
        expect({ ...back, open: null }).toEqual({ ...maker.history, open: null });
      }),
      { numRuns: 200 },
    );
  });

  it('writes what is new, not all of it each time', async () => {
    const store = new MemoryStepStore();
    const { log } = logOn(store);
    const maker = new Maker();
    await log.open('p', maker.project);
    for (let i = 0; i < 50; i++) {
      maker.pauses().does(renameProject(`N${i}`));
      log.changed('p', maker.history);
      await log.flush();
    }
    expect(store.written).toBe(50);
    maker.undoes(3);
    log.changed('p', maker.history);
    await log.flush();
    expect(store.written).toBe(50);
  });

  it('of two tabs is that of whoever wrote last, whole', async () => {
    const store = new MemoryStepStore();
    const [one, other] = [logOn(store, 'one').log, logOn(store, 'other').log];
    const [mine, theirs] = [new Maker(emptyProject('P')), new Maker(emptyProject('P'))];
    await one.open('p', mine.project);
    await other.open('p', theirs.project);
    for (let i = 0; i < 3; i++) {
      mine.pauses().does(renameProject(`mine ${i}`));
      one.changed('p', mine.history);
      await one.flush();
      theirs.pauses().does(renameProject(`theirs ${i}`));
      other.changed('p', theirs.history);
      await other.flush();
    }
    expect((await logOn(store).log.open('p', theirs.project)).past.map(({ subject }) => subject)).toEqual([
      'theirs 0',
      'theirs 1',
      'theirs 2',
    ]);
  });

  it('says once that the browser has no room, goes on without, and is whole when there is room again', async () => {
    const store = new MemoryStepStore();
    const { log, troubles } = logOn(store);
    const maker = new Maker();
    await log.open('p', maker.project);
    store.isFull = true;
    for (let i = 0; i < 3; i++) {
      maker.pauses().does(renameProject(`N${i}`));
      log.changed('p', maker.history);
      await log.flush();
    }
    expect(troubles()).toBe(1);
    store.isFull = false;
    maker.pauses().does(renameProject('last'));
    log.changed('p', maker.history);
    await log.flush();
    expect((await logOn(store).log.open('p', maker.project)).past).toHaveLength(4);
  });

  it('keeps apart what belongs to different projects, and forgets those that are gone for a month', async () => {
    const store = new MemoryStepStore();
    const { log } = logOn(store);
    for (const id of ['a', 'b']) {
      const maker = new Maker(emptyProject(id));
      await log.open(id, maker.project);
      log.changed(id, maker.does(renameProject(`${id} later`)).history);
      await log.flush();
    }
    await logOn(store, 'tab', '2026-01-20T00:00:00.000Z').log.tidy(['a']);
    expect([...store.logs.keys()]).toEqual(['a', 'b']);
    await logOn(store, 'tab', '2026-03-01T00:00:00.000Z').log.tidy(['a']);
    expect([...store.logs.keys()]).toEqual(['a']);
  });

  it('forgets all of them when told to, and keeps none that come after', async () => {
    const store = new MemoryStepStore();
    const { log } = logOn(store);
    const maker = new Maker();
    await log.open('p', maker.project);
    log.changed('p', maker.does(renameProject('Written')).history);
    await log.flush();
    log.changed('p', maker.pauses().does(renameProject('Due')).history);
    await log.forgetAll();
    log.changed('p', maker.pauses().does(renameProject('After')).history);
    await log.flush();
    expect(store.logs.size).toBe(0);
  });

  it('brings documents of an earlier version of the page into the present shape', async () => {
    const store = new MemoryStepStore();
    const { log } = logOn(store);
    const { cutting: _unknownThen, ...old } = emptyProject('Old');
    const maker = new Maker(old as ReturnType<typeof emptyProject>);
    await log.open('p', maker.project);
    log.changed('p', {
      ...maker.history,
      past: [{ name: 'renameProject', subject: 'x', project: maker.project }],
    });
    await log.flush();
    const back = await logOn(store).log.open('p', emptyProject('Old'));
    expect(back.past.map(({ project }) => project.cutting)).toEqual([emptyProject('Old').cutting]);
  });
});
