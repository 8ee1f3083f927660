import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { hasBrowser, step, untilLaid, withServerAndBrowser } from './support.ts';

const PATTERN = fileURLToPath(new URL('../../fixtures/patterns/saddle-roll-a4.pdf', import.meta.url));

/** What a new maker may be asked for between the page as it opens and her first plan. */
const MOST_CLICKS = 15;

/** Counts presses of the mouse, wherever they land: nothing is done by keys or by program in these tests. */
async function countPresses(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const counted = window as unknown as { presses: number };
    counted.presses = 0;
    addEventListener('pointerdown', (event) => event.isTrusted && counted.presses++, { capture: true });
  });
  return () => page.evaluate(() => (window as unknown as { presses: number }).presses);
}

describe.skipIf(!hasBrowser)(
  `the way to a first plan${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    /** The click path of the README, press by press. */
    it('is at most 15 clicks from a tiled PDF to the lay plans of all its materials', async () => {
      const { page, context, faults } = await app.open();
      const presses = await countPresses(page);
      const press = (name: string | RegExp): Promise<void> =>
        page.getByRole('button', { name }).first().click();
      await press('Projects');
      await press('New project');
      await press('Bring in a drawing');
      const [chooser] = await Promise.all([
        page.waitForEvent('filechooser'),
        page.getByText('Choose an SVG, DXF or PDF file').click(),
      ]);
      // The file is pressed in a window of the system's own, where the page counts nothing.
      await chooser.setFiles(PATTERN);
      const inTheSystem = 1;
      await page.getByText('Sheets of one drawing').click();
      await press('Put the sheets together');
      await page.getByText(/12 sheets put together/).waitFor();
      await press('Take all on the page');
      await press('Add 5 pieces');
      await step(page, 'Cloths').click();
      const rolls = page.getByRole('button', { name: 'Roll or width from the shop' });
      // Every material without a cloth asks for one by itself; the one that was answered asks no more.
      await rolls.nth(1).waitFor();
      await rolls.first().click();
      await rolls.first().click();
      await step(page, 'Lay plan').click();
      await press('Lay out everything');
      await untilLaid(page, 120_000);
      await page.locator('.lay-view').nth(1).waitFor();
      expect(await page.locator('.unplaced').count()).toBe(0);
      const clicks = (await presses()) + inTheSystem;
      expect(clicks).toBeGreaterThan(inTheSystem);
      expect(clicks).toBeLessThanOrEqual(MOST_CLICKS);
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);
