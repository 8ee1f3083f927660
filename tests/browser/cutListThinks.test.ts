import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { emptyProject } from '../../pattern/exchange/emptyProject.ts';
import { pieceFromRectangle } from '../../pattern/measurements/index.ts';
import {
  hasBrowser,
  newProject,
  paste,
  step,
  untilLaid,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

/** Opens a project of the test's own at its cut list. */
async function openStored(page: Page, url: string, project: object): Promise<void> {
  const stored = await page.request.post(`${url}/api/projects`, { data: { project } });
  const { id } = (await stored.json()) as { id: string };
  await page.goto(`${url}#/${id}/cutlist`);
  await page.reload();
  await page.getByRole('heading', { name: 'Cut list' }).waitFor();
}

const INCH = 25.4;

/** Tote bags of two panels and a gusset on 118 × 45 in of cloth: see the test of the search for its source. */
function totes(): object {
  const piece = (id: string, across: number, along: number) =>
    pieceFromRectangle({ id, name: id, acrossMm: across * INCH, alongMm: along * INCH });
  return {
    ...emptyProject('Totes', 'in'),
    pieces: [piece('panel', 15, 13), piece('gusset', 43, 8)],
    materials: [{ id: 'main', name: 'Paisley' }],
    cutList: [
      { pieceId: 'panel', materialId: 'main', plain: 2 },
      { pieceId: 'gusset', materialId: 'main', plain: 1 },
    ],
    cloths: [
      {
        kind: 'roll',
        id: 'c',
        name: 'Paisley',
        materialId: 'main',
        widthMm: 45 * INCH,
        availableMm: 118 * INCH,
      },
    ],
  };
}

describe.skipIf(!hasBrowser)(
  `a cut list that thinks${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('cuts the layers with the outer, and lets them go with it, saying so', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, '1 @ 30 x 20 cm flap\n2 @ 17 x 22 cm panel', 'Cotton');
      await step(page, 'Cut list').click();
      for (const name of ['Vinyl', 'Fleece']) {
        await page.getByLabel('New material').fill(name);
        await page.getByRole('button', { name: 'Add a material' }).click();
      }
      await page.getByRole('button', { name: 'Cotton', exact: true }).click();
      await page.getByLabel('also from Fleece').check();
      await page.getByText('Fleece follows: flap, panel are cut from it now.').waitFor();
      expect(await page.getByLabel('panel in Fleece: copies').inputValue()).toBe('2');

      // A count of her own, and back to following.
      await page.getByLabel('panel in Fleece: copies').fill('1');
      await page.getByLabel('panel in Fleece: copies').press('Enter');
      await page.getByText('your own; Cotton asks for 2').waitFor();
      await page.getByRole('button', { name: 'Let panel in Fleece follow' }).click();
      expect(await page.getByLabel('panel in Fleece: copies').inputValue()).toBe('2');

      await page.getByLabel('Cut everything that is cut from Cotton').selectOption('Vinyl');
      await page.getByText('no longer asked for in Fleece').waitFor();
      expect(await page.getByLabel('panel in Fleece: copies').count()).toBe(0);
      expect(await page.getByLabel('panel in Vinyl: copies').inputValue()).toBe('2');
      await page.getByRole('button', { name: /^Undo/ }).click();
      expect(await page.getByLabel('panel in Fleece: copies').inputValue()).toBe('2');
      expect(faults).toEqual([]);
      await context.close();
    });

    it('makes a lining on the fold from a panel with a centre seam, and keeps it with the panel', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, '4 @ 17 x 22 cm panel', 'Cotton');
      await step(page, 'Pieces').click();
      await page.getByRole('link', { name: /^panel/ }).click();
      await page.getByLabel('Allowance in it').fill('1');
      await page.getByLabel('Allowance in it').press('Enter');
      await page.getByLabel('Make a variant').selectOption('foldBack');
      await page.getByRole('group', { name: /^Comes from panel/ }).waitFor();
      // Folded at the seam, a centimetre inside the edge, and then without allowance: 2 × 15 by 20 cm.
      expect(await page.getByLabel('Inside it by').inputValue()).toBe('1');
      await page.getByLabel('Add a step').selectOption('allowance');
      await page.getByText('Opened out: 30 × 20 cm').waitFor();

      await page.getByRole('link', { name: 'panel', exact: true }).click();
      await page.getByLabel('Along the grain').fill('32');
      await page.getByLabel('Along the grain').press('Enter');
      await page.getByRole('link', { name: 'panel, on the fold' }).first().click();
      await page.getByText('Opened out: 30 × 30 cm').waitFor();
      await untilSaved(page);
      await page.reload();
      await page.getByText('Opened out: 30 × 30 cm').waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });

    it('answers how many the cloth gives with a gusset that may vary, and takes the answer over', async () => {
      const { page, context, faults } = await app.open();
      await openStored(page, app.server.url, totes());
      await page.getByLabel('One size may vary').check();
      await page.getByLabel('Of the piece').selectOption('gusset');
      await page.getByLabel('From', { exact: true }).fill('7');
      await page.getByLabel('To', { exact: true }).fill('9');
      await page.getByLabel('In steps of').fill('1/2');
      await page.getByLabel('In steps of').press('Enter');
      await page.getByRole('button', { name: 'Find out' }).click();
      await page.getByText('7 fit with gusset 7 1/2 in').waitFor({ timeout: 60_000 });
      await page.getByRole('button', { name: 'Find out' }).waitFor({ timeout: 60_000 });
      await page.getByText('6 fit with gusset 9 in').waitFor();
      expect(await page.locator('.how-many .lay-host svg').count()).toBe(1);
      await page.getByRole('button', { name: 'Make 7 with 7 1/2 in' }).click();
      expect(await page.getByLabel('Make', { exact: true }).inputValue()).toBe('7');
      await page.getByText('21 pieces for all 7').waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });

    it('joins a strap, lays what is never seen on another cloth, and keeps a held-back place', async () => {
      const { page, context, faults } = await app.open();
      const piece = (id: string, acrossMm: number, alongMm: number) =>
        pieceFromRectangle({ id, name: id, acrossMm, alongMm });
      await openStored(page, app.server.url, {
        ...emptyProject('Shared', 'cm'),
        pieces: [piece('panel', 380, 500), piece('strap', 50, 900), piece('facing', 100, 200)],
        materials: [
          { id: 'main', name: 'Canvas' },
          { id: 'lining', name: 'Cotton' },
        ],
        cutList: [
          { pieceId: 'panel', materialId: 'main', plain: 1 },
          { pieceId: 'strap', materialId: 'main', plain: 1 },
          { pieceId: 'facing', materialId: 'lining', plain: 1 },
        ],
        cloths: [
          { kind: 'roll', id: 'c', name: 'Canvas roll', materialId: 'main', widthMm: 620 },
          { kind: 'roll', id: 'd', name: 'Cotton roll', materialId: 'lining', widthMm: 1000 },
        ],
      });
      const more = async (cell: string): Promise<Locator> => {
        const part = page.locator('details', {
          has: page.locator(`summary[aria-label="More about ${cell}"]`),
        });
        await part.locator('summary').click();
        return part;
      };
      await (await more('strap in Canvas')).getByLabel('May be joined from shorter lengths').check();
      await (await more('panel in Canvas')).getByLabel('Cut later, to measure').check();
      const facing = await more('facing in Cotton');
      await facing.getByLabel('Another material for facing instead of Cotton').selectOption('Canvas');
      await page.getByText('or from Canvas').waitFor();

      await step(page, 'Lay plan').click();
      await page.getByLabel('Look for').selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await untilLaid(page);
      await page.getByText('strap is joined from 2 lengths.').waitFor();
      await page.getByText('facing: one copy found room on Canvas').waitFor();
      await page.getByText('All its pieces found room on other cloths').waitFor();
      const drawing = (await page.locator('.lay-host').first().textContent()) ?? '';
      expect(drawing).toContain('held back');
      expect(drawing).toContain('instead of Cotton');
      expect(drawing).toContain('strap, length 1 of 2');
      // Nothing is left to settle: the lining has no lay because it needs none.
      await page.reload();
      await page.getByText('All its pieces found room on other cloths').waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);
