import { describe, expect, it } from 'vitest';
import { type SetsAsked, SetsRun } from '../../client/state/setsRun.ts';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import type { LayRequestInput, LayState } from '../../pattern/exchange/lay.ts';

const asked: SetsAsked = { project: emptyProject('Totes', 'cm'), materialId: 'm', vary: null };
const choice = { materialId: 'm', clothIds: [], spread: 'single' } as const;

const state = (over: Partial<LayState>): LayState => ({
  id: 'a',
  state: 'running',
  revision: 1,
  elapsedMs: 1,
  notices: [],
  results: [],
  ...over,
});

/** A server that answers when it is told to. */
function server() {
  const requests: LayRequestInput[] = [];
  const cancelled: string[] = [];
  const tell: ((lay: LayState) => void)[] = [];
  const lose: (() => void)[] = [];
  const run = new SetsRun({
    request: async (request) => `job ${requests.push(request)}`,
    watch: (_id, onState, onLost) => {
      tell.push(onState);
      lose.push(onLost);
      return () => {};
    },
    cancel: async (id) => {
      cancelled.push(id);
      return null;
    },
    explain: (error) => String(error),
    words: { lost: 'lost', failed: 'failed' },
  });
  return { run, requests, cancelled, tell, lose };
}

describe('asking how many sets a cloth gives', () => {
  it('shows the answer as it grows and keeps it when it is stopped', async () => {
    const { run, requests, cancelled, tell } = server();
    await run.ask(asked, choice, 1);
    expect(requests[0]).toMatchObject({ question: { kind: 'sets', vary: null }, choices: [choice] });
    const answer = { atMost: 7, tries: [], found: [{ sets: 6, sizeMm: null }] };
    tell[0]!(state({ answer }));
    expect(run.state.value).toMatchObject({ kind: 'running', lay: { answer } });
    await run.stop();
    expect(run.state.value).toMatchObject({ kind: 'ended', lay: { answer, state: 'cancelled' } });
    expect(cancelled).toEqual(['job 1']);
    tell[0]!(state({ state: 'done', revision: 9 }));
    expect(run.state.value).toMatchObject({ lay: { state: 'cancelled' } });
  });

  it('drops what comes of an earlier question, and says when the server lost one', async () => {
    const { run, tell, lose, cancelled } = server();
    await run.ask(asked, choice, 1);
    await run.ask({ ...asked, materialId: 'n' }, choice, 2);
    expect(cancelled).toEqual(['job 1']);
    tell[0]!(state({ state: 'done' }));
    expect(run.state.value).toMatchObject({ kind: 'running', asked: { materialId: 'n' } });
    lose[1]!();
    expect(run.state.value).toMatchObject({ kind: 'failed', reason: 'lost' });
    await run.reset();
    expect(run.state.value).toEqual({ kind: 'idle' });
  });
});
