import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { hasBrowser, newProject, step, storedProject, untilSaved, withServerAndBrowser } from './support.ts';

/** Two pieces of ours with what is to be cut written in them, and a test square that came out at 96 %. */
const DRAWING = `<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">
  <rect x="10" y="10" width="48" height="48" fill="none" stroke="#000" stroke-width="0.01"/>
  <text x="14" y="34" font-size="5">Test square 5 cm</text>
  <path d="M100 20 h120 v90 l-40 30 h-80 z" fill="none" stroke="#000" stroke-width="0.2"/>
  <text x="110" y="60" font-size="7">Bell pocket</text>
  <text x="110" y="75" font-size="6">Cut 2 outer</text>
  <text x="110" y="85" font-size="6">Cut 1 pair lining</text>
  <path d="M260 20 h70 v200 h-70 z" fill="none" stroke="#000" stroke-width="0.2"/>
  <text x="265" y="60" font-size="7">Back half</text>
  <text x="265" y="75" font-size="6">1x Oberstoff im Bruch</text>
</svg>`;

async function openDrawing(page: Page): Promise<void> {
  await newProject(page);
  await page.getByRole('button', { name: 'Bring in a drawing' }).click();
  await page
    .locator('input[type=file]')
    .setInputFiles({ name: 'bell-bag.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(DRAWING) });
  await page.getByRole('button', { name: 'Take all on the page' }).waitFor();
}

describe.skipIf(!hasBrowser)(`what a drawing says${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  it('is corrected by its test square, read for counts and materials, asked about what it leaves open', async () => {
    const { page, context, faults } = await app.open();
    await openDrawing(page);
    await page.getByText('Test square “5 cm” found').waitFor();
    await page.getByRole('button', { name: 'Correct the size by it' }).click();
    await page
      .getByText('The test square in the drawing measures')
      .or(page.getByText('Everything is now 104.17 %'))
      .first()
      .waitFor();

    for (const name of ['Bell pocket', 'Back half'])
      await page.getByRole('checkbox', { name: new RegExp(`Take ${name}`) }).check();
    const add = page.getByRole('button', { name: 'Add 2 pieces' });
    expect(await add.isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'One and its mirror image' }).click();
    await add.click();

    await step(page, 'Cut list').click();
    const table = page.getByRole('main');
    await table.getByText('Bell pocket').first().waitFor();
    await untilSaved(page);
    const { pieces, materials, cutList } = await storedProject(page);
    const rows = cutList.map((row) => [
      pieces.find(({ id }) => id === row.pieceId)?.name,
      materials.find(({ id }) => id === row.materialId)?.role,
      row.plain,
      row.mirrored,
      row.onFold,
    ]);
    expect(rows.sort()).toEqual(
      [
        ['Bell pocket', 'main', 1, 1, 0],
        ['Bell pocket', 'lining', 1, 1, 0],
        ['Back half', 'main', 0, 0, 1],
      ].sort(),
    );
    const half = pieces.find(({ name }) => name === 'Back half');
    expect(half?.foldEdge).not.toBeNull();
    const ys = half?.outline.map(([, y]) => y) ?? [];
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo((200 * 50) / 48, 1);
    expect(faults).toEqual([]);
    await context.close();
  });
});
