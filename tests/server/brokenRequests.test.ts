import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import { describe, expect, it } from 'vitest';
import { afterTest, sampleProject, startServer, until } from './harness.ts';

/** A connection on which the test writes what it likes, and all that came back so far. */
async function dial(
  port: number,
): Promise<{ socket: Socket; received: () => string; closed: Promise<unknown> }> {
  const socket = connect(port, '127.0.0.1');
  afterTest(() => void socket.destroy());
  let text = '';
  socket.setEncoding('utf8').on('data', (chunk) => {
    text += chunk;
  });
  const closed = once(socket, 'close');
  await once(socket, 'connect');
  return { socket, received: () => text, closed };
}

const HEAD = [
  'POST /api/projects HTTP/1.1',
  'Host: 127.0.0.1',
  'Content-Type: application/json',
  'Content-Length: 1000',
  '',
  '',
].join('\r\n');

describe('requests that break off', () => {
  it('half sent and then silent: 408, nothing stored, the server goes on', async () => {
    const { port, store, send } = await startServer({ requestMs: 100 });
    const { socket, received, closed } = await dial(port);
    socket.write(`${HEAD}{"project": {`);
    await closed;
    expect(received()).toMatch(/^HTTP\/1\.1 408 Request Timeout\r\n/);
    expect(received()).toContain('application/problem+json');
    expect(JSON.parse(received().split('\r\n\r\n')[1]!)).toMatchObject({ status: 408 });
    expect(store.list()).toEqual([]);
    expect((await send('GET', '/api/health')).status).toBe(200);
  });

  it('with half a head: 408', async () => {
    const { port } = await startServer({ requestMs: 100 });
    const { socket, received, closed } = await dial(port);
    socket.write('POST /api/projects HTTP/1.1\r\nHost: 127.');
    await closed;
    expect(received()).toMatch(/^HTTP\/1\.1 408 /);
  });

  it('cut off in the middle of an upload: nothing stored, logged as cut off, the server goes on', async () => {
    const facts: Record<string, unknown>[] = [];
    const { port, store, send } = await startServer({
      log: (level, event, more) => facts.push({ level, event, ...more }),
    });
    const { socket } = await dial(port);
    const text = JSON.stringify({ project: sampleProject() });
    socket.write(`${HEAD}${text.slice(0, 500)}`);
    socket.resetAndDestroy();
    await until(() => facts.length > 0);
    expect(facts).toMatchObject([
      { level: 'info', event: 'request', route: '/api/projects', status: null, complete: false },
    ]);
    expect(store.list()).toEqual([]);
    expect((await send('POST', '/api/projects', text)).status).toBe(201);
  });

  it('that are no HTTP at all: 400 as a problem', async () => {
    const { port } = await startServer();
    const { socket, received, closed } = await dial(port);
    socket.write('a parcel of cloth\r\n\r\n');
    await closed;
    expect(received()).toMatch(/^HTTP\/1\.1 400 Bad Request\r\n/);
    expect(JSON.parse(received().split('\r\n\r\n')[1]!)).toMatchObject({ status: 400 });
  });

  it('with a head beyond measure: 431', async () => {
    const { port } = await startServer();
    const { socket, received, closed } = await dial(port);
    socket.write(`GET /api/health HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Long: ${'x'.repeat(40_000)}\r\n\r\n`);
    await closed;
    expect(received()).toMatch(/^HTTP\/1\.1 431 /);
  });
});
