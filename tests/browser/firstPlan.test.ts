import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { addCloth, hasBrowser, newProject, paste, step, untilLaid, withServerAndBrowser } from './support.ts';

const DEMO_DRAWING = fileURLToPath(new URL('../../fixtures/patterns/saddle-roll.svg', import.meta.url));

describe.skipIf(!hasBrowser)(
  `from pieces to a plan${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('opens on the demo, and its lay plan is there within seconds', async () => {
      const { page, context, faults } = await app.open();
      expect(await page.getByLabel('Project name').inputValue()).toBe('Saddle roll with picnic pocket');
      expect(await page.getByRole('list', { name: 'Your pieces' }).getByRole('link').count()).toBeGreaterThan(
        8,
      );
      await step(page, 'Lay plan').click();
      await page.getByLabel('Look for').selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      const first = page.locator('.lay-view').first();
      await first.waitFor({ timeout: 10_000 });
      await untilLaid(page, 60_000);
      // Every material of the demo has its drawing, and nothing is left without a place.
      expect(await page.locator('.lay-view').count()).toBeGreaterThanOrEqual(6);
      expect(await page.locator('.unplaced').count()).toBe(0);
      expect(await page.getByRole('region', { name: 'Altogether' }).textContent()).toMatch(/\d\.\d\d m/);
      // What is printed: sheets of A4 in true size and nothing else, with all that is needed to cut.
      await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
      await page.emulateMedia({ media: 'print' });
      const sheets = page.locator('.print-sheet > svg');
      const texts = await sheets.locator('text').allTextContents();
      const count = (words: RegExp) => texts.filter((text) => words.test(text)).length;
      expect(count(/: order of cutting$/)).toBeGreaterThanOrEqual(await page.locator('.lay-view').count());
      expect(count(/^Positions to chalk$/)).toBeGreaterThanOrEqual(6);
      expect(count(/^Tick list/)).toBeGreaterThanOrEqual(1);
      const size = await sheets.first().evaluate((sheet) => {
        const { width, height } = sheet.getBoundingClientRect();
        return [width, height].map((px) => Math.round((px / 96) * 25.4)).sort((a, b) => a - b);
      });
      expect(size).toEqual([210, 297]);
      expect(await page.getByRole('button', { name: 'Print the plan' }).isVisible()).toBe(false);
      await page.emulateMedia({ media: 'screen' });
      await page.getByText('Take this one to the table').first().click();
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: 'Drawing (SVG)' }).first().click(),
      ]);
      expect(await readFile(await download.path(), 'utf8')).toMatch(/^<\?xml[^>]*>\s*<svg[^>]*width="\d+mm"/);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('makes pieces of a pasted cut list and keeps the lines it can’t read', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: 'Paste a cut list' }).click();
      const box = page.getByLabel('Cut list', { exact: true });
      await box.fill(
        [
          'Strap 4 x 60 cm (2)',
          'Flap facing 11 1/4" × 2 1/2" (3)',
          'some zipper',
          '4 pcs 310 x 145 mm side',
        ].join('\n'),
      );
      await page.getByText('3 of 4 lines understood').waitFor();
      await page.getByText(/Line 3: “?some zipper/).waitFor();
      await page.getByText('60 cm along × 4 cm across').waitFor();
      await page.getByRole('button', { name: 'Swap along and across: Strap' }).click();
      await page.getByText('4 cm along × 60 cm across').waitFor();
      await page.getByRole('button', { name: 'Swap along and across: Strap' }).click();
      await page.getByLabel('Material, unless a line names one').fill('Canvas');
      await page.getByRole('button', { name: 'Add 3 pieces' }).click();
      const pieces = page.getByRole('list', { name: 'Your pieces' });
      await pieces.getByRole('link', { name: /Strap/ }).waitFor();
      expect(await pieces.getByRole('link').count()).toBe(3);
      expect(await box.inputValue()).toBe('some zipper');
      await step(page, 'Cut list').click();
      expect(await page.getByLabel('Strap in Canvas: copies').inputValue()).toBe('2');
      expect(await page.getByLabel('side in Canvas: copies').inputValue()).toBe('4');
      expect(faults).toEqual([]);
      await context.close();
    });

    it('takes measurements typed line by line, in the units shown or with their own', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: 'Type measurements' }).click();
      await page.getByLabel('Name, line 1').fill('Panel');
      await page.getByLabel('Across the grain, line 1').fill('12 1/2"');
      await page.getByLabel('Along the grain, line 1').fill('30');
      await page.getByLabel('How many, line 1').fill('4');
      await page.getByLabel('In mirrored pairs, line 1').check();
      await page.getByLabel('Material, line 1').fill('Canvas');
      await page.getByLabel('Name, line 2').fill('Half done');
      await page.getByText(/Line 2: size across/).waitFor();
      await page.getByRole('button', { name: 'Add 1 piece' }).click();
      await page.getByRole('list', { name: 'Your pieces' }).getByText('31.75 × 30 cm').waitFor();
      // The line that could not be read stays where it is.
      expect(await page.getByLabel('Name, line 1').inputValue()).toBe('Half done');
      expect(faults).toEqual([]);
      await context.close();
    });

    it('brings in a drawing: outlines with their size, chosen, named, corrected in scale', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: 'Bring in a drawing' }).click();
      await page.locator('dialog input[type=file]').setInputFiles(DEMO_DRAWING);
      const outlines = page.getByRole('list', { name: 'Closed outlines' });
      await outlines.waitFor();
      await outlines.getByText('32 × 14 cm').waitFor();
      await page
        .getByRole('checkbox', { name: /Side gusset/ })
        .first()
        .check();
      await page.getByLabel(/Name of/).fill('Gusset');
      // The gusset is in truth twice as long: everything doubles.
      await page.getByText('The file states its physical size.').click();
      await page.getByLabel('Of', { exact: true }).selectOption({ label: await gussetOption(page) });
      await page.getByLabel('is in truth').fill('64 cm');
      await page.getByLabel('is in truth').press('Enter');
      await outlines.getByText('64 × 28 cm').waitFor();
      await page.getByText('Everything is now 200 % of the size in the file.').waitFor();
      await page.getByRole('button', { name: 'Add 1 piece' }).click();
      await page.getByRole('article', { name: 'Gusset' }).getByText('64 × 28 cm').waitFor();
      // No material was named: its count is not lost, it goes to the main one.
      await step(page, 'Cut list').click();
      await page.getByLabel('Gusset in Main cloth: as drawn').waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });

    it('shows a layout at once and better ones as they are found, and stops when told', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(
        page,
        Array.from(
          { length: 24 },
          (_, i) => `P${i} ${13 + ((i * 37) % 29)} x ${17 + ((i * 53) % 41)} cm (2)`,
        ).join('\n'),
        'Canvas',
      );
      await addCloth(page, 'Canvas', 'roll');
      await step(page, 'Lay plan').click();
      await page.getByLabel('Look for').selectOption('long');
      // What the page shows for the pieces' length, each time it changes.
      await page.evaluate(() => {
        const seen: string[] = [];
        Object.assign(window, { seen });
        new MutationObserver(() => {
          const text = /: ([\d.]+) cm for the pieces/.exec(
            document.querySelector('.bought')?.textContent ?? '',
          )?.[1];
          if (text !== undefined && seen.at(-1) !== text) seen.push(text);
        }).observe(document.body, { childList: true, subtree: true, characterData: true });
      });
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await page.waitForFunction(() => (window as unknown as { seen: string[] }).seen.length >= 3, null, {
        timeout: 50_000,
      });
      await page.getByRole('button', { name: 'Stop, keep the best' }).click();
      await page.getByText('Stopped; the best so far is kept.').first().waitFor();
      const seen = await page.evaluate(() => (window as unknown as { seen: string[] }).seen.map(Number));
      for (let i = 1; i < seen.length; i++) expect(seen[i]).toBeLessThan(seen[i - 1] ?? 0);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('compares a single layer with folded cloth, number by number', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Side 30 x 40 cm (4)\nTab 10 x 12 cm (2)', 'Canvas');
      await addCloth(page, 'Canvas', 'roll');
      await step(page, 'Lay plan').click();
      await page.getByLabel('How the cloth lies').selectOption('compare');
      await page.getByLabel('Look for').selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await untilLaid(page, 30_000);
      const table = page.locator('.compare table');
      for (const name of ['Length', 'Buy', 'Left over', 'Cuts'])
        await table.getByRole('columnheader', { name: new RegExp(`^${name}`) }).waitFor();
      // Four and two copies: traced once each on a single layer, by pairs on doubled cloth.
      const traced = async (spread: string): Promise<string[]> =>
        table
          .getByRole('row', { name: new RegExp(spread) })
          .getByRole('cell')
          .allTextContents();
      expect(await traced('Single layer')).toContain('6');
      expect((await traced('Folded lengthwise')).some((cell) => /^3(\D|$)/.test(cell))).toBe(true);
      // A press on a row shows that way to lay it.
      await table.getByRole('button', { name: 'Folded lengthwise' }).click();
      expect(await page.getByRole('article', { name: /Folded lengthwise/ }).count()).toBe(1);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('judges a remnant: fits, or cannot fit with the reason in words', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Pocket 20 x 15 cm (2)', 'Vinyl');
      await addCloth(page, 'Vinyl', 'remnant');
      const card = page.getByRole('article', { name: 'Vinyl remnant' });
      await card.getByLabel('Along the grain', { exact: true }).fill('45');
      await card.getByLabel('Across the grain', { exact: true }).fill('30');
      await card.getByLabel('Across the grain', { exact: true }).press('Enter');
      await step(page, 'Lay plan').click();
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await page.locator('.verdict', { hasText: 'Fits' }).waitFor({ timeout: 30_000 });
      // A piece longer than the remnant in every direction.
      await paste(page, 'Long back 70 x 25 cm', 'Vinyl');
      await step(page, 'Lay plan').click();
      await page.getByText('Out of date').first().waitFor();
      await page.getByRole('button', { name: 'Lay out everything again' }).click();
      const verdict = page.locator('.verdict', { hasText: 'Cannot fit' });
      await verdict.waitFor({ timeout: 60_000 });
      expect(await verdict.textContent()).toMatch(/Long back.*(longer|wider|place)/);
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);

/** Label of the gusset in the list of things whose length may be known. */
async function gussetOption(page: Page): Promise<string> {
  const options = await page.getByLabel('Of', { exact: true }).locator('option').allTextContents();
  return options.find((option) => /Side gusset/.test(option)) ?? '';
}
