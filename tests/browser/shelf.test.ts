import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { findings } from './accessibility.ts';
import { hasBrowser, newProject, PHONE, paste, step, untilLaid, withServerAndBrowser } from './support.ts';

/** A remnant of canvas, 60 × 50 cm, put on the shelf from the cloths step. */
async function putRemnant(page: Page, name: string, along: string, across: string): Promise<void> {
  await page.getByRole('button', { name: 'The shelf', exact: true }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Put cloth on the shelf' }).click();
  await dialog.getByLabel('Name').fill(name);
  await dialog.getByLabel('Place').fill('box 3');
  await dialog.getByLabel('Along the grain').fill(along);
  await dialog.getByLabel('Across').fill(across);
  await dialog.getByRole('button', { name: 'Put it on the shelf' }).click();
  await dialog.getByText(`${name} is on the shelf.`).waitFor();
}

describe.skipIf(!hasBrowser)(`the shelf${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  it('takes a remnant from the shelf, lays it, and puts what is left back when it is cut', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, '1 @ 30 x 20 cm flap', 'Canvas');
    await step(page, 'Cloths').click();
    await putRemnant(page, 'Olive canvas', '60', '50');
    const dialog = page.getByRole('dialog');
    expect(await findings(page)).toEqual([]);
    await dialog.getByLabel('Search').fill('box 3 vinyl');
    await dialog.getByText('Nothing on the shelf has all these words.').waitFor();
    await page.keyboard.press('Escape');

    await page.getByRole('button', { name: 'Take cloth for Canvas from the shelf' }).click();
    await dialog.getByRole('button', { name: 'Take Olive canvas for Canvas' }).click();
    await dialog.getByText('reserved for').first().waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('link', { name: /Olive canvas/ }).waitFor();

    await step(page, 'Lay plan').click();
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await untilLaid(page);
    await page.getByRole('button', { name: 'It is cut: put offcuts back' }).click();
    await dialog.getByText('Olive canvas came from the shelf').waitFor();
    expect(await findings(page)).toEqual([]);
    await dialog.getByLabel('One side').fill('0');
    await dialog.getByLabel('One side').press('Enter');
    await dialog.getByText('Both sides must be greater than zero.').waitFor();
    await dialog.getByLabel('One side').fill('15');
    await dialog.getByLabel('One side').press('Enter');
    await dialog.getByRole('button', { name: /^It is cut: put \d offcuts? on the shelf$/ }).click();
    await dialog.getByText(/put on the shelf\.$/).waitFor();

    const { entries } = await (await page.request.get(`${app.server.url}/api/shelf`)).json();
    const states = new Map(
      entries.map((one: { cloth: { name: string }; state: { kind: string } }) => [
        one.cloth.name,
        one.state.kind,
      ]),
    );
    expect(states.get('Olive canvas')).toBe('taken');
    expect(states.get('Olive canvas, offcut 1')).toBe('free');
    await dialog.getByRole('button', { name: 'Undo' }).click();
    await dialog.getByText('Taken back on the shelf.').waitFor();
    const after = await (await page.request.get(`${app.server.url}/api/shelf`)).json();
    expect(after.entries).toHaveLength(1);
    expect(after.entries[0].state.kind).toBe('reserved');
    expect(faults).toEqual([]);
    await context.close();
  });

  it('weighs a length, on the phone', async () => {
    const { page, context, faults } = await app.open({ viewport: PHONE });
    await newProject(page);
    await paste(page, '1 @ 30 x 20 cm flap', 'Canvas');
    await step(page, 'Cloths').click();
    await page.getByRole('button', { name: 'The shelf', exact: true }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('button', { name: 'Put cloth on the shelf' }).click();
    await dialog.getByRole('radio', { name: 'A length, by weight' }).check();
    await dialog.getByLabel('Name').fill('Blue check');
    await dialog.getByLabel('Weight in g').fill('770');
    await dialog.getByLabel('Weight in g').press('Enter');
    await dialog.getByText('That is about 6.16 m.').waitFor();
    expect(await findings(page)).toEqual([]);
    const isWide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
    expect(isWide).toBe(false);
    await dialog.getByRole('button', { name: 'Put it on the shelf' }).click();
    await dialog.getByText('Blue check is on the shelf.').waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });

  it('finds the cheapest cloth to buy, says what has no price, and plans with a basket', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await paste(page, '2 @ 40 x 30 cm panel', 'Canvas');
    await step(page, 'Cloths').click();
    await page.getByRole('button', { name: 'Roll or width from the shop' }).click();
    await step(page, 'Lay plan').click();
    await page.getByText('What to buy for Canvas').click();
    for (const width of ['75', '140']) {
      await page.getByRole('button', { name: 'Add cloth by length' }).click();
      const offer = page.getByRole('group', { name: /^Shop/ }).last();
      await offer.getByLabel('Width').fill(width);
      await offer.getByLabel('Width').press('Enter');
    }
    await page.getByRole('button', { name: 'Find the cheapest' }).click();
    await page.getByText('Shop 1 has no price: give one, or take the offer out.').waitFor();
    for (const [number, price] of [
      [1, '10'],
      [2, '15'],
    ] as const) {
      const field = page.getByRole('group', { name: `Shop ${number}` }).getByLabel('Price of a metre');
      await field.fill(price);
      await field.press('Enter');
    }
    await page.getByRole('button', { name: 'Find the cheapest' }).click();
    const best = page.getByRole('region', { name: 'Cheapest' });
    await best.getByText('Shop 2').waitFor();
    await page.getByRole('region', { name: 'Runner-up 1' }).waitFor();
    expect(await findings(page)).toEqual([]);
    await best.getByRole('button', { name: 'Plan with this: basket 1' }).click();
    await step(page, 'Cloths').click();
    await page.getByRole('link', { name: /Shop 2/ }).waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });
});
