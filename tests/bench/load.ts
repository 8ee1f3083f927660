/**
 * A workshop's day at once, against the built server in a process of its own:
 *   npm run bench:load -- [--clients 50] [--lays 8] [--seconds 60] [--soak MINUTES] [--out FILE]
 * So many clients change, read and print projects of their own, and so many of them have a lay under way all the
 * time. Printed are the times of requests by kind, how even the lays went, memory, and how busy the machine was with
 * what. Ends with 1 where something is not as it must be: an error, p95 of ordinary requests (reads and writes) of 200
 * ms or more, 1.5 GB or more, lays that differ by more than half, or, with --soak, memory that grew by a tenth or more.
 * What grows is judged by what is left when all garbage is collected, after a warm-up and at the end: resident memory,
 * printed too, also follows how much V8 cares to leave uncollected.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { chanceOf } from './load/chance.ts';
import { type Kind, LoadClient, type Seen } from './load/client.ts';
import { type Held, heldGrowth, heldMb, LiveHeap, reservedMb } from './load/liveHeap.ts';
import { ProcessWatch } from './load/processWatch.ts';
import { projectOf, projectOfClient } from './load/projects.ts';
import { growth, quantile, unevenness } from './load/summary.ts';
import { describeMachine } from './machine.ts';

const { values } = parseArgs({
  options: {
    clients: { type: 'string', default: '50' },
    lays: { type: 'string', default: '8' },
    seconds: { type: 'string', default: '60' },
    soak: { type: 'string' },
    threads: { type: 'string', default: '2' },
    out: { type: 'string' },
  },
});

/** What must hold. */
const MOST_ORDINARY_MS = 200;
const MOST_MB = 1_500;
const MOST_UNEVEN = 1.5;
const MOST_GROWTH = 0.1;
/** Of a soak, so long is left out of the growth: code is compiled, caches and the heap find their size. */
const WARM_UP_MS = 120_000;

const PASSWORD = 'fifty needles in one haystack';
const LAY_SECONDS = 5;

const isSoak = values.soak !== undefined;
const durationMs = isSoak ? Number(values.soak) * 60_000 : Number(values.seconds) * 1000;
const folder = mkdtempSync(join(tmpdir(), 'clothlay-load-'));
const heapFile = join(folder, 'heap.jsonl');
const server = await start();
const watch = new ProcessWatch(server.pid);
const liveHeap = new LiveHeap(server.pid, heapFile);
const held: Held[][] = [];
const seen: Seen = { requests: [], lays: [], errors: [] };
try {
  const clients = Array.from({ length: Number(values.clients) }, (_, number) => {
    const chance = chanceOf(number + 1);
    return new LoadClient(server.url, projectOfClient(chance, number), chance, seen);
  });
  await Promise.all(clients.map((client) => client.begin(PASSWORD)));
  const end = performance.now() + durationMs;
  const isOver = (): boolean => performance.now() >= end;
  const warmUp = isSoak ? collectAfter(Math.min(WARM_UP_MS, durationMs / 4)) : Promise.resolve();
  const toLay = projectOf(chanceOf(99), 'To be laid', 12, 24);
  await Promise.all([
    ...clients.map((client) => client.work(isOver)),
    ...clients
      .slice(0, Number(values.lays))
      .map((client) => client.layAgainAndAgain(toLay, LAY_SECONDS, isOver)),
    warmUp,
  ]);
  if (isSoak) await collectAfter(0);
} finally {
  watch.stop();
}
const faults = report();
server.process.kill('SIGTERM');
await server.ended;
rmSync(folder, { recursive: true, force: true });
process.exitCode = faults.length > 0 ? 1 : 0;

async function collectAfter(ms: number): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, ms));
  held.push(await liveHeap.collect());
}

