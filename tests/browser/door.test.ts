import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { hasOpenssl, selfMadeCertificate } from '../support/selfMadeCertificate.ts';
import { findings } from './accessibility.ts';
import {
  hasBrowser,
  launch,
  newProject,
  paste,
  TestServer,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

const PASSWORD = 'two needles and a bobbin';

/** Everything this browser keeps of the page: storages, databases and caches, as one text. */
function keptIn(page: Page): Promise<string> {
  return page.evaluate(async () => {
    const done = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const kept: unknown[] = [{ ...localStorage }, { ...sessionStorage }];
    for (const { name } of await indexedDB.databases()) {
      const database = await done(indexedDB.open(name!));
      for (const store of database.objectStoreNames)
        kept.push(await done(database.transaction(store).objectStore(store).getAll()));
      database.close();
    }
    for (const name of await caches.keys()) {
      const cache = await caches.open(name);
      for (const key of await cache.keys())
        if (key.url.includes('/api/')) kept.push(await (await cache.match(key))?.text());
    }
    return JSON.stringify(kept);
  });
}

describe.skipIf(!hasBrowser)(`a closed door${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser({ PASSWORD });

  it('asks for the password, says when it is wrong, and opens with the right one, by keyboard alone', async () => {
    const context = await app.browser.newContext();
    const page = await context.newPage();
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(error.message));
    page.on('console', (message) => {
      if (/Content.Security.Policy/i.test(message.text())) faults.push(message.text());
    });
    await page.goto(app.server.url);
    const form = page.getByRole('dialog', { name: 'Sign in to the workshop' });
    await form.waitFor();
    expect(await findings(page)).toEqual([]);
    expect(await page.getByText('Handlebar').count()).toBe(0);
    await page.keyboard.press('Escape');
    await form.waitFor();
    await page.keyboard.type('not the password');
    // It can be looked at before it is sent.
    const field = form.getByLabel('Password', { exact: true });
    expect(await field.getAttribute('type')).toBe('password');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Space');
    await expect.poll(() => field.getAttribute('type')).toBe('text');
    expect(await field.inputValue()).toBe('not the password');
    await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('Enter');
    await form.getByRole('alert').waitFor();
    expect(await findings(page)).toEqual([]);
    // What was wrong is selected: typing replaces it.
    await page.keyboard.type(PASSWORD);
    await page.keyboard.press('Enter');
    await page.getByRole('navigation', { name: 'Steps of the work' }).waitFor();
    expect(await form.count()).toBe(0);
    const [cookie] = await context.cookies();
    expect(cookie).toMatchObject({ name: 'clothlay', httpOnly: true, sameSite: 'Strict' });
    await newProject(page);
    await untilSaved(page);
    expect(faults).toEqual([]);
    await page.getByRole('button', { name: 'Projects', exact: true }).click();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await form.waitFor();
    expect(await context.cookies()).toEqual([]);
    await context.close();
  });

  it('leaves nothing of the work in the browser of who signs out', async () => {
    const context = await app.browser.newContext();
    const page = await context.newPage();
    await page.goto(app.server.url);
    await page.getByLabel('Password', { exact: true }).fill(PASSWORD);
    await page.keyboard.press('Enter');
    await page.getByRole('navigation', { name: 'Steps of the work' }).waitFor();
    await newProject(page);
    await paste(page, 'Confidential flap 30 x 40 cm', 'Canvas');
    await untilSaved(page);
    // Reading it again is what puts a copy into the browser for when the server is away.
    await page.reload();
    await page.getByText('Confidential flap').first().waitFor();
    await expect.poll(() => keptIn(page)).toContain('Confidential flap');
    await page.getByRole('button', { name: 'Projects', exact: true }).click();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByRole('dialog', { name: 'Sign in to the workshop' }).waitFor();
    await expect.poll(() => keptIn(page)).not.toContain('Confidential flap');
    await context.close();
  });

  it('that shuts in the middle of the work loses none of it', async () => {
    const context = await app.browser.newContext();
    const page = await context.newPage();
    await page.goto(app.server.url);
    const password = page.getByLabel('Password', { exact: true });
    await password.fill(PASSWORD);
    await page.keyboard.press('Enter');
    await page.getByRole('navigation', { name: 'Steps of the work' }).waitFor();
    await newProject(page);
    await untilSaved(page);
    const address = page.url();
    // The session ends between two presses: any request may be the first to hear of it.
    await page.getByRole('button', { name: 'Paste a cut list' }).click();
    await page.getByLabel('Cut list', { exact: true }).fill('After the end 30 x 40 cm');
    await page.getByLabel('Material, unless a line names one').fill('Canvas');
    await context.clearCookies();
    await page.getByRole('button', { name: /^Add \d+ pieces?$/ }).click();
    await page.getByText('Your session has ended').waitFor();
    await password.fill(PASSWORD);
    await page.keyboard.press('Enter');
    await untilSaved(page);
    await page.goto(address);
    await page.reload();
    await page.getByRole('list', { name: 'Your pieces' }).getByText('After the end').waitFor();
    await context.close();
  });
});

describe.skipIf(!hasBrowser)(
  `a door opened to the network${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser({ HOST: '0.0.0.0' });

    it('lets in whoever opens the printed address, and takes the key out of it', async () => {
      expect(app.server.url).toMatch(/\/#key=[\w-]{22}$/);
      const stranger = await fetch(new URL('/api/projects', app.server.url));
      expect(stranger.status).toBe(401);
      const { page, context, faults } = await app.open();
      expect(page.url()).not.toContain('key=');
      await untilSaved(page);
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);

describe.skipIf(!(hasBrowser && hasOpenssl))(
  `a door with https of its own${hasBrowser && hasOpenssl ? '' : ' (skipped: no Chromium or openssl here)'}`,
  () => {
    it('lets in by a cookie that goes over https alone, and saves', async () => {
      const folder = await mkdtemp(join(tmpdir(), 'clothlay-certificate-'));
      const { certificate, key } = selfMadeCertificate(folder);
      const [server, browser] = await Promise.all([
        TestServer.start({ PASSWORD, TLS_CERT: certificate, TLS_KEY: key }),
        launch(),
      ]);
      try {
        expect(server.url).toMatch(/^https:/);
        // As someone who goes on behind the warning: the certificate is nobody's but the workshop's own.
        const context = await browser.newContext({ ignoreHTTPSErrors: true });
        const page = await context.newPage();
        const faults: string[] = [];
        page.on('pageerror', (error) => faults.push(error.message));
        await page.goto(server.url);
        await page.getByLabel('Password', { exact: true }).fill(PASSWORD);
        await page.keyboard.press('Enter');
        await page.getByRole('navigation', { name: 'Steps of the work' }).waitFor();
        const [cookie] = await context.cookies();
        expect(cookie).toMatchObject({
          name: '__Host-clothlay',
          secure: true,
          httpOnly: true,
          sameSite: 'Strict',
        });
        await newProject(page);
        await page.getByLabel('Project name').fill('Over https');
        await untilSaved(page);
        await page.reload();
        await expect.poll(() => page.getByLabel('Project name').inputValue()).toBe('Over https');
        expect(faults).toEqual([]);
      } finally {
        await browser.close();
        await server.close();
        await rm(folder, { recursive: true, force: true });
      }
    });
  },
);
