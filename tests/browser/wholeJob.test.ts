import { describe, expect, it } from 'vitest';
import { Keyboard } from './keyboard.ts';
import { hasBrowser, untilLaid, withServerAndBrowser } from './support.ts';

describe.skipIf(!hasBrowser)(
  `the whole job by keyboard${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('goes from a new project to offcuts on the shelf, each stop in sight, the focus never lost', async () => {
      const { page, context, faults } = await app.open();
      const keys = new Keyboard(page);
      const button = (name: string | RegExp) =>
        page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name });
      const dialog = page.getByRole('dialog');

      await keys.press(button('Projects'));
      await keys.press(dialog.getByRole('button', { name: 'New project', exact: true }));
      await page.getByRole('heading', { name: 'Start with your pieces' }).waitFor();
      await keys.keeps('a new project');

      await keys.press(button(/Paste a cut list/));
      await keys.fill(
        page.getByLabel('Cut list', { exact: true }),
        'Panel 30 x 40 cm (2)\nTab 5 x 12 cm (2)',
      );
      await keys.fill(page.getByLabel('Material, unless a line names one'), 'Canvas');
      await keys.press(button('Add 2 pieces'));
      await page.getByRole('list', { name: 'Your pieces' }).getByText('Panel').waitFor();
      await keys.keeps('adding pieces');

      await keys.press(page.getByRole('link', { name: 'On to: Cut list' }));
      await page.getByRole('heading', { level: 2, name: 'Cut list' }).waitFor();
      await keys.keeps('going to the cut list');
      await keys.fill(page.getByLabel('Panel in Canvas: copies'), '3');
      await page.keyboard.press('Enter');
      await keys.keeps('a count');

      await keys.press(page.getByRole('link', { name: 'On to: Cloths' }));
      await keys.press(button('Roll or width from the shop'));
      await page.locator('.detail').waitFor();
      await keys.keeps('a new cloth');
      const width = page.getByRole('article').getByLabel('Width', { exact: true });
      await keys.fill(width, '110');
      await page.keyboard.press('Enter');
      await keys.keeps('the width');

      await keys.press(page.getByRole('link', { name: 'On to: Lay plan' }));
      await keys.to(page.getByLabel('Look for'));
      await page.keyboard.press('Home');
      await keys.to(button('Lay out everything'), 'Shift+Tab');
      await page.keyboard.press('Enter');
      await untilLaid(page);
      await keys.keeps('laying out');
      // A screen reader is told how it goes and that it is done.
      await page.locator('.run-bar').getByRole('status').getByText('Done.').waitFor();

      await keys.press(button('Arrange by hand'));
      await page.locator('.hand-view').waitFor();
      await keys.keeps('opening the layout');
      // All pieces are one stop; the full stop goes from one to the next.
      await keys.to(page.locator('.hand-view g.piece[tabindex="0"]'));
      const held = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '');
      for (let i = 0; i < 5 && !(await held()).startsWith('Tab, '); i++) await page.keyboard.press('.');
      expect(await held()).toMatch(/^Tab, /);
      const along = page.getByLabel('From the cut end');
      const before = await along.inputValue();
      await page.keyboard.press('ArrowRight');
      await expect.poll(() => along.inputValue(), { timeout: 20_000 }).not.toBe(before);
      await keys.keeps('moving a piece');
      await keys.press(page.getByRole('link', { name: 'Back to the lay plan' }));
      await button('Arrange by hand').first().waitFor();
      await keys.keeps('leaving the layout');

      await keys.press(page.getByRole('link', { name: 'On to: Cutting' }));
      await page.getByRole('heading', { level: 2, name: 'Cutting' }).waitFor();
      await keys.to(page.getByRole('radio', { name: 'the lay plan' }));
      await page.keyboard.press('ArrowRight');
      await keys.keeps('another order');
      const tick = page.getByRole('checkbox', { name: /^Panel, Canvas/ }).first();
      await keys.press(tick, 'Space');
      await page.getByText('1 of 5 cut').first().waitFor();
      await keys.keeps('a tick');

      await keys.to(page.getByRole('link', { name: /Lay plan/ }).first(), 'Shift+Tab');
      await page.keyboard.press('Enter');
      await keys.press(button('It is cut: put offcuts back'));
      await dialog.waitFor();
      await keys.keeps('opening the dialog');
      await keys.press(dialog.getByRole('button', { name: /^It is cut: put \d+ offcuts? on the shelf$/ }));
      await dialog.getByText(/put on the shelf\.$/).waitFor();
      await keys.keeps('putting offcuts on the shelf');
      await page.keyboard.press('Escape');
      await expect.poll(() => dialog.count(), { timeout: 20_000 }).toBe(0);
      await keys.keeps('closing the dialog');

      expect(keys.faults, keys.faults.join('\n')).toEqual([]);
      expect(faults).toEqual([]);
      await context.close();
    }, 180_000);
  },
);
