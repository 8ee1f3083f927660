import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Project } from '../../pattern/exchange/project.ts';
import {
  addCloth,
  hasBrowser,
  newProject,
  step,
  storedProject,
  untilLaid,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

const PATTERN = fileURLToPath(new URL('../../fixtures/patterns/saddle-roll-a4.pdf', import.meta.url));

describe.skipIf(!hasBrowser)(`the demo pattern${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  const stored = async (page: Page): Promise<Project> => {
    await untilSaved(page);
    return storedProject(page);
  };

  const bringIn = async (page: Page): Promise<void> => {
    await newProject(page);
    await page.getByRole('button', { name: 'Bring in a drawing' }).click();
    await page.locator('input[type=file]').setInputFiles(PATTERN);
    await page.getByText('Sheets of one drawing').click();
    await page.getByRole('button', { name: 'Put the sheets together' }).click();
    await page.getByText(/12 sheets put together/).waitFor();
    await page.getByRole('button', { name: 'Take all on the page' }).click();
  };

  it('goes from the PDF as it is bought to lay plans: sheets, parts, fold and grain', async () => {
    const { page, context, faults } = await app.open();
    await bringIn(page);
    await page.getByText('A: Body with Body, right part, 31 cm').waitFor();
    await page.getByText('B: Side gusset with Gusset, front end').waitFor();
    await page.getByRole('checkbox', { name: /The edge the bracket points to lies on the fold/ }).waitFor();
    await page.getByRole('button', { name: 'Add 5 pieces' }).click();

    const project = await stored(page);
    const sizes = project.pieces.map(({ name, outline, foldEdge, grainDeg }) => {
      const [xs, ys] = [outline.map(([x]) => x), outline.map(([, y]) => y)];
      const span = (list: number[]): number => Math.round((Math.max(...list) - Math.min(...list)) * 10) / 10;
      return [name, span(xs), span(ys), foldEdge !== null, grainDeg];
    });
    expect(sizes).toEqual([
      ['Body', 460, 310, false, 90],
      ['Lining body', 230, 310, true, 90],
      ['Flap', 300, 220, false, 90],
      ['Front pocket', 240, 170, false, 90],
      ['Side gusset', 320, 140, false, 90],
    ]);
    const rows = project.cutList.map(({ pieceId, plain, mirrored, onFold }) => [
      project.pieces.find(({ id }) => id === pieceId)?.name,
      [plain, mirrored, onFold],
    ]);
    expect(rows).toEqual([
      ['Body', [1, 0, 0]],
      ['Lining body', [0, 0, 1]],
      ['Flap', [1, 0, 0]],
      ['Front pocket', [1, 0, 0]],
      ['Side gusset', [1, 1, 0]],
    ]);
    // Nothing drawn to point at something has become a hole, and nothing waits for a partner.
    expect(project.pieces.every(({ holes, openJoints }) => holes.length === 0 && !openJoints)).toBe(true);

    await step(page, 'Cloths').click();
    // Every material without a cloth shows the choice by itself.
    const rolls = page.getByRole('button', { name: 'Roll or width from the shop' });
    await rolls.nth(1).waitFor();
    await rolls.first().click();
    await addCloth(page, 'Lining', 'roll');
    await step(page, 'Lay plan').click();
    await page.getByLabel('Look for').selectOption('short');
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await untilLaid(page);
    await page.locator('.lay-view').nth(1).waitFor();
    expect(await page.locator('.unplaced').count()).toBe(0);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('has parts that are told apart, joined on the piece, lapped, and undone', async () => {
    const { page, context, faults } = await app.open();
    await bringIn(page);
    await page.getByLabel('What becomes of A').selectOption('later');
    await page.getByRole('button', { name: 'Add 6 pieces' }).click();
    // Both parts wait for each other, and the way there is a link.
    const told = 'Body and Body, right part belong together at A and are not joined yet.';
    await page.getByRole('region', { name: 'To settle' }).getByText(told).waitFor();
    await page.getByRole('button', { name: 'Join with Body, right part' }).click();
    await page.getByText('Put together from Body and Body, right part.').waitFor();
    expect(await page.getByText(told).count()).toBe(0);
    expect((await stored(page)).pieces).toHaveLength(5);

    await page
      .getByRole('group', { name: 'Joint A' })
      .getByRole('radio', { name: 'one over the other' })
      .check();
    await page.getByLabel('By how much').fill('2');
    await page.getByLabel('By how much').blur();
    await page.getByText('44 × 31 cm').first().waitFor();

    await page.getByRole('button', { name: 'Take apart' }).click();
    await page.getByRole('region', { name: 'To settle' }).getByText(told).waitFor();
    await page.keyboard.press('Control+z');
    await page.getByText('Put together from Body and Body, right part.').waitFor();

    // Edges that don't fit are refused, with the difference.
    await page.getByText('Join it with another piece').click();
    await page.getByRole('combobox', { name: 'Second' }).selectOption({ label: 'Front pocket' });
    await page.getByLabel('Its edge').first().selectOption({ label: '25 cm, left' });
    await page.getByLabel('Its edge').nth(1).selectOption({ label: '17 cm, left' });
    await page.getByText('The edges differ by 8 cm').waitFor();
    expect(await page.getByRole('button', { name: 'Join', exact: true }).count()).toBe(0);
    expect(faults).toEqual([]);
    await context.close();
  });
});
