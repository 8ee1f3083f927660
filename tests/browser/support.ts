import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, chromium, type Locator, type Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import type { Project } from '../../pattern/exchange/project.ts';

/** A built server of its own and a Chromium for the tests that use the page as a maker does. */

export const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';
export const CHROMIUM_ARGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
];
const SERVER = fileURLToPath(new URL('../../dist/server/index.js', import.meta.url));

/** Without a browser these tests are left out, except where the build is judged: there it is a fault. */
export const hasBrowser = existsSync(CHROMIUM) || process.env.CI !== undefined;

export function launch(): Promise<Browser> {
  return chromium.launch({
    executablePath: CHROMIUM,
    args: CHROMIUM_ARGS,
  });
}

/** A clothlay of its own, on a port of its own, with a data folder that outlives its process. */
export class TestServer {
  readonly dataDir: string;
  url = '';
  #process: ChildProcess | null = null;

  readonly #environment: Readonly<Record<string, string>>;

  private constructor(dataDir: string, environment: Readonly<Record<string, string>>) {
    this.#environment = environment;
    this.dataDir = dataDir;
  }

  /** @param environment further variables, such as PASSWORD */
  static async start(environment: Readonly<Record<string, string>> = {}): Promise<TestServer> {
    const server = new TestServer(await mkdtemp(join(tmpdir(), 'clothlay-')), environment);
    await server.run('0');
    return server;
  }

