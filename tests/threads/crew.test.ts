import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Crew, type CrewParts, type Errand } from '../../server/threads/crew.ts';
import { afterTest, temporaryFolder, until } from '../server/harness.ts';
import type { OddErrand } from './fixtures/oddThread.ts';

const LONG = 600_000;

function crew(parts: Partial<CrewParts> = {}) {
  const made = new Crew({
    entry: new URL('./fixtures/oddThread.ts', import.meta.url),
    threads: 1,
    waiting: 10,
    waitingOfClient: 10,
    ...parts,
  });
  afterTest(() => made.close());
  const run = (input: OddErrand, more: Partial<Errand> = {}) => made.run({ input, maxMs: LONG, ...more });
  /** Something that holds a thread until it is let go. */
  const hold = async (client = '') => {
    const abort = new AbortController();
    let isOn = false;
    const ended = run({ does: 'wait' }, { client, signal: abort.signal, onSaid: () => (isOn = true) });
    await until(() => isOn);
    return { ended, letGo: () => abort.abort() };
  };
  return { made, run, hold };
}

describe('an errand', () => {
  it('is done in a thread, which is kept for the next one', async () => {
    const { made, run } = crew();
    expect(await run({ does: 'echo', value: [1, 'two'] })).toEqual([1, 'two']);
    expect(await run({ does: 'echo', value: null })).toBeNull();
    expect(made.counts()).toEqual({ running: 0, waiting: 0, threads: 1 });
  });

  it('talks with whoever asked for it', async () => {
    const { run } = crew();
    const said: unknown[] = [];
    const answers = await run(
      { does: 'talk', words: ['grain', 'nap'] },
      {
        onSaid: (word, tell) => {
          said.push(word);
          tell(`${word}!`);
        },
      },
    );
    expect(said).toEqual(['grain', 'nap']);
    expect(answers).toEqual(['grain!', 'nap!']);
  });

  it('that throws rejects with its words, its stack and what it brought along', async () => {
    const { run } = crew();
    await expect(run({ does: 'throw' })).rejects.toMatchObject({
      name: 'RangeError',
      message: 'too narrow',
      facts: { widthMm: 3 },
      stack: expect.stringContaining('oddThread'),
    });
    expect(await run({ does: 'echo', value: 1 })).toBe(1);
  });

  it('ends when it is stopped: by itself, else with its thread; one that waits does not begin', async () => {
    const { made, run, hold } = crew();
    const { ended, letGo } = await hold();
    const waiting = new AbortController();
    const second = run({ does: 'echo', value: 1 }, { signal: waiting.signal });
    waiting.abort();
    await expect(second).rejects.toMatchObject({ code: 'stopped' });
    letGo();
    expect(await ended).toBe('stopped in order');

    const abort = new AbortController();
    const hanging = run({ does: 'hang' }, { signal: abort.signal, onSaid: () => abort.abort() });
    await expect(hanging).rejects.toMatchObject({ code: 'stopped' });
    expect(made.counts().threads).toBe(0);
    expect(await run({ does: 'echo', value: 2 })).toBe(2);
    await expect(run({ does: 'echo', value: 3 }, { signal: abort.signal })).rejects.toMatchObject({
      code: 'stopped',
    });
  });

  it('that can’t be copied to a thread rejects, and the crew goes on', async () => {
    const { run } = crew();
    await expect(run({ does: 'echo', value: () => 1 })).rejects.toThrow(/could not be cloned/);
    expect(await run({ does: 'echo', value: 2 })).toBe(2);
  });
});

describe('accidents', () => {
  it('a thread that dies is replaced and its errand begun again, once', async () => {
    const { run } = crew();
    const mark = join(temporaryFolder(), 'was-here');
    expect(await run({ does: 'dieOnce', mark })).toBe('the second time it went well');
    await expect(run({ does: 'die' })).rejects.toMatchObject({ code: 'died' });
    expect(await run({ does: 'echo', value: 'goes on' })).toBe('goes on');
  });

  it('an errand that takes too much memory is not tried again, and harms nobody else', async () => {
    const { run } = crew({ threads: 2, memoryMb: 64 });
    const [greedy, modest] = [run({ does: 'eatMemory' }), run({ does: 'echo', value: 'modest' })];
    await expect(greedy).rejects.toMatchObject({ code: 'outOfMemory' });
    expect(await modest).toBe('modest');
    expect(await run({ does: 'echo', value: 'goes on' })).toBe('goes on');
  });

  it('an errand that takes too long is ended with its thread', async () => {
    const { run } = crew();
    await expect(run({ does: 'hang' }, { maxMs: 50 })).rejects.toMatchObject({ code: 'outOfTime' });
    expect(await run({ does: 'echo', value: 'goes on' })).toBe('goes on');
  });

  it('a thread that can’t even begin rejects', async () => {
    const { run } = crew({ entry: new URL('./fixtures/nowhere.ts', import.meta.url) });
    await expect(run({ does: 'echo', value: 1 })).rejects.toMatchObject({ code: 'died' });
  });
});

describe('turns', () => {
  it('go round among the clients', async () => {
    const { run, hold } = crew();
    const { letGo } = await hold('a');
    const order: string[] = [];
    const all = ['a', 'a', 'a', 'b', 'b', 'c'].map((client, place) =>
      run({ does: 'echo', value: place }, { client }).then(() => order.push(client)),
    );
    letGo();
    await Promise.all(all);
    expect(order.join('')).toBe('bcabaa');
  });

  it('are bounded, for all and for each', async () => {
    const { run, hold } = crew({ waiting: 3, waitingOfClient: 2 });
    const { letGo } = await hold('a');
    const echo = (client: string) => run({ does: 'echo', value: client }, { client });
    const taken = [echo('a'), echo('a')];
    await expect(echo('a')).rejects.toMatchObject({ code: 'yoursFull' });
    taken.push(echo('b'));
    await expect(echo('c')).rejects.toMatchObject({ code: 'full' });
    letGo();
    expect(await Promise.all(taken)).toEqual(['a', 'a', 'b']);
  });

  it('end with the crew: what waits and what runs is let go', async () => {
    const { made, run, hold } = crew();
    const { ended } = await hold();
    const waiting = run({ does: 'echo', value: 1 });
    const both = Promise.allSettled([ended, waiting]);
    await made.close();
    for (const result of await both) expect(result).toMatchObject({ reason: { code: 'closed' } });
    await expect(run({ does: 'echo', value: 1 })).rejects.toMatchObject({ code: 'closed' });
  });
});
