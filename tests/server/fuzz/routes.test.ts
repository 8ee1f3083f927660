import fc from 'fast-check';
import { expect, it } from 'vitest';
import { layRequestSchema } from '../../../pattern/exchange/lay.ts';
import { FileCrew } from '../../../server/files/fileCrew.ts';
import { singleLayer } from '../../plan/sampleLays.ts';
import type { ApiDocument } from '../apiDocument.ts';
import { afterTest, startServer, until } from '../harness.ts';
import { Fuzzer } from './fuzzer.ts';
import { furnish } from './known.ts';
import { requestsFor } from './requests.ts';

/** Requests to each operation; `npm run fuzz` sends others for as long as it is told. */
const REQUESTS = 12;

async function start() {
  const files = new FileCrew({
    threads: 1,
    waiting: 4,
    waitingOfClient: 4,
    maxMs: 15_000,
    memoryMb: 256,
  });
  const server = await startServer({ makeFile: files.make });
  afterTest(() => files.close());
  const { lay, project } = singleLayer();
  const added = server.lays.add(layRequestSchema.parse({ project }));
  if (added.kind !== 'accepted') throw new Error(added.kind);
  (await server.engine.started(0)).resolve({ notices: [], results: [lay] });
  await until(() => server.lays.get(added.id)?.state.state === 'done');
  return { ...server, layId: added.id };
}

it('every route answers whatever it is asked as the API document says, and never with a fault of its own', {
  timeout: 300_000,
}, async () => {
  const server = await start();
  const { body: document } = await server.send<ApiDocument>('GET', '/api/openapi.json');
  const fuzzer = new Fuzzer(server.url, document);
  const faults: string[] = [];
  for (const [path, methods] of Object.entries(document.paths)) {
    for (const method of Object.keys(methods)) {
      const known = await furnish(server, server.url, server.layId);
      const requests = fc.sample(requestsFor(document, path, method, known), { numRuns: REQUESTS, seed: 1 });
      for (const request of requests) {
        const fault = await fuzzer.faultOf(path, request);
        if (fault === null) continue;
        faults.push(
          `${request.method} ${request.address.slice(0, 200)}\n${fault}\n${String(request.body).slice(0, 400)}`,
        );
      }
    }
  }
  expect(faults).toEqual([]);
  // Otherwise nothing but the door would have been tried.
  const went = [...fuzzer.seen.keys()].filter((where) => / 2\d\d$/.test(where));
  expect(went.length).toBeGreaterThan(35);
});
