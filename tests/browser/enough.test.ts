import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { TIGHT } from './screens.ts';
import { hasBrowser, step, untilLaid, withServerAndBrowser } from './support.ts';

async function openTight(page: Page, url: string): Promise<void> {
  const made = await page.request.post(`${url}/api/projects`, { data: { project: TIGHT } });
  expect(made.ok()).toBe(true);
  const { id } = (await made.json()) as { id: string };
  await page.goto(`${url}/#/${id}/plan`);
  await step(page, 'Lay plan').click();
  await page.getByLabel('Look for').selectOption('short');
  await page.getByRole('button', { name: 'Lay out everything' }).click();
  await untilLaid(page);
}

describe.skipIf(!hasBrowser)(
  `what would make it fit${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('is asked, shown with its layout, done, and taken back', async () => {
      const { page, context, faults } = await app.open();
      await openTight(page, app.server.url);
      await page.getByRole('button', { name: 'What would make it fit?' }).click();
      const answer = page.getByRole('region', { name: 'What would make it fit' });
      await answer.getByText(/found, the one that costs you least/).waitFor({ timeout: 90_000 });
      const gap = answer.getByRole('listitem').filter({ hasText: 'Leave only 0.6 cm between the pieces' });
      await gap.getByText('Layout with this').click();
      await gap.locator('.lay-view').waitFor();
      await gap.getByRole('button', { name: 'Do it' }).click();
      await page.getByRole('button', { name: 'Lay out everything again' }).click();
      // The end of the lay before may still be shown for a moment.
      await page.locator('.verdict', { hasText: 'Fits' }).first().waitFor({ timeout: 60_000 });
      await untilLaid(page);
      await page.getByRole('button', { name: /^Undo: Leave only/ }).click();
      await page.getByText('out of date').first().waitFor();
      expect(faults).toEqual([]);
      await context.close();
    }, 120_000);
  },
);
