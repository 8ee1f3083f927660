/** Interfacing in one block, leather by area, strips, a plan kept with its cloth, sheets by hand: as a maker meets them. */
import { describe, expect, it } from 'vitest';
import { addCloth, hasBrowser, newProject, paste, step, untilLaid, withServerAndBrowser } from './support.ts';

describe.skipIf(!hasBrowser)(
  `cloth and what comes with it${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('keeps a plan with a remnant on the shelf, finds it there, and forgets it', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, '2 @ 20 x 12 cm flap', 'vinyl');
      await addCloth(page, 'vinyl', 'remnant');
      await step(page, 'Lay plan').click();
      await page.getByRole('region', { name: 'Lay out' }).getByLabel('Look for').selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await untilLaid(page);
      await page.getByRole('button', { name: 'Keep this plan with the cloth' }).click();
      await step(page, 'Cloths').click();
      await page.getByRole('button', { name: 'The shelf' }).first().click();
      await page.getByLabel('Search').fill('flap');
      const kept = page.getByRole('region', { name: /^Plan kept with/ });
      expect(await kept.textContent()).toContain('2 × flap');
      await kept.getByRole('img', { name: /^Sketch of the plan/ }).waitFor();
      await kept.getByRole('button', { name: /^Forget the plan/ }).click();
      await kept.waitFor({ state: 'detached' });
      expect(faults).toEqual([]);
      await context.close();
    });

    it('reckons leather by hides, as a range, and leaves what is not settled out of the sum by name', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      // One square metre of pieces.
      await paste(page, '4 @ 50 x 50 cm panel', 'outer');
      await addCloth(page, 'outer', 'roll');
      await paste(page, '1 @ 20 x 20 cm pocket', 'lining');
      await addCloth(page, 'lining', 'roll');
      await page.getByLabel('Price a metre').fill('10');
      await page.getByLabel('Price a metre').press('Enter');
      await step(page, 'Lay plan').click();
      await page.getByRole('region', { name: 'Lay out' }).getByLabel('Look for').selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await untilLaid(page);
      expect(await page.locator('.altogether').textContent()).toContain('Not in it: outer (no price).');
      const outer = page.getByRole('region', { name: 'outer', exact: true });
      await outer.locator('summary', { hasText: 'What to buy' }).click();
      await outer.getByLabel('Sold by the area of hides (leather)').check();
      expect(await outer.locator('.hides').textContent()).toContain('1.43 m² to 2 m²');
      expect(faults).toEqual([]);
      await context.close();
    });

    it('tells of a binding how many strips it takes, and the square for an endless one', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByRole('button', { name: /^Type measurements/ }).click();
      await page.getByRole('radio', { name: 'From the finished size' }).check();
      await page.locator('.shape-head select').selectOption('binding');
      const fields = page.locator('.shape-fields input');
      for (const [index, value] of ['400', '6', '0'].entries()) {
        await fields.nth(index).fill(value);
        await fields.nth(index).press('Enter');
      }
      const strips = page.locator('.strips');
      // 4 m from 107 cm: four strips, each join at 45° takes the strip's width and its allowance.
      expect(await strips.textContent()).toMatch(
        /Straight across the cloth4 strips, 3 joins: 0\.24 m of cloth/,
      );
      expect(await strips.textContent()).toContain('A square of');
      expect(faults).toEqual([]);
      await context.close();
    });

    it('moves a piece to another sheet by hand', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, '3 @ 18 x 12 cm pad', 'foam');
      await addCloth(page, 'foam', 'remnant');
      await page.getByLabel('How many alike').fill('3');
      await page.getByLabel('How many alike').press('Enter');
      await step(page, 'Lay plan').click();
      await page.getByRole('region', { name: 'Lay out' }).getByLabel('Look for').selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await untilLaid(page);
      await page.getByRole('button', { name: 'Arrange by hand' }).first().click();
      await page.locator('.hand-view').waitFor();
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'pad, 1 of 3' });
      await page.getByLabel('Put on another sheet').selectOption({ label: 'Sheet 3' });
      await page.getByRole('button', { name: /^Undo: move/ }).waitFor();
      expect(await page.locator('.hand-view').textContent()).toContain('Sheet 2');
      expect(await page.getByRole('region', { name: 'Rules' }).textContent()).toContain(
        'Every piece lies as it may',
      );
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);
