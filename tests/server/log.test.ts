import { once } from 'node:events';
import { connect } from 'node:net';
import { join } from 'node:path';
import Libsql from 'libsql';
import { expect, it } from 'vitest';
import type { LayState } from '../../pattern/exchange/lay.ts';
import type { ApiDocument } from './apiDocument.ts';
import { sampleProject, temporaryFolder, until } from './harness.ts';
import { startListening } from './program.ts';

/** In everything the maker of this test types, and nowhere in the program. */
const MARK = 'wrenwren';
const PASSWORD = `${MARK} needles and a bobbin`;

function markedProject() {
  return sampleProject({
    name: `Satchel ${MARK}`,
    notes: `for ${MARK}@bags.example`,
    pieces: [
      {
        id: `${MARK}-side`,
        name: `Side ${MARK}`,
        outline: [
          [0, 0],
          [200, 0],
          [180, 120],
        ],
      },
    ],
    materials: [{ id: `${MARK}-main`, name: `Waxed ${MARK}` }],
    cutList: [{ pieceId: `${MARK}-side`, materialId: `${MARK}-main`, plain: 2, mirrored: 2 }],
    cloths: [
      { kind: 'roll', id: `${MARK}-roll`, name: `Olive ${MARK}`, materialId: `${MARK}-main`, widthMm: 1400 },
    ],
  });
}

/** Sends bytes that are no request, and waits until the server has closed the connection. */
async function babble(port: number): Promise<void> {
  const socket = connect(port, '127.0.0.1');
  socket.resume().on('error', () => {});
  socket.write(`${MARK.toUpperCase()} /${MARK} HTTP/9.9\r\nCookie: clothlay=${MARK}\r\n\r\n`);
  await once(socket, 'close');
}

it('the log of a whole walk through the program, accidents included, holds nothing that was typed', {
  timeout: 300_000,
}, async () => {
  const folder = temporaryFolder();
  const { url, send, errors, output, child, ended } = await startListening({
    DATA_DIR: folder,
    PASSWORD,
    LOG_LEVEL: 'info',
  });
  const bearer = { authorization: `Bearer ${PASSWORD}` };

  // In by the wrong password and the right one, by both ways.
  await send('POST', '/api/session', { secret: `${MARK} wrong` });
  await send('GET', '/api/projects', undefined, { authorization: `Bearer ${MARK}` });
  const signedIn = await send('POST', '/api/session', { secret: PASSWORD });
  const token = /clothlay=([\w-]+)/.exec(signedIn.headers.get('set-cookie') ?? '')![1]!;
  const cookie = { cookie: `clothlay=${token}`, 'x-clothlay': '1' };

  // Made, changed, shelved, laid.
  const created = await send<{ id: string }>('POST', '/api/projects', { project: markedProject() }, cookie);
  expect(created.status).toBe(201);
  const { id } = created.body;
  const lay = await send<{ id: string }>(
    'POST',
    '/api/lays',
    { project: markedProject(), seconds: 0.2 },
    cookie,
  );
  expect(lay.status).toBe(202);
  const layState = async () =>
    (await send<LayState>('GET', `/api/lays/${lay.body.id}`, undefined, cookie)).body;
  await until(async () => (await layState()).state === 'done');
  const plans = [{ id: MARK, name: MARK, createdAt: '', madeFrom: '', results: (await layState()).results }];
  const saved = { revision: 1, project: { ...markedProject(), plans } };
  expect((await send('PUT', `/api/projects/${id}`, saved, cookie)).status).toBe(200);
  const cloth = { kind: 'roll', id: MARK, name: MARK, materialId: 'shelf', widthMm: 1400 };
  const put = { kind: 'put', items: [{ id: MARK, cloth }] };
  expect((await send('POST', '/api/shelf/changes', put, cookie)).status).toBe(200);
  const gone = await send<{ id: string }>('POST', '/api/projects', { project: markedProject() }, cookie);
  await send('DELETE', `/api/projects/${gone.body.id}`, undefined, cookie);

  // Every route: where it leads somewhere, where it doesn't, and with bodies that can't be.
  const { body: document } = await send<ApiDocument>('GET', '/api/openapi.json', undefined, bearer);
  const walked: string[] = [];
  for (const [path, methods] of Object.entries(document.paths)) {
    const known = path.startsWith('/api/lays') ? lay.body.id : id;
    for (const method of Object.keys(methods)) {
      // What ends the session or the things the others are asked about is asked of what isn't there alone.
      const isGentle = method === 'get';
      for (const wanted of isGentle ? [known, MARK] : [MARK]) {
        const address = path.replaceAll(/\{(\w+)\}/g, (_, name) =>
          name === 'revision' ? '1' : name === 'id' ? wanted : MARK,
        );
        const asked = `${address}?cloth=${MARK}-roll&material=${MARK}-main&spread=single`;
        for (const where of [address, asked, `${address}?secret=${MARK}`]) {
          if (isGentle) await send('GET', where, undefined, bearer);
          else
            for (const body of [
              `{"${MARK}": ${MARK}`,
              { [MARK]: MARK },
              { secret: MARK, project: { name: MARK } },
            ])
              await send(method.toUpperCase(), where, body, bearer);
        }
      }
      walked.push(path);
    }
  }
  const restored = await fetch(`${url}/api/backup/restore`, {
    method: 'POST',
    headers: { ...bearer, 'content-type': 'application/gzip' },
    body: Buffer.from(MARK.repeat(50)),
  });
  expect(restored.status).toBe(422);
  await send('GET', `/${MARK}.js`);
  await send('GET', '/api/projects', undefined, { ...bearer, host: `${MARK}.example` });
  await babble(Number(new URL(url).port));

  // A document that was cut off on the disk is told by what it says last: to its maker, not to the log.
  const database = new Libsql(join(folder, 'clothlay.sqlite'));
  database.exec(`UPDATE projects SET document = substr(document, 1, 260) WHERE id = '${id}'`);
  database.close();
  const unreadable = await send('GET', `/api/projects/${id}`, undefined, bearer);
  expect(unreadable.status).toBe(500);
  expect(String(unreadable.body.detail)).toContain(MARK);
  await send('GET', `/api/projects/${id}/pieces.pdf`, undefined, bearer);
  await send('GET', '/api/backup', undefined, bearer);

  child.kill('SIGTERM');
  expect(await ended).toBe(0);
  const lines = errors().trim().split('\n');
  const events = lines.map(
    (line) => JSON.parse(line) as { event: string; route?: string | null; kind?: string },
  );
  // Otherwise the walk went nowhere.
  const routes = new Set(events.map(({ route }) => route?.replaceAll(/:(\w+)/g, '{$1}')));
  expect(walked.filter((path) => !routes.has(path))).toEqual([]);
  expect(events.map(({ kind }) => kind)).toContain('unreadable');
  const said = (errors() + output()).toLowerCase();
  for (const word of [MARK, token.toLowerCase(), id, lay.body.id, gone.body.id, 'bearer']) {
    const where = lines.find((line) => line.toLowerCase().includes(word));
    expect(where, `${word} is in the log`).toBeUndefined();
    expect(said).not.toContain(word);
  }
  expect(errors()).not.toContain('127.0.0.1');
});
