import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { StoredProject } from '../../pattern/exchange/lay.ts';
import {
  addCloth,
  hasBrowser,
  newProject,
  openPage,
  paste,
  step,
  TWENTY_SIZES,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

/** What takes a running process's room away: Linux has it. */
const canLimit = spawnSync('prlimit', ['--version']).status === 0;

type App = ReturnType<typeof withServerAndBrowser>;

/** A poll that gives a busy machine time. */
const soon = { timeout: 30_000 };

/** The name the server itself has for the project at this address. */
async function storedName(app: App, address: string): Promise<string> {
  const id = /#\/([^/]+)/.exec(address)![1];
  const answer = await fetch(new URL(`/api/projects/${id}`, app.server.url));
  return ((await answer.json()) as StoredProject).project.name;
}

/** A new project, once it is open: the one before may look just as empty. */
async function freshProject(page: Page): Promise<void> {
  const before = page.url();
  await newProject(page);
  await expect.poll(() => page.url(), soon).not.toBe(before);
}

/** Makes a project, and waits until the server has it under this name. */
async function namedProject(app: App, page: Page, name: string): Promise<void> {
  await freshProject(page);
  await page.getByLabel('Project name').fill(name);
  await expect.poll(() => storedName(app, page.url()), soon).toBe(name);
}

describe.skipIf(!hasBrowser)(`a server that fails${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  it.skipIf(!canLimit)(
    'for want of room (needs prlimit and a browser): says so, the work waits in the browser and is saved when there is room',
    async () => {
      const { page, context, faults } = await app.open();
      await namedProject(app, page, 'Before');
      const address = page.url();
      // No file may grow any more: what a full disk does to a write, for this process alone.
      const { size } = statSync(join(app.server.dataDir, 'clothlay.sqlite-wal'));
      const limit = (bytes: string) =>
        execFileSync('prlimit', ['--pid', String(app.server.pid), `--fsize=${bytes}:`]);
      limit(String(size));
      await page.getByLabel('Project name').fill('While it is full');
      const banner = page.getByRole('alert').filter({ hasText: 'The server did not take it' });
      await banner.getByText(/Your work is kept in this browser/).waitFor();
      // What was there is there, for everybody.
      expect(await storedName(app, address)).toBe('Before');
      // The work outlives the page meanwhile.
      await page.reload();
      await expect.poll(() => page.getByLabel('Project name').inputValue(), soon).toBe('While it is full');
      limit('unlimited');
      // By itself, without a press.
      await page.locator('.save-state.saved').waitFor({ timeout: 60_000 });
      expect(await storedName(app, address)).toBe('While it is full');
      expect(faults).toEqual([]);
      await context.close();
    },
  );

  it('because its file can only be read: shows everything, says so, and saves once it can be written', async () => {
    const { page, context, faults } = await app.open();
    await namedProject(app, page, 'Readable');
    const address = page.url();
    const { port, dataDir } = app.server;
    const file = join(dataDir, 'clothlay.sqlite');
    // Ended in order, so that all of it lies in the one file; above 2 the write version makes it read-only to SQLite,
    // whoever runs it (file format, 1.3.3).
    await app.server.end();
    const writable = readFileSync(file);
    const readOnly = Buffer.from(writable);
    readOnly[18] = 3;
    writeFileSync(file, readOnly);
    await app.server.run(port);
    await page.reload();
    await expect.poll(() => page.getByLabel('Project name').inputValue(), soon).toBe('Readable');
    await page.getByLabel('Project name').fill('Not yet written');
    await page
      .getByRole('alert')
      .getByText(/can't be written|can’t be written/)
      .waitFor();
    expect(await storedName(app, address)).toBe('Readable');
    await app.server.end();
    writeFileSync(file, writable);
    await app.server.run(port);
    await page.locator('.save-state.saved').waitFor({ timeout: 60_000 });
    expect(await storedName(app, address)).toBe('Not yet written');
    expect(faults).toEqual([]);
    await context.close();
  });

  it('killed in the middle of a lay and of the typing: the layout so far is kept, no more than a second is gone', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, TWENTY_SIZES, 'Canvas');
    await addCloth(page, 'Canvas', 'roll');
    await untilSaved(page);
    await step(page, 'Lay plan').click();
    await page.getByLabel('Look for').selectOption('long');
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await page.locator('.lay-view').waitFor();
    await page.getByText(/Looking for better layouts/).waitFor();
    await page.getByLabel('Project name').fill('Typed a second before');
    await page.waitForTimeout(1_000);
    const { port } = app.server;
    await app.server.kill();
    // Nothing sent since the kill can have been acknowledged: this is what the server itself had by then.
    await app.server.run(port);
    await page
      .getByText(/lost this lay/)
      .first()
      .waitFor({ timeout: 60_000 });
    await page.locator('.lay-view').waitFor();
    await untilSaved(page);
    const elsewhere = await openPage(app.browser, page.url());
    await expect
      .poll(() => elsewhere.page.getByLabel('Project name').inputValue(), soon)
      .toBe('Typed a second before');
    // The best layout it had is part of the project, and another lay begins from there.
    await elsewhere.page.locator('.lay-view').waitFor();
    await page.getByRole('region', { name: 'Lay out' }).getByLabel('Look for').selectOption('short');
    await page
      .getByRole('button', { name: /Lay out/ })
      .first()
      .click();
    await page.locator('.progress', { hasText: 'Done.' }).first().waitFor({ timeout: 60_000 });
    expect([...faults, ...elsewhere.faults]).toEqual([]);
    await Promise.all([context.close(), elsewhere.context.close()]);
  });
});
