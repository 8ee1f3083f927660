import { describe, expect, it } from 'vitest';
import { addCloth, hasBrowser, newProject, paste, step, untilLaid, withServerAndBrowser } from './support.ts';

/** Cloth as it is bought and printed: what a maker sets on its card shows in the plan. */
describe.skipIf(!hasBrowser)(`a cloth's card${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  it('starts from a preset that names its source, and lays several sheets alike', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, 'Panel 60 x 40 cm (5)', 'Vinyl');
    await step(page, 'Cloths').click();
    await page.getByLabel('What is it like?').selectOption('vinylSheet');
    await page.getByRole('link', { name: /18 × 55 in/ }).waitFor();
    await page.getByRole('button', { name: 'Sheets as they are sold' }).click();
    const count = page.getByLabel('How many alike');
    await count.fill('3');
    await count.press('Enter');
    expect(await page.getByLabel('Marked and cut from the back').isChecked()).toBe(true);
    await step(page, 'Lay plan').click();
    await page.getByLabel('Look for').selectOption('short');
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await page.locator('.verdict', { hasText: 'Fits' }).waitFor({ timeout: 30_000 });
    await untilLaid(page);
    const drawn = await page.locator('.lay-view').first().textContent();
    for (const sheet of ['Sheet 1', 'Sheet 2', 'Sheet 3']) expect(drawn).toContain(sheet);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('a pile leaves out the crosswise fold, says why, and offers the way round', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, 'Side 30 x 40 cm (4)', 'Velvet');
    await addCloth(page, 'Velvet', 'roll');
    await page.getByLabel('One way', { exact: true }).check({ force: true });
    await step(page, 'Lay plan').click();
    await page.getByLabel('How the cloth lies').selectOption('compare');
    await page.getByLabel('Look for').selectOption('short');
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await untilLaid(page);
    const compare = page.locator('.compare');
    await compare.getByRole('button', { name: 'Crosswise, one layer turned' }).waitFor();
    expect(await compare.getByRole('button', { name: 'Folded crosswise' }).count()).toBe(0);
    await compare.getByText(/left out: why/).click();
    await compare.getByText(/nap would run the other way/).waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });

  it('tells how much more a repeat takes, for a piece that lies on a motif', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, 'Pocket 20 x 25 cm (6)', 'Print');
    await addCloth(page, 'Print', 'roll');
    await page.getByLabel('Something recurs: a print, stripes, a plaid').check();
    const along = page.getByLabel('Repeat along');
    await along.fill('32');
    await along.press('Enter');
    await step(page, 'Pieces').click();
    await page
      .getByRole('list', { name: 'Your pieces' })
      .getByRole('link', { name: /Pocket/ })
      .click();
    await page.getByLabel('Lies on a motif').check();
    await step(page, 'Lay plan').click();
    await page.getByLabel('How much more because of the repeat?').check();
    await page.getByLabel('Look for').selectOption('short');
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await untilLaid(page);
    await page.getByText(/Because of the repeat: .* more\./).waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });

  it('sets up a plaid from nothing to the plan: the seam, its allowance, and the bars that meet there', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, 'Left panel 30 x 40 cm (1)\nRight panel 30 x 40 cm (1)', 'Plaid');
    await addCloth(page, 'Plaid', 'roll');
    await page.getByLabel('Something recurs: a print, stripes, a plaid').check();
    await page.getByLabel('Uneven stripes or plaid').check({ force: true });
    for (const [label, value] of [
      ['Repeat along', '7'],
      ['Repeat across', '9'],
      ['Reserve, a length', '12'],
    ] as const) {
      await page.getByLabel(label).fill(value);
      await page.getByLabel(label).press('Enter');
    }
    await page.getByLabel('One edge or notch').selectOption({ label: 'Left panel, right, 40 cm' });
    await page.getByLabel('joined to').selectOption({ label: 'Right panel, left, 40 cm' });
    await page.getByRole('button', { name: 'Let them meet' }).click();
    await page.getByText('Left panel, right, 40 cm meets Right panel, left, 40 cm').waitFor();
    // Where the seam lies nobody has said yet: that is told before anything is laid.
    await step(page, 'Lay plan').click();
    await page
      .getByText(/How much seam allowance is in the cut line of .* is not known/)
      .first()
      .waitFor();
    for (const name of ['Left panel', 'Right panel']) {
      await step(page, 'Pieces').click();
      await page.getByRole('list', { name: 'Your pieces' }).getByRole('link', { name }).click();
      await page.getByLabel('Allowance in it').fill('1');
      await page.getByLabel('Allowance in it').press('Enter');
    }
    await step(page, 'Lay plan').click();
    expect(await page.getByText(/How much seam allowance/).count()).toBe(0);
    await page.getByLabel('Look for').selectOption('short');
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await page.locator('.verdict', { hasText: 'Fits' }).waitFor({ timeout: 30_000 });
    await untilLaid(page);
    expect(await page.locator('.bought').textContent()).toContain('+ 12 cm in reserve');
    expect(faults).toEqual([]);
    await context.close();
  });

  it('says before anything is laid that a piece can nowhere lie on its motif', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, 'Pocket 20 x 25 cm (1)', 'Print');
    await addCloth(page, 'Print', 'roll');
    await page.getByLabel('Something recurs: a print, stripes, a plaid').check();
    for (const [label, value] of [
      ['Width', '30'],
      ['Repeat across', '29'],
      ['First, from the selvedge', '2'],
    ] as const) {
      await page.getByLabel(label, { exact: true }).fill(value);
      await page.getByLabel(label, { exact: true }).press('Enter');
    }
    await step(page, 'Pieces').click();
    await page
      .getByRole('list', { name: 'Your pieces' })
      .getByRole('link', { name: /Pocket/ })
      .click();
    await page.getByLabel('Lies on a motif').check();
    await step(page, 'Lay plan').click();
    await page.getByText(/Nowhere across .* does Pocket lie on its place in the repeat/).waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });

  it('splits a strap on a one-way print at its top, so that it is upright on both sides', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, 'Strap 100 x 8 cm (1)', 'Print');
    await addCloth(page, 'Print', 'roll');
    await page.getByLabel('The print’s up points').selectOption('away');
    await step(page, 'Pieces').click();
    await page.getByRole('list', { name: 'Your pieces' }).getByRole('link', { name: /Strap/ }).click();
    await page.getByLabel('Front and back in one piece').check();
    await page.getByLabel('The top: a strap').check({ force: true });
    await step(page, 'Lay plan').click();
    await page.getByText(/stands on its head on one side of the strap\. Split it at the top/).waitFor();
    await step(page, 'Pieces').click();
    await page.getByRole('list', { name: 'Your pieces' }).getByRole('link', { name: /Strap/ }).click();
    await page.getByRole('button', { name: 'Split it at the top' }).click();
    await page.getByRole('article', { name: 'Strap, half' }).waitFor();
    await step(page, 'Cut list').click();
    expect(await page.getByLabel('Strap, half in Print: copies').inputValue()).toBe('2');
    expect(await page.getByText('Not cut from any material').count()).toBe(0);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('splits a body that runs over the bottom into halves and moves the counts', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, 'Body 88 x 30 cm (2)', 'Print');
    await page.getByRole('list', { name: 'Your pieces' }).getByRole('link', { name: /Body/ }).click();
    await page.getByLabel('Front and back in one piece').check();
    await page.getByRole('button', { name: 'Split it at the bottom' }).click();
    await page.getByRole('article', { name: 'Body, half' }).waitFor();
    await step(page, 'Cut list').click();
    expect(await page.getByLabel('Body, half in Print: copies').inputValue()).toBe('4');
    expect(faults).toEqual([]);
    await context.close();
  });
});