async function start() {
  const entry = fileURLToPath(new URL('../../dist/server/index.js', import.meta.url));
  const collecting = new URL('./load/collectInThreads.mjs', import.meta.url).href;
  const child = spawn(process.execPath, ['--expose-gc', '--import', collecting, entry], {
    env: {
      ...process.env,
      LIVE_HEAP: heapFile,
      PORT: '0',
      HOST: '127.0.0.1',
      DATA_DIR: folder,
      THREADS: values.threads,
      PASSWORD,
      LOG_LEVEL: 'warn',
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise<void>((resolve) => {
    child.once('exit', () => resolve());
  });
  const url = await new Promise<string>((resolve, reject) => {
    child.stdout.on('data', (chunk: Buffer) => {
      const match = /http:\/\/\S+/.exec(chunk.toString())?.[0];
      if (match !== undefined) resolve(match);
    });
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}`)));
  });
  return { process: child, pid: child.pid!, url, ended };
}

/** Prints what was seen, and gives what is not as it must be. */
function report(): string[] {
  const machine = describeMachine();
  const shares = watch.shares();
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
  const say = (line: string): void => void process.stdout.write(`${line}\n`);
  say(Object.values(machine).join(', '));
  say(
    `${values.clients} clients, ${values.lays} lays at once, ${Math.round(durationMs / 1000)} s; processors busy: ` +
      `server ${shares.server.toFixed(2)}, bench ${shares.bench.toFixed(2)}, others ${shares.others.toFixed(2)}; ` +
      `load ${loadavg()[0]!.toFixed(1)}`,
  );
  say(
    `the thread that answers ran ${percent(watch.answeringShare())} of the time, and of the time it had work waited ` +
      `${percent(watch.waitingShare())} for a processor`,
  );
  say('requests        count   median      p95      p99    worst  ms');
  const timesOf = (kinds: readonly Kind[], what?: string): number[] =>
    seen.requests
      .filter((entry) => kinds.includes(entry.kind) && (what ?? entry.what) === entry.what)
      .map(({ ms }) => ms);
  const line = (name: string, times: readonly number[]): void => {
    const cells = [0.5, 0.95, 0.99, 1].map((part) => quantile(times, part).toFixed(1).padStart(9));
    say(`${name.padEnd(14)}${String(times.length).padStart(7)}${cells.join('')}`);
  };
  const ordinary = timesOf(['read', 'write']);
  line('ordinary', ordinary);
  for (const what of ['create', 'save', 'project', 'list', 'page'])
    line(`  ${what}`, timesOf(['read', 'write'], what));
  line('files', timesOf(['file']));
  for (const what of new Set(seen.requests.filter(({ kind }) => kind === 'file').map((entry) => entry.what)))
    line(`  ${what}`, timesOf(['file'], what));
  line('lay asked', timesOf(['lay']));
  line(
    'first layout',
    seen.lays.map(({ firstMs }) => firstMs),
  );
  line(
    'lay ended',
    seen.lays.map(({ wholeMs }) => wholeMs),
  );
  // Lays that were asked for together: the first of each client.
  const together = seen.lays.slice(0, Number(values.lays)).map(({ wholeMs }) => wholeMs);
  say(`slowest to fastest lay of those asked for together: ${unevenness(together).toFixed(2)}`);
  const memory = watch.samples.map(({ residentMb }) => residentMb);
  const highest = Math.max(...memory);
  say(`memory: ${Math.round(quantile(memory, 0.5))} MB in the middle, ${Math.round(highest)} MB at most`);

  const wrong = [...new Set(seen.errors)].slice(0, 10);
  if (seen.errors.length > 0) wrong.unshift(`${seen.errors.length} errors`);
  const p95 = quantile(ordinary, 0.95);
  if (!(p95 < MOST_ORDINARY_MS)) wrong.push(`p95 of ordinary requests is ${p95.toFixed(0)} ms`);
  if (!(highest < MOST_MB)) wrong.push(`memory reached ${Math.round(highest)} MB`);
  if (!(unevenness(together) < MOST_UNEVEN)) wrong.push('lays asked for together went unevenly');
  if (isSoak) {
    const from = watch.samples[0]!.atMs + Math.min(WARM_UP_MS, durationMs / 4);
    const grown = growth(
      watch.samples.filter(({ atMs }) => atMs >= from).map(({ residentMb }) => residentMb),
    );
    say(`growth of resident memory over the soak: ${percent(grown)}`);
    const [early, late] = held as [Held[], Held[]];
    const change = heldGrowth(early, late);
    const sayHeld = (threads: readonly Held[]): string =>
      `${heldMb(threads).toFixed(0)} MB in ${threads.length} threads ` +
      `(${heldMb(threads.filter(({ thread }) => thread === 0)).toFixed(1)} in the one that answers), ` +
      `of ${reservedMb(threads).toFixed(0)} MB of heaps`;
    say(`held once garbage is collected: ${sayHeld(early)}; at the end ${sayHeld(late)}: ${percent(change)}`);
    if (!(change < MOST_GROWTH)) wrong.push(`what is held grew by ${percent(change)}`);
  }
  for (const fault of wrong) say(`! ${fault}`);
  if (values.out !== undefined) {
    const result = { machine, shares, seen, memory, held, wrong };
    writeFileSync(values.out, `${JSON.stringify(result)}\n`);
  }
  return wrong;
}
