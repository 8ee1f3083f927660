import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import {
  hasBrowser,
  newProject,
  openPage,
  paste,
  step,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

/** Waits until this browser has the page and what it shows. */
async function untilKept(page: Page): Promise<void> {
  await page.waitForFunction(async () => {
    const id = /^#\/([^/]+)/.exec(location.hash)?.[1];
    return (
      navigator.serviceWorker.controller !== null &&
      (await caches.match('/')) !== undefined &&
      (await caches.match('/api/projects')) !== undefined &&
      (await caches.match(`/api/projects/${id}`)) !== undefined
    );
  });
}

describe.skipIf(!hasBrowser)(
  `a page without its server${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('opens, works on what it has and sends it later', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Panel 30 x 40 cm (2)', 'Canvas');
      await untilSaved(page);
      await untilKept(page);
      const { port } = app.server;
      await app.server.kill();

      await page.reload();
      const pieces = page.getByRole('list', { name: 'Your pieces' });
      await pieces.getByText('Panel', { exact: true }).waitFor();
      await page.getByText(/No connection\. This is the project as this browser had it last/).waitFor();
      await paste(page, 'Made offline 20 x 10 cm', 'Canvas');
      await page.getByText('Not saved: no connection').waitFor();
      // Every step of the work opens, and the reader of drawings is there.
      for (const name of ['Cut list', 'Cloths', 'Lay plan', 'Cutting'] as const) {
        await step(page, name).click();
        await page.getByRole('heading', { level: 2, name }).waitFor();
      }
      // Closed and opened once more: still there, and undone like any other step.
      await page.close();
      const again = await openPage(app.browser, page.url(), { context });
      await step(again.page, 'Pieces').click();
      await again.page.getByRole('list', { name: 'Your pieces' }).getByText('Made offline').waitFor();

      await app.server.run(port);
      await untilSaved(again.page);
      const elsewhere = await openPage(app.browser, again.page.url());
      await step(elsewhere.page, 'Pieces').click();
      await elsewhere.page.getByRole('list', { name: 'Your pieces' }).getByText('Made offline').waitFor();
      expect([...faults, ...again.faults, ...elsewhere.faults]).toEqual([]);
      await Promise.all([context.close(), elsewhere.context.close()]);
    });

    it('joins what was done offline with what somebody else did meanwhile', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Panel 30 x 40 cm (2)', 'Canvas');
      await untilSaved(page);
      await untilKept(page);
      const address = page.url();
      await context.setOffline(true);
      await page.reload();
      await page.getByRole('list', { name: 'Your pieces' }).getByText('Panel', { exact: true }).waitFor();
      await paste(page, 'Mine 20 x 10 cm', 'Canvas');
      await page.getByText('Not saved: no connection').waitFor();
      const theirs = await openPage(app.browser, address);
      await paste(theirs.page, 'Theirs 10 x 10 cm', 'Canvas');
      await untilSaved(theirs.page);
      await context.setOffline(false);
      await page.getByText(/Both are joined/).waitFor({ timeout: 60_000 });
      await untilSaved(page);
      const pieces = page.getByRole('list', { name: 'Your pieces' });
      for (const name of ['Panel', 'Mine', 'Theirs']) await pieces.getByText(name, { exact: true }).waitFor();
      expect([...faults, ...theirs.faults]).toEqual([]);
      await Promise.all([context.close(), theirs.context.close()]);
    });
  },
);
