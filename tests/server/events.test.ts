import express from 'express';
import { describe, expect, it } from 'vitest';
import { type LayState, layStateSchema } from '../../pattern/exchange/lay.ts';
import { EventStream } from '../../server/http/eventStream.ts';
import { listen } from '../../server/listen.ts';
import { afterTest, sampleProgress, sampleProject, startServer, until } from './harness.ts';

interface ReadEvent {
  readonly id: string;
  readonly state: LayState;
}

/** Reads server-sent events the way the HTML standard says (§9.2.6), so far as they are used here. */
async function listenTo(url: string, headers: Record<string, string> = {}) {
  const abort = new AbortController();
  afterTest(() => abort.abort());
  const response = await fetch(url, { signal: abort.signal, headers });
  const events: ReadEvent[] = [];
  const comments: string[] = [];
  const ended = (async () => {
    let rest = '';
    const decoder = new TextDecoder();
    for await (const chunk of response.body ?? []) {
      rest += decoder.decode(chunk as Uint8Array, { stream: true });
      const blocks = rest.split('\n\n');
      rest = blocks.pop()!;
      for (const block of blocks) {
        if (block.startsWith(':')) comments.push(block);
        const id = /^id: (.*)$/m.exec(block)?.[1];
        const data = /^data: (.*)$/m.exec(block)?.[1];
        if (id !== undefined && data !== undefined) {
          events.push({ id, state: layStateSchema.parse(JSON.parse(data)) });
        }
      }
    }
  })().catch((error: Error) => {
    if (error.name !== 'AbortError') throw error;
  });
  return { response, events, comments, ended, leave: () => abort.abort() };
}

async function startLay() {
  const server = await startServer();
  const { body } = await server.send<{ id: string }>('POST', '/api/lays', { project: sampleProject() });
  const run = await server.engine.started(0);
  const path = `/api/lays/${body.id}`;
  return { ...server, run, path, id: body.id, events: `${server.url}${path}/events` };
}

