import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { piecesToDxf } from '../../pattern/output/index.ts';
import {
  addCloth,
  hasBrowser,
  newProject,
  paste,
  step,
  untilLaid,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

/** Clicks a button that saves a file; gives its name and its first bytes. */
async function saved(page: Page, label: string): Promise<{ name: string; start: string }> {
  const alert = page.getByRole('alert').first();
  const refused = alert.waitFor().then(async () => {
    throw new Error(`${label}: ${await alert.textContent()}`);
  });
  // Where the file comes there is no alert to wait for, and its time runs out unheard.
  refused.catch(() => undefined);
  const [download] = await Promise.all([
    Promise.race([page.waitForEvent('download'), refused]),
    page
      .getByRole('region', { name: 'Take it to the table' })
      .getByRole('button', { name: label, exact: true })
      .click(),
  ]);
  const bytes = await readFile(await download.path());
  return { name: download.suggestedFilename(), start: bytes.toString('latin1', 0, 400) };
}

/** One page of 100 × 100 mm (283.46 points) with a closed square of 50 mm. */
const PDF = [
  '%PDF-1.4',
  '1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj',
  '2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj',
  '3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 283.46 283.46]/Contents 4 0 R>>endobj',
  '4 0 obj<</Length 37>>stream',
  '50 50 141.732 141.732 re S           ',
  'endstream endobj',
  'trailer<</Root 1 0 R>>',
].join('\n');

describe.skipIf(!hasBrowser)(
  `files for the table and drawings of other kinds${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('gives every file, also when the server has forgotten the lay; none of a plan out of date', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Side 31 x 14.5 cm (4)', 'Canvas');
      await addCloth(page, 'Canvas', 'roll');
      await step(page, 'Lay plan').click();
      await page.getByLabel('Look for').selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await untilLaid(page);
      await untilSaved(page);
      await app.server.kill();
      await app.server.run(app.server.port);
      await page.reload();
      await step(page, 'Lay plan').click();
      for (const more of ['In full size, on paper or by projector', 'Labels and cut list']) {
        await page.getByText(more, { exact: true }).click();
      }
      for (const [label, ending, start] of [
        ['Plan to cut from (PDF)', 'pdf', '%PDF'],
        ['Layout in full size (PDF)', 'pdf', '%PDF'],
        ['Positions to chalk (CSV)', 'csv', 'cloth'],
        ['Cut list (CSV)', 'csv', 'piece'],
        ['Labels (PDF)', 'pdf', '%PDF'],
        ['Pieces in full size (PDF)', 'pdf', '%PDF'],
      ] as const) {
        const file = await saved(page, label);
        expect(file.name.endsWith(`.${ending}`), label).toBe(true);
        expect(file.start, label).toContain(start);
      }
      await step(page, 'Cut list').click();
      await page.getByLabel('Side in Canvas: copies', { exact: true }).fill('5');
      await page.keyboard.press('Enter');
      await step(page, 'Lay plan').click();
      const plan = page
        .getByRole('region', { name: 'Take it to the table' })
        .getByRole('button', { name: 'Plan to cut from (PDF)' });
      expect(await plan.isDisabled()).toBe(true);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('brings in a DXF and a PDF at true size', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      const demo = demoProject();
      const dxf = piecesToDxf(demo.pieces, demo);
      for (const [name, content, size] of [
        ['square.pdf', PDF, /5 × 5 cm/],
        ['pieces.dxf', dxf, /46 × 31 cm/],
      ] as const) {
        await page.getByRole('button', { name: 'Bring in a drawing' }).click();
        await page.locator('input[type=file]').setInputFiles({
          name,
          mimeType: 'application/octet-stream',
          buffer: Buffer.from(content, 'latin1'),
        });
        await page.getByRole('button', { name: 'Take all on the page' }).waitFor();
        expect(await page.locator('.import-list').textContent(), name).toMatch(size);
        await page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
      }
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);
