import { describe, expect, it } from 'vitest';
import { hasBrowser, newProject, step, withServerAndBrowser } from './support.ts';

describe.skipIf(!hasBrowser)(
  `pieces by their measures${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('cuts a strap from its finished size, shows the sum, and follows a change of one measure', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: 'Type measurements' }).click();
      await page.getByRole('radio', { name: 'From the finished size' }).check();
      await page.getByLabel('Finished width').fill('2.5');
      await page.getByLabel('Finished length').fill('110');
      await page.getByLabel('Finished length').press('Enter');
      await page.getByText('Across: 4 × width 2.5 cm = 10 cm').waitFor();
      await page.getByText('Along: length 110 cm + 2 × allowance 1 cm = 112 cm').waitFor();
      await page.getByRole('button', { name: 'Add Strap, folded in four' }).click();
      await page.getByRole('link', { name: /^Strap, folded in four/ }).click();
      await page.getByLabel('Finished width').fill('3');
      await page.getByLabel('Finished width').press('Enter');
      await page.getByRole('link', { name: /12 × 112 cm/ }).waitFor();

      await page.getByRole('button', { name: 'Type measurements' }).click();
      await page.getByRole('radio', { name: 'Other shapes' }).check();
      await page.getByLabel('Shape', { exact: true }).selectOption('circle');
      await page.getByLabel('Diameter').fill('20');
      await page.getByLabel('Diameter').press('Enter');
      await page.getByRole('button', { name: 'Add Circle' }).click();
      await page.getByRole('link', { name: /^Circle/ }).waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });

    it('reads a cut list from a CSV file', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: 'Paste a cut list' }).click();
      await page.getByLabel('Open a CSV or text file').setInputFiles({
        name: 'list.csv',
        mimeType: 'text/csv',
        buffer: Buffer.from('Piece,Width (cm),Height (cm),Qty,Material\n"Flap, left",30,"20,5",2,Canvas\n'),
      });
      await page.getByText('1 of 1 line understood').waitFor();
      await page.getByRole('button', { name: 'Add 1 piece' }).click();
      await step(page, 'Cut list').click();
      expect(await page.getByLabel('Flap, left in Canvas: copies').inputValue()).toBe('2');
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);
