import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CHROMIUM, CHROMIUM_ARGS, hasBrowser, TestServer } from './support.ts';

/** A Chromium with a profile that outlives it, which can be ended as by a power cut. */
class MortalBrowser {
  readonly profile: string;
  #process: ChildProcess | null = null;

  private constructor(profile: string) {
    this.profile = profile;
  }

  static async withProfile(): Promise<MortalBrowser> {
    return new MortalBrowser(await mkdtemp(join(tmpdir(), 'clothlay-profile-')));
  }

  async open(url: string): Promise<{ browser: Browser; page: Page }> {
    const portFile = join(this.profile, 'DevToolsActivePort');
    await rm(portFile, { force: true });
    const child = spawn(
      CHROMIUM,
      [...CHROMIUM_ARGS, '--headless', '--remote-debugging-port=0', `--user-data-dir=${this.profile}`],
      // A group of its own, so that its helpers die with it.
      { stdio: 'ignore', detached: true },
    );
    this.#process = child;
    let port = '';
    while (port === '') {
      if (child.exitCode !== null) throw new Error(`Chromium ended with ${child.exitCode}`);
      port = (await readFile(portFile, 'utf8').catch(() => '')).split('\n')[0] ?? '';
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
    const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
    const context = browser.contexts()[0]!;
    const page = await context.newPage();
    page.setDefaultTimeout(30_000);
    await page.goto(url);
    await page.getByRole('navigation', { name: 'Steps of the work' }).waitFor();
    return { browser, page };
  }

  /** Ends every process of it at once. */
  async kill(): Promise<void> {
    const child = this.#process;
    this.#process = null;
    if (child?.pid === undefined || child.exitCode !== null) return;
    const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
    process.kill(-child.pid, 'SIGKILL');
    await ended;
  }

  async close(): Promise<void> {
    await this.kill();
    await rm(this.profile, { recursive: true, force: true });
  }
}

/**
 * Writes the time into the project's name every 50 ms until the browser is killed, as a maker types it: through the field
 * and all that hangs on it.
 */
async function count(page: Page, mark: string): Promise<void> {
  await page.evaluate((mark) => {
    const field = document.querySelector<HTMLInputElement>('.project-name input')!;
    const write = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!;
    const began = performance.now();
    const timer = setInterval(() => {
      const now = Math.round(performance.now() - began);
      write.call(field, `${mark} after ${now} ms`);
      field.dispatchEvent(new Event('input', { bubbles: true }));
      field.dispatchEvent(new Event('change', { bubbles: true }));
      if (now > 60_000) clearInterval(timer);
    }, 50);
  }, mark);
}

/** The time written last, as the page itself knew it just before its end. */
const written = (page: Page): Promise<number> =>
  page.evaluate(() =>
    Number(/\d+/.exec(document.querySelector<HTMLInputElement>('.project-name input')!.value)![0]),
  );

describe.skipIf(!hasBrowser)(
  `a browser that is killed${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    let server: TestServer;
    beforeAll(async () => {
      server = await TestServer.start();
    });
    afterAll(() => server?.close());

    /** What is left of what this visit wrote. */
    const kept = async (page: Page, mark: string): Promise<number> => {
      const name = await page.getByLabel('Project name').inputValue();
      return name.startsWith(mark) ? Number(/\d+/.exec(name)?.[0]) : 0;
    };

    it.each([
      ['with its server there', 'there', false],
      ['with its server away', 'away', true],
    ])(
      'loses no more than the last second, %s',
      async (_name, mark, isAway) => {
        const mortal = await MortalBrowser.withProfile();
        try {
          const { page } = await mortal.open(server.url);
          const address = page.url();
          const { port } = server;
          if (isAway) await server.kill();
          await count(page, mark);
          await page.waitForTimeout(4_000);
          const last = await written(page);
          expect(last).toBeGreaterThan(2_000);
          await mortal.kill();
          if (isAway) await server.run(port);
          const back = await mortal.open(address);
          // What is written between asking and killing does not count against it.
          expect(await kept(back.page, mark)).toBeGreaterThanOrEqual(last - 1_000);
        } finally {
          await mortal.close();
        }
      },
      120_000,
    );
  },
);