describe('the events of a lay', () => {
  it('bring the whole state at once, then each change, and end with the lay', async () => {
    const { run, events: url } = await startLay();
    run.report(sampleProgress(900));
    const listener = await listenTo(url);
    expect(listener.response.headers.get('content-type')).toBe('text/event-stream; charset=utf-8');
    expect(listener.response.headers.get('cache-control')).toBe('no-store');
    await until(() => listener.events.length === 1);
    expect(listener.events[0]!.state).toMatchObject({ state: 'running', ...sampleProgress(900) });
    run.report(sampleProgress(800));
    await until(() => listener.events.length === 2);
    expect(listener.events[1]!.state).toMatchObject({ state: 'running', ...sampleProgress(800) });
    run.resolve(sampleProgress(700));
    await listener.ended;
    const last = listener.events.at(-1)!;
    expect(last.state).toMatchObject({ state: 'done', ...sampleProgress(700) });
    expect(last.id).toBe(String(last.state.revision));
  });

  it('skip states in between when they come too fast, and never the last', async () => {
    const { run, events: url } = await startLay();
    const listener = await listenTo(url);
    await until(() => listener.events.length === 1);
    for (let mm = 1_000; mm > 0; mm--) run.report(sampleProgress(mm));
    run.resolve(sampleProgress(0));
    await listener.ended;
    // The state at the start, at most one in between and the end: a thousand reports came within one interval.
    expect(listener.events.length).toBeLessThanOrEqual(3);
    expect(listener.events.at(-1)!.state).toMatchObject({ state: 'done', ...sampleProgress(0) });
    const ids = listener.events.map(({ id }) => Number(id));
    expect(ids).toEqual([...ids].sort((one, other) => one - other));
  });

  it('of an ended lay bring its last state and end; a listener that has it is told to stop', async () => {
    const { run, send, path, events: url } = await startLay();
    run.resolve(sampleProgress(700));
    await until(async () => (await send<LayState>('GET', path)).body.state === 'done');
    const listener = await listenTo(url);
    await listener.ended;
    expect(listener.events).toHaveLength(1);
    const again = await listenTo(url, { 'Last-Event-ID': listener.events[0]!.id });
    expect(again.response.status).toBe(204);
    const stranger = await listenTo(url, { 'Last-Event-ID': 'of another server' });
    await stranger.ended;
    expect(stranger.events).toHaveLength(1);
  });

  it('taken up again in the middle start with the whole state', async () => {
    const { run, events: url } = await startLay();
    run.report(sampleProgress(900));
    const listener = await listenTo(url, { 'Last-Event-ID': '2' });
    await until(() => listener.events.length === 1);
    expect(listener.events[0]!.state).toMatchObject(sampleProgress(900));
  });

  it('reach several listeners; the lay goes on when they leave', async () => {
    const { run, send, path, events: url, lays, id } = await startLay();
    const [one, other] = [await listenTo(url), await listenTo(url)];
    await until(() => one.events.length + other.events.length === 2);
    one.leave();
    await until(() => lays.listenerCount(id) === 1);
    run.report(sampleProgress(800));
    await until(() => other.events.length === 2);
    other.leave();
    await until(() => lays.listenerCount(id) === 0);
    expect((await send<LayState>('GET', path)).body.state).toBe('running');
    expect(run.signal.aborted).toBe(false);
  });

  it('cancel the lay when the last listener leaves that asked for it', async () => {
    const { run, send, path, events: url, lays, id } = await startLay();
    const watching = await listenTo(url);
    const asking = await listenTo(`${url}?cancelOnClose=1`);
    await until(() => watching.events.length + asking.events.length === 2);
    asking.leave();
    await until(() => lays.listenerCount(id) === 1);
    expect(run.signal.aborted).toBe(false);
    const askingAgain = await listenTo(`${url}?cancelOnClose=1`);
    watching.leave();
    await until(() => lays.listenerCount(id) === 1);
    askingAgain.leave();
    await until(() => run.signal.aborted);
    expect((await send<LayState>('GET', path)).body.state).toBe('cancelled');
  });

  it('end when the lay is cancelled', async () => {
    const { send, path, events: url } = await startLay();
    const listener = await listenTo(url);
    await until(() => listener.events.length === 1);
    await send('DELETE', path);
    await listener.ended;
    expect(listener.events.at(-1)!.state.state).toBe('cancelled');
  });

  it('are refused to more listeners than one lay serves', async () => {
    const { events: url } = await startLay();
    for (let number = 0; number < 16; number++) expect((await listenTo(url)).response.status).toBe(200);
    expect((await listenTo(url)).response.status).toBe(503);
  });

  it('answer HEAD without starting a stream', async () => {
    const { events: url, lays, id } = await startLay();
    const response = await fetch(url, { method: 'HEAD' });
    expect([response.status, response.headers.get('content-type')]).toEqual([
      200,
      'text/event-stream; charset=utf-8',
    ]);
    expect(lays.listenerCount(id)).toBe(0);
  });
});

describe('an event stream', () => {
  it('shows that it is alive when nothing happens', async () => {
    const app = express();
    let close = () => {};
    let closings = 0;
    app.get('/', (_request, response) => {
      const stream = new EventStream(response, {
        message: () => ({ id: 7, data: JSON.stringify(sampleState()) }),
        onClose: () => {
          closings += 1;
        },
        heartbeatMs: 10,
      });
      close = () => {
        stream.finish();
        stream.finish();
        stream.changed();
      };
    });
    const { url, stop } = await listen({ app, port: 0, host: '127.0.0.1' });
    afterTest(() => stop(0));
    const listener = await listenTo(url);
    await until(() => listener.comments.length >= 3);
    expect(listener.comments[0]).toBe(': still here');
    expect(listener.events).toEqual([]);
    close();
    await listener.ended;
    expect(listener.events.map(({ id }) => id)).toEqual(['7']);
    await until(() => closings === 1);
  });
});

function sampleState(): LayState {
  return { id: 'x', state: 'done', revision: 7, elapsedMs: 0, ...sampleProgress(1) };
}
