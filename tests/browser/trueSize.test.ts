import { describe, expect, it } from 'vitest';
import { boundingBox } from '../../nesting/geometry/rings.ts';
import { hasBrowser, newProject, storedProject, untilSaved, withServerAndBrowser } from './support.ts';

/** A flap of 200 × 96 mm and a test square of 50 mm, both drawn 4 % too low: across and up differ. */
const UNEVEN = `<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="200mm" viewBox="0 0 300 200" fill="none" stroke="#000" stroke-width="0.2">
  <rect x="10" y="10" width="50" height="48"/><text x="14" y="34" font-size="5" fill="#000">Test square 5 cm</text>
  <rect x="80" y="80" width="200" height="96"/><text x="120" y="130" font-size="8" fill="#000">Flap</text>
</svg>`;

describe.skipIf(!hasBrowser)(
  `the true size of a drawing and its print${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('is corrected across and up apart where one scale can’t put it right', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: 'Bring in a drawing' }).click();
      await page
        .locator('input[type=file]')
        .setInputFiles({ name: 'flap.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(UNEVEN) });
      await page
        .getByText('Lengths across come out at 100 % of their true size, lengths up at 96 %.')
        .waitFor();
      await page.getByRole('button', { name: 'Correct across and up, each by itself' }).click();
      await page.getByText(/The pieces come in corrected: across by 100 %, up by 104.17 %/).waitFor();
      await page.getByRole('button', { name: 'Take all on the page' }).click();
      await page.getByRole('button', { name: 'Add 1 piece' }).click();
      await untilSaved(page);
      const project = await storedProject(page);
      const box = boundingBox(project.pieces[0]?.outline ?? []);
      expect([box.maxX - box.minX, box.maxY - box.minY]).toEqual([
        expect.closeTo(200, 6),
        expect.closeTo(100, 6),
      ]);
      // Decided about: nothing is marked any more.
      expect(project.pieces[0]?.source).not.toHaveProperty('notTrueToSize');
      expect(faults).toEqual([]);
      await context.close();
    });

    it('tells what is wrong with a print, sheet by sheet', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: 'Bring in a drawing' }).click();
      await page.locator('input[type=file]').setInputFiles({
        name: 'flap.svg',
        mimeType: 'image/svg+xml',
        buffer: Buffer.from(UNEVEN.replace('height="48"', 'height="50"')),
      });
      await page.locator('details.scale > summary').click();
      await page.getByText('Check a print of it').click();
      // The square is small: half a millimetre is a hundredth of it.
      await page.getByText(/half a step of the ruler .* too coarse to tell/).waitFor();
      await page.getByLabel('The square should measure').fill('10 cm');
      const type = async (label: string, text: string): Promise<void> => {
        await page.getByLabel(label, { exact: true }).fill(text);
        await page.keyboard.press('Enter');
      };
      await type('Sheet 1: across', '94.1 mm');
      await type('Sheet 1: up', '94.1 mm');
      await page.getByText(/fitting a page made for A4 to Letter/).waitFor();
      await page.getByText(/Print again: at 100 % .* else at 106.27 %/).waitFor();
      await page.getByText(/also changes the seam allowance/).waitFor();
      await type('Sheet 1: across', '100 mm');
      await type('Sheet 1: up', '100 mm');
      await page.getByText('The print is true to size, as far as measured.').waitFor();
      await page.getByRole('button', { name: 'One more sheet' }).click();
      await type('Sheet 2: across', '97.3 mm');
      await page.getByText('Sheet 2 came out at another size than the others: print it again.').waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);
