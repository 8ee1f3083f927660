import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach } from 'vitest';
import { type Project, projectSchema } from '../../pattern/exchange/project.ts';
import type { LayProgress } from '../../pattern/lay/runLay.ts';
import { type AppParts, createApp } from '../../server/app.ts';
import { makeHere } from '../../server/files/makers.ts';
import { Lays, type LaysParts, type RunLay } from '../../server/lays.ts';
import { listen } from '../../server/listen.ts';
import { ProjectStore } from '../../server/storage/projectStore.ts';

const cleanups: (() => void | Promise<void>)[] = [];

/** Runs when the test that asked for it is over, last asked first. */
export function afterTest(cleanup: () => void | Promise<void>): void {
  cleanups.push(cleanup);
}

afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

/** A folder of the test's own, gone after it. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'clothlay-test-'));
  afterTest(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Our own small bag: a side panel cut in pairs from a waxed cotton. */
export function sampleProject(change: Partial<Record<keyof Project, unknown>> = {}): Project {
  return projectSchema.parse({
    format: 'clothlay-project',
    version: 2,
    name: 'Handlebar pouch',
    pieces: [
      {
        id: 'side',
        name: 'Side',
        outline: [
          [0, 0],
          [200, 0],
          [180, 120],
          [0, 120],
        ],
      },
    ],
    materials: [{ id: 'main', name: 'Waxed cotton' }],
    cutList: [{ pieceId: 'side', materialId: 'main', plain: 1, mirrored: 1 }],
    cloths: [{ kind: 'roll', id: 'roll', name: 'Waxed cotton, olive', materialId: 'main', widthMm: 1400 }],
    ...change,
  });
}

/** What an engine might report: one lay of the sample project's cloth, so long. */
export function sampleProgress(usedMm: number, spread: 'single' | 'folded' = 'single'): LayProgress {
  return {
    notices: [],
    results: [
      {
        materialId: 'main',
        clothId: 'roll',
        spread,
        verdict: 'fits',
        segments: [],
        unplaced: [],
        usedMm,
        buyMm: Math.ceil(usedMm / 100) * 100,
        usePercent: 50,
        piecesToTrace: 2,
        pieceAreaMm2: 45_600,
        clothAreaMm2: 1400 * usedMm,
        costCents: null,
      },
    ],
  };
}

/** An engine that does what the test says, when it says so. */
export class PuppetEngine {
  readonly runs: {
    readonly report: (progress: LayProgress) => void;
    readonly resolve: (progress: LayProgress) => void;
    readonly reject: (error: Error) => void;
    readonly signal: AbortSignal;
  }[] = [];
  /** Whether a run ends by itself when it is aborted, as a well-behaved engine does. */
  endsOnAbort = true;

  readonly runLay: RunLay = (_request, report, signal) =>
    new Promise((resolve, reject) => {
      this.runs.push({ report, resolve, reject, signal });
      signal.addEventListener('abort', () => {
        if (this.endsOnAbort) resolve({ results: [], notices: [] });
      });
    });

  /** The run with this number, once it has been started. */
  async started(number: number): Promise<PuppetEngine['runs'][number]> {
    await until(() => this.runs.length > number);
    return this.runs[number]!;
  }
}

/** Resolves as soon as `condition` holds; the runner's own time limit ends a test where it never does. */
export async function until(condition: () => boolean | Promise<boolean>): Promise<void> {
  while (!(await condition())) await new Promise((resolve) => setTimeout(resolve, 5));
}

export interface ServerParts extends Partial<Omit<AppParts, 'lays' | 'store'>> {
  readonly lays?: Partial<LaysParts>;
  readonly file?: string;
  readonly now?: () => Date;
  readonly maxBytes?: number;
  readonly requestMs?: number;
}

/** A server on a free port of the loopback address, with an engine the test holds the strings of. */
export async function startServer(parts: ServerParts = {}) {
  const engine = new PuppetEngine();
  const file = parts.file ?? join(temporaryFolder(), 'data', 'clothlay.sqlite');
  const store = new ProjectStore({ file, now: parts.now, maxBytes: parts.maxBytes });
  const lays = new Lays({ runLay: engine.runLay, ...parts.lays });
  const app = createApp({
    makeFile: makeHere,
    ...parts,
    store,
    lays,
  });
  const listening = await listen({
    app,
    port: 0,
    host: '127.0.0.1',
    ...(parts.requestMs === undefined ? {} : { requestMs: parts.requestMs }),
  });
  afterTest(async () => {
    for (const run of engine.runs) run.resolve({ results: [], notices: [] });
    engine.endsOnAbort = true;
    await lays.close();
    await listening.stop(0);
    store.close();
  });
  const { url } = listening;
  return { url, app, store, lays, engine, file, port: Number(new URL(url).port), ...client(url) };
}

export interface Answer<Body> {
  readonly status: number;
  readonly headers: Headers;
  readonly body: Body;
}

/** Requests with JSON bodies, the answers read. */
export function client(url: string) {
  const send = async <Body = Record<string, unknown>>(
    method: string,
    path: string,
    body?: unknown,
    headers: Record<string, string> = {},
  ): Promise<Answer<Body>> => {
    const response = await fetch(url + path, {
      method,
      headers: body === undefined ? headers : { 'content-type': 'application/json', ...headers },
      ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
    });
    const text = await response.text();
    const isJson = text !== '' && /[/+]json/.test(response.headers.get('content-type') ?? '');
    return {
      status: response.status,
      headers: response.headers,
      body: (isJson ? JSON.parse(text) : text) as Body,
    };
  };
  return { send };
}