  /** Starts the process; `port` 0 takes any free one. Resolves when it says where it listens. */
  async run(port: string): Promise<void> {
    const child = spawn(process.execPath, [SERVER], {
      env: { ...process.env, PORT: port, DATA_DIR: this.dataDir, HOST: '127.0.0.1', ...this.#environment },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    this.#process = child;
    const said: string[] = [];
    this.url = await new Promise<string>((resolve, reject) => {
      child.stderr?.on('data', (chunk: Buffer) => said.push(chunk.toString()));
      child.stdout?.on('data', (chunk: Buffer) => {
        said.push(chunk.toString());
        const url = /https?:\/\/\S+/.exec(said.join(''))?.[0];
        if (url !== undefined) resolve(url);
      });
      child.once('error', reject);
      child.once('exit', (code) => reject(new Error(`the server ended with ${code}: ${said.join('')}`)));
    });
  }

  get port(): string {
    return new URL(this.url).port;
  }

  get pid(): number {
    const pid = this.#process?.pid;
    if (pid === undefined) throw new Error('the server is not running');
    return pid;
  }

  /** Ends the process at once, as a power cut would. */
  kill(): Promise<void> {
    return this.#stop('SIGKILL');
  }

  /** Ends the process in order. */
  end(): Promise<void> {
    return this.#stop('SIGTERM');
  }

  async #stop(signal: 'SIGKILL' | 'SIGTERM'): Promise<void> {
    const child = this.#process;
    this.#process = null;
    if (!child || child.exitCode !== null) return;
    const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
    child.kill(signal);
    await ended;
  }

  async close(): Promise<void> {
    await this.kill();
    await rm(this.dataDir, { recursive: true, force: true });
  }
}

export const DESK = { width: 1280, height: 900 };
export const PHONE = { width: 360, height: 740 };

/** Errors that a page must not have; collected from the moment it is opened. */
export interface OpenPage {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly faults: string[];
}

/** A context of the test's own making, or the size of the window in which one is made (a desk's if not said). */
export interface OpenOptions {
  readonly viewport?: { readonly width: number; readonly height: number };
  readonly context?: BrowserContext;
}

/** Opens the page in a browser profile of its own and waits until a project is there. */
export async function openPage(browser: Browser, url: string, options: OpenOptions = {}): Promise<OpenPage> {
  const context =
    options.context ??
    (await browser.newContext({ viewport: options.viewport ?? DESK, acceptDownloads: true }));
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => {
    // A refused or lost request is part of some tests; what the page makes of it is what they check.
    if (message.type() === 'error' && !/Failed to load resource|net::ERR/.test(message.text())) {
      faults.push(message.text());
    }
  });
  await page.goto(url);
  await page.getByRole('navigation', { name: 'Steps of the work' }).waitFor();
  return { page, context, faults };
}

export function step(page: Page, name: 'Pieces' | 'Cut list' | 'Cloths' | 'Lay plan' | 'Cutting'): Locator {
  return page.getByRole('navigation', { name: 'Steps of the work' }).getByRole('link', { name });
}

/** A project of the test's own, empty. */
export async function newProject(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Projects', exact: true }).click();
  await page.getByRole('button', { name: 'New project', exact: true }).click();
  await page.getByRole('heading', { name: 'Start with your pieces' }).waitFor();
}

/** Waits until the page says that the server has everything. */
export async function untilSaved(page: Page): Promise<void> {
  await page.locator('.save-state.saved').waitFor();
}

/** The open project as the server has it; ask once the page says that it is saved. */
export async function storedProject(page: Page): Promise<Project> {
  const { origin, hash } = new URL(page.url());
  const id = /^#\/([^/]+)/.exec(hash)?.[1];
  const response = await page.request.get(`${origin}/api/projects/${id}`);
  return ((await response.json()) as { project: Project }).project;
}

/** A cut list of twenty sizes, two of each, that keeps the engine busy for a while. */
export const TWENTY_SIZES = Array.from(
  { length: 20 },
  (_, i) => `P${i} ${13 + ((i * 37) % 29)} x ${17 + ((i * 53) % 41)} cm (2)`,
).join('\n');

/** Pastes a cut list and adds all of it. */
export async function paste(page: Page, text: string, material: string): Promise<void> {
  await step(page, 'Pieces').click();
  await page.getByRole('button', { name: 'Paste a cut list' }).click();
  await page.getByLabel('Cut list', { exact: true }).fill(text);
  await page.getByLabel('Material, unless a line names one').fill(material);
  await page.getByRole('button', { name: /^Add \d+ pieces?$/ }).click();
}

/** Adds a cloth of a kind and leaves its card open. */
export async function addCloth(page: Page, material: string, kind: 'roll' | 'remnant'): Promise<void> {
  await step(page, 'Cloths').click();
  // A material without a cloth shows the choice by itself. The step may still be coming.
  const ask = page.getByRole('button', { name: `Add a cloth for ${material}` });
  const choice = page.getByRole('button', {
    name: kind === 'roll' ? 'Roll or width from the shop' : 'Remnant you have',
  });
  await ask.or(choice).first().waitFor();
  if ((await ask.count()) > 0) await ask.click();
  await choice.click();
}

/** Waits until a lay has ended by itself. */
export async function untilLaid(page: Page, timeout = 60_000): Promise<void> {
  await page.locator('.progress', { hasText: 'Done.' }).first().waitFor({ timeout });
}

/** What all tests of a file share: a server and a Chromium, there from the first test on. */
export interface SharedApp {
  readonly server: TestServer;
  readonly browser: Browser;
  /** Opens the page of the shared server; see {@link openPage}. */
  open(options?: OpenOptions): Promise<OpenPage>;
}

/**
 * One server and one Chromium for all tests of a file: started before the first, closed after the last. Asking for
 * either while tests are still being collected throws.
 *
 * @param environment further variables of the server, such as PASSWORD
 */
export function withServerAndBrowser(environment: Readonly<Record<string, string>> = {}): SharedApp {
  let started: [server: TestServer, browser: Browser] | undefined;
  const running = () => {
    if (!started) throw new Error('The server and the browser are there within tests and hooks only.');
    return started;
  };
  beforeAll(async () => {
    started = await Promise.all([TestServer.start(environment), launch()]);
  });
  afterAll(async () => {
    await started?.[1].close();
    await started?.[0].close();
  });
  return {
    get server() {
      return running()[0];
    },
    get browser() {
      return running()[1];
    },
    open: (options) => openPage(running()[1], running()[0].url, options),
  };
}
