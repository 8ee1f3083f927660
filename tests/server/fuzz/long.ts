/**
 * Sends generated requests, right and wrong ones, to every route for as long as it is told, and follows the lays among
 * them to their ends:
 *   npm run fuzz -- [--minutes 5] [--seed 1] [--requests 40] [--only PART-OF-A-PATH]
 * Prints each answer that the API's document does not promise, faults of the program and lays that failed by one, with
 * the request; ends with 1 if there was any.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import fc from 'fast-check';
import { demoProject } from '../../../pattern/demo/demoProject.ts';
import { createApp } from '../../../server/app.ts';
import { FileCrew } from '../../../server/files/fileCrew.ts';
import { embeddedEngine } from '../../../server/laying/engine.ts';
import { Lays } from '../../../server/lays.ts';
import { listen } from '../../../server/listen.ts';
import { ProjectStore } from '../../../server/storage/projectStore.ts';
import type { ApiDocument } from '../apiDocument.ts';
import { Fuzzer } from './fuzzer.ts';
import { furnish } from './known.ts';
import { type FuzzRequest, requestsFor } from './requests.ts';

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '5' },
    seed: { type: 'string', default: '1' },
    requests: { type: 'string', default: '40' },
    only: { type: 'string', default: '' },
  },
});

const folder = mkdtempSync(join(tmpdir(), 'clothlay-fuzz-'));
const errors: string[] = [];
const store = new ProjectStore({ file: join(folder, 'clothlay.sqlite') });
const engine = embeddedEngine(1, 4);
const files = new FileCrew({ threads: 1, waiting: 4, waitingOfClient: 4, maxMs: 20_000, memoryMb: 512 });
const lays = new Lays({
  runLay: engine.run,
  limits: { running: 4, runningOfClient: 4, waitingOfClient: 40 },
  onFault: (error) => errors.push(`a lay failed: ${(error as Error).stack}`),
});
const app = createApp({
  store,
  lays,
  makeFile: files.make,
  log: (level, event, facts) => {
    if (level === 'error' && event !== 'request') errors.push(`${event}: ${JSON.stringify(facts)}`);
  },
});
const listening = await listen({ app, port: 0, host: '127.0.0.1' });
const { url } = listening;
const send = async <Body>(method: string, path: string, body?: unknown): Promise<{ body: Body }> => {
  const answer = await fetch(url + path, {
    method,
    headers: { 'content-type': 'application/json' },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const text = await answer.text();
  return { body: (text === '' ? undefined : JSON.parse(text)) as Body };
};

const { body: document } = await send<ApiDocument>('GET', '/api/openapi.json');
const fuzzer = new Fuzzer(url, document);
const until = performance.now() + Number(values.minutes) * 60_000;
let [sent, faults] = [0, 0];
let lastLay: string | undefined;
for (let seed = Number(values.seed); performance.now() < until; seed++) {
  for (const [path, methods] of Object.entries(document.paths)) {
    if (!path.includes(values.only)) continue;
    for (const method of Object.keys(methods)) {
      if (performance.now() >= until) break;
      await sendTo(path, method, seed);
    }
  }
}
process.stdout.write(`${sent} requests, ${faults} faults\n`);
const answered = [...fuzzer.seen].sort(([one], [other]) => one.localeCompare(other));
for (const [where, count] of answered) process.stdout.write(`${String(count).padStart(7)} ${where}\n`);
await Promise.all([lays.close(), listening.stop(0)]);
await Promise.all([engine.close(), files.close()]);
store.close();
rmSync(folder, { recursive: true, force: true });
process.exitCode = faults > 0 ? 1 : 0;

async function sendTo(path: string, method: string, seed: number): Promise<void> {
  const known = await furnish({ send }, url, await oneLay());
  const requests = fc.sample(requestsFor(document, path, method, known), {
    numRuns: Number(values.requests),
    seed,
  });
  for (const each of requests) {
    const request = path === '/api/lays' ? hurried(each) : each;
    const fault = await fuzzer.faultOf(path, request).catch((error: unknown) => `no answer: ${error}`);
    sent++;
    if (fault === null && errors.length === 0) continue;
    faults++;
    process.stdout.write(
      `seed ${seed}: ${request.method} ${request.address}\n  ${fault ?? ''} ${errors.splice(0).join('\n  ')}\n`,
    );
    process.stdout.write(`  ${String(request.body).slice(0, 2_000)}\n`);
  }
}

/** A lay with the demo's layouts in it, for what can be asked about lays: the last one while it is there, as it takes a while. */
async function oneLay(): Promise<string> {
  if (lastLay !== undefined && lays.get(lastLay)?.state.state === 'done') return lastLay;
  const { body } = await send<{ id: string }>('POST', '/api/lays', {
    project: demoProject(),
    seconds: 0.1,
    maxSteps: 1,
  });
  for (;;) {
    const { state } = (await send<{ state: string }>('GET', `/api/lays/${body.id}`)).body;
    if (state === 'done') {
      lastLay = body.id;
      return body.id;
    }
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

/** The same lay with little time. */
function hurried(request: FuzzRequest): FuzzRequest {
  if (typeof request.body !== 'string') return request;
  return { ...request, body: request.body.replace(/"seconds":[\d.e+]+/, '"seconds":0.1') };
}
