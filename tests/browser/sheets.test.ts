import { describe, expect, it } from 'vitest';
import { type TiledItem, tiledPdf } from '../support/tiledPdf.ts';
import { addCloth, hasBrowser, newProject, step, untilLaid, withServerAndBrowser } from './support.ts';

/** A picnic roll of ours over four sheets of A4: a half body on the fold, a flap, a pocket, and a test square. */
const ROLL: readonly TiledItem[] = [
  {
    ring: [
      [120, 60],
      [300, 60],
      [300, 470],
      [150, 470],
      [120, 440],
    ],
  },
  { text: 'Roll body', at: [220, 380], sizeMm: 9 },
  { text: 'Cut 1 on fold, outer', at: [220, 360] },
  {
    ring: [
      [15, 200],
      [105, 200],
      [105, 330],
      [60, 350],
      [15, 330],
    ],
  },
  { text: 'Flap', at: [30, 250], sizeMm: 9 },
  { text: 'Cut 1 pair outer', at: [25, 230] },
  {
    ring: [
      [15, 480],
      [65, 480],
      [65, 530],
      [15, 530],
    ],
  },
  { text: 'Test square 5 cm', at: [17, 500], sizeMm: 4 },
];

describe.skipIf(!hasBrowser)(`a pattern in sheets${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  it('goes from a PDF to print at home to a lay plan', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await page.getByRole('button', { name: 'Bring in a drawing' }).click();
    await page.locator('input[type=file]').setInputFiles({
      name: 'picnic-roll.pdf',
      mimeType: 'application/pdf',
      buffer: Buffer.from(tiledPdf(ROLL, { columns: 2, rows: 2, cover: true })),
    });
    await page.getByText('Sheets of one drawing').click();
    await page.getByRole('button', { name: 'Put the sheets together' }).click();
    await page.getByText(/4 sheets put together/).waitFor();
    expect(await page.getByLabel('Map of the sheets').inputValue()).toBe('2 3\n4 5');

    // A slip in the map is named, and nothing changes.
    await page.getByLabel('Map of the sheets').fill('2 3\n4 4');
    await page.getByRole('button', { name: 'Lay the sheets so' }).click();
    await page.getByText('Page 4 stands twice').waitFor();
    await page.getByLabel('Map of the sheets').fill('2 3\n4 5');
    await page.getByRole('button', { name: 'Lay the sheets so' }).click();
    await page.getByText('Page 4 stands twice').waitFor({ state: 'detached' });

    for (const name of ['Roll body', 'Flap'])
      await page.getByRole('checkbox', { name: new RegExp(`Take ${name}`) }).check();
    await page.getByRole('button', { name: 'Add 2 pieces' }).click();
    await step(page, 'Cut list').click();
    await page.getByRole('main').getByText('Roll body').first().waitFor();
    await addCloth(page, 'Main fabric', 'roll');
    await step(page, 'Lay plan').click();
    await page.getByLabel('Look for').selectOption('short');
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await untilLaid(page);
    expect(await page.locator('.unplaced').count()).toBe(0);
    // A body opened at its fold, a flap and its mirror image.
    expect(await page.locator('.lay-view').count()).toBe(1);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('is put together by hand where it must be: by dragging and by keys', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await page.getByRole('button', { name: 'Bring in a drawing' }).click();
    await page.locator('input[type=file]').setInputFiles({
      name: 'picnic-roll.pdf',
      mimeType: 'application/pdf',
      buffer: Buffer.from(tiledPdf(ROLL, { columns: 2, rows: 2 })),
    });
    await page.getByText('Sheets of one drawing').click();
    await page.getByText('Lay the sheets by hand').click();
    const sheet = (number: number) => page.getByRole('button', { name: new RegExp(`^Sheet ${number}, `) });
    const boxOf = async (number: number) => {
      const box = await sheet(number).locator('.sb-paper').boundingBox();
      if (!box) throw new Error(`sheet ${number} is not on the board`);
      return box;
    };
    // Scrolls to it, again if the board is drawn anew meanwhile.
    await sheet(1).click({ trial: true });
    // The second is dragged beside the first, a little off, and catches where their lines go on.
    const [one, two] = [await boxOf(1), await boxOf(2)];
    const [x, y] = [two.x + two.width / 2, two.y + two.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + one.x + one.width - two.x + 3, y + 4, { steps: 6 });
    await page
      .getByRole('status')
      .getByText(/Sheet 2: \d+ lines? goe?s? on/)
      .waitFor();
    await page.mouse.up();
    // Escape takes a drag back; so does the button.
    await sheet(2).press('Shift+ArrowDown');
    await page.getByText('Sheet 2 lies free').waitFor();
    await page.getByRole('button', { name: 'Undo the last move' }).click();
    await sheet(2).press('Enter');
    await page.getByText(/Sheet 2: \d+ lines? goe?s? on/).waitFor();
    // The other two by keys: near enough by arrows, then caught.
    for (const number of [3, 4]) {
      await sheet(number).focus();
      if (number === 4) for (let i = 0; i < 2; i++) await sheet(4).press('Shift+ArrowLeft');
      await sheet(number).press('Enter');
      await page.getByText(new RegExp(`Sheet ${number}: \\d+ lines? goe?s? on`)).waitFor();
    }
    await page.getByRole('button', { name: 'Put them together so' }).click();
    await page.getByText(/4 sheets put together/).waitFor();
    await page.getByText('Every line that is cut at the edge of a sheet goes on upon the next.').waitFor();
    await page.getByRole('checkbox', { name: /Take Roll body/ }).check();
    await page.getByText('18 × 41 cm').waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });
});
