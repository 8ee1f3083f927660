import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { hasBrowser, openPage, step, withServerAndBrowser } from './support.ts';

/** What the first screen may take from the net: a second on a slow phone's connection of 2.4 Mbit/s. */
const MOST_BYTES = 300_000;

/** Packed sizes of everything fetched so far, by path. */
const fetched = (page: Page): Promise<Record<string, number>> =>
  page.evaluate(() =>
    Object.fromEntries(
      [...performance.getEntriesByType('navigation'), ...performance.getEntriesByType('resource')].map(
        (entry) => {
          const { name, encodedBodySize } = entry as PerformanceResourceTiming;
          return [new URL(name).pathname, encodedBodySize];
        },
      ),
    ),
  );

describe.skipIf(!hasBrowser)(
  `the page as it loads${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('shows the first screen with little, and fetches the other steps by itself', async () => {
      const context = await app.browser.newContext({ serviceWorkers: 'block' });
      const page = await context.newPage();
      const faults: string[] = [];
      page.on('pageerror', (error) => faults.push(error.message));
      page.on('console', (message) => {
        if (/Content.Security.Policy/i.test(message.text())) faults.push(message.text());
      });
      // Later parts are held back, so that what is counted does not depend on how fast this machine is.
      let letThrough = (): void => {};
      const open = new Promise<void>((resolve) => {
        letThrough = resolve;
      });
      await context.route(/assets\/(PlanStep|CutListStep|ClothsStep|CuttingStep)-/, async (route) => {
        await open;
        await route.continue();
      });
      await page.goto(app.server.url);
      await page.getByRole('list', { name: 'Your pieces' }).waitFor();
      const first = await fetched(page);
      const bytes = Object.values(first).reduce((sum, size) => sum + size, 0);
      expect(bytes, JSON.stringify(first)).toBeLessThan(MOST_BYTES);
      letThrough();
      await expect
        .poll(
          async () =>
            Object.keys(await fetched(page)).filter((path) => /HandEditor|ImportDialog/.test(path)).length,
          { timeout: 30_000 },
        )
        .toBe(2);
      // With everything here, the steps open although the server is gone.
      await context.setOffline(true);
      for (const name of ['Cut list', 'Cloths', 'Lay plan', 'Cutting'] as const) {
        await step(page, name).click();
        await page.getByRole('heading', { level: 2, name }).waitFor();
      }
      expect(faults).toEqual([]);
      await context.close();
    });

    it('keeps every file of the page in the browser', async () => {
      const { page, context } = await openPage(app.browser, app.server.url);
      const script = await (await page.request.get(`${app.server.url}/sw.js`)).text();
      const files = JSON.parse(/"files":(\[[^\]]*\])/.exec(script)?.[1] ?? '[]') as string[];
      expect(files.filter((path) => path.endsWith('.js')).length).toBeGreaterThan(10);
      const missing = await page.evaluate(async (paths) => {
        await navigator.serviceWorker.ready;
        const there = await Promise.all(paths.map(async (path) => (await caches.match(path)) !== undefined));
        return paths.filter((_, i) => !there[i]);
      }, files);
      expect(missing).toEqual([]);
      // None of what the page fetched by itself is unknown to its service worker.
      const own = Object.keys(await fetched(page)).filter((path) => path.startsWith('/assets/'));
      expect(own.filter((path) => !files.includes(path))).toEqual([]);
      await context.close();
    });

    it('says so where a part of it can’t be had, and fetches it when asked again', async () => {
      const context = await app.browser.newContext({ serviceWorkers: 'block' });
      let isAway = true;
      await context.route(/assets\/CuttingStep-/, (route) => (isAway ? route.abort() : route.continue()));
      const { page } = await openPage(app.browser, app.server.url, { context });
      await step(page, 'Cutting').click();
      const told = page.getByRole('alert').getByText('This part of the page could not be fetched');
      await told.waitFor();
      isAway = false;
      await page.getByRole('button', { name: 'Try again' }).click();
      await page.getByRole('heading', { level: 2, name: 'Cutting' }).waitFor();
      await context.close();
    });
  },
);
