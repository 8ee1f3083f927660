/** One piece, several uses: variants made on the page, by the trade's own example. */
import { describe, expect, it } from 'vitest';
import { findings } from './accessibility.ts';
import { hasBrowser, newProject, step, untilSaved, withServerAndBrowser } from './support.ts';

/** A panel with a centre seam at its left: the line to cut, the sew line 10 mm within, a fold line for a pocket. */
const PANEL = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="250mm" viewBox="0 0 200 250">
  <rect x="10" y="10" width="170" height="220" fill="none" stroke="#000"/>
  <rect x="20" y="20" width="150" height="200" fill="none" stroke="#000" stroke-dasharray="3"/>
  <path d="M10 90H180" stroke="#000"/>
  <text x="60" y="120" font-size="9">Panel</text>
  <text x="60" y="140" font-size="7">cut 4 main</text>
</svg>`;

describe.skipIf(!hasBrowser)(`variants${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  it('a panel is cut in two pairs from the outer, and on the fold at its seam from the lining', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await page.getByRole('button', { name: 'Bring in a drawing' }).click();
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'panel.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(PANEL) });
    await page.getByRole('button', { name: 'Take all on the page' }).click();
    await page.getByRole('button', { name: '2 and 2 mirror images' }).click();
    await page.getByRole('button', { name: 'Add 1 piece' }).click();
    // Four in two pairs, with the allowance that the drawing shows.
    await page.getByLabel('Allowance in it').waitFor();
    expect(await page.getByLabel('Allowance in it').inputValue()).toBe('1');

    await page.getByLabel('Make a variant').selectOption('foldBack');
    await page.getByRole('group', { name: /^Comes from Panel/ }).waitFor();
    const at = page.getByLabel('At', { exact: true });
    // The seam: the sew line at the left edge.
    await at.selectOption({ label: 'Sew line, 20 cm, left' });
    await page.getByLabel('Add a step').selectOption('allowance');
    await page.getByText('Opened out: 30 × 20 cm').waitFor();
    // The line for the pocket lies across; folded there, the other part is left out.
    await at.selectOption({ label: 'Drawn line 3, 17 cm, above' });
    await page.getByText('Opened out: 15 × 26 cm').waitFor();
    await page.getByRole('button', { name: /^Undo/ }).click();
    await page.getByText('Opened out: 30 × 20 cm').waitFor();
    expect(await findings(page)).toEqual([]);
    await untilSaved(page);
    await step(page, 'Cut list').click();
    expect(faults).toEqual([]);
    await context.close();
  });
});
