import { describe, expect, it } from 'vitest';
import {
  addCloth,
  hasBrowser,
  newProject,
  openPage,
  PHONE,
  paste,
  step,
  untilLaid,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

describe.skipIf(!hasBrowser)(`cutting${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  it('shows on a phone what was ticked on the desk, and the other way about', async () => {
    const desk = await app.open();
    await newProject(desk.page);
    await paste(desk.page, 'Panel 30 x 40 cm (2)\nStrap 6 x 60 cm (3)', 'Canvas');
    await addCloth(desk.page, 'Canvas', 'roll');
    await step(desk.page, 'Lay plan').click();
    await desk.page.getByLabel('Look for').selectOption('short');
    await desk.page.getByRole('button', { name: 'Lay out everything' }).click();
    await untilLaid(desk.page, 30_000);
    await untilSaved(desk.page);
    const phone = await openPage(app.browser, desk.page.url(), { viewport: PHONE });
    await step(phone.page, 'Cutting').click();
    await step(desk.page, 'Cutting').click();
    for (const { page } of [desk, phone])
      await page.getByRole('radio', { name: 'materials' }).check({ force: true });
    // Both tick at once: neither is asked to choose, neither loses a tick.
    await Promise.all([
      desk.page.getByRole('checkbox', { name: /^Panel, Canvas, plain 1/ }).check(),
      phone.page.getByRole('checkbox', { name: /^Strap, Canvas, plain 2/ }).check(),
    ]);
    for (const { page } of [desk, phone]) {
      await page.getByText('2 of 5 cut').first().waitFor();
      expect(await page.getByRole('checkbox', { name: /^Panel, Canvas, plain 1/ }).isChecked()).toBe(true);
      expect(await page.getByRole('checkbox', { name: /^Strap, Canvas, plain 2/ }).isChecked()).toBe(true);
      expect(await page.getByRole('alert').count()).toBe(0);
    }
    expect([...desk.faults, ...phone.faults]).toEqual([]);
    // With the last piece what is left is offered to the shelf, here at the table; not before.
    for (const { page } of [desk, phone])
      await page.getByRole('radio', { name: 'the lay plan' }).check({ force: true });
    const offer = phone.page.getByRole('button', { name: 'It is cut: put offcuts back' });
    expect(await offer.count()).toBe(0);
    await desk.page.getByRole('radio', { name: 'materials' }).check({ force: true });
    for (const name of [/^Panel, Canvas, plain 2/, /^Strap, Canvas, plain 1/, /^Strap, Canvas, plain 3/]) {
      await desk.page.getByRole('checkbox', { name }).check();
    }
    await phone.page.getByText('All 5 cut').first().waitFor();
    await offer.click();
    await phone.page
      .getByRole('dialog')
      .getByRole('button', { name: /^It is cut/ })
      .waitFor();
    await phone.page.keyboard.press('Escape');
    // A tick taken away takes the offer with it; the next test ticks this piece again.
    await desk.page.getByRole('checkbox', { name: /^Strap, Canvas, plain 3/ }).uncheck();
    await phone.page.getByText('4 of 5 cut').first().waitFor();
    expect(await offer.count()).toBe(0);
    const box = await phone.page.locator('.big-tick').first().boundingBox();
    expect(box?.height).toBeGreaterThanOrEqual(44);
    await Promise.all([desk.context.close(), phone.context.close()]);
  });

  it('keeps a tick that is set while the server is away', async () => {
    const { page, context, faults } = await app.open({ viewport: PHONE });
    await step(page, 'Cutting').click();
    await page.getByRole('radio', { name: 'materials' }).check({ force: true });
    const box = page.getByRole('checkbox', { name: /plain 3 of 3/ }).first();
    await context.setOffline(true);
    await box.check();
    await page.locator('.save-state.offline').waitFor();
    await context.setOffline(false);
    await untilSaved(page);
    await page.reload();
    await page.getByRole('radio', { name: 'materials' }).check({ force: true });
    expect(await box.isChecked()).toBe(true);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('keeps which layout is cut: on the other page, after a reload, in files and lists; held back comes last', async () => {
    const desk = await app.open();
    await newProject(desk.page);
    await paste(desk.page, 'Panel 30 x 40 cm (4)\nStrap 6 x 60 cm (4)', 'Canvas');
    await addCloth(desk.page, 'Canvas', 'roll');
    await step(desk.page, 'Lay plan').click();
    await desk.page.getByLabel('How the cloth lies', { exact: true }).selectOption('compare');
    await desk.page.getByLabel('Look for').selectOption('short');
    await desk.page.getByRole('button', { name: 'Lay out everything' }).click();
    await untilLaid(desk.page, 60_000);
    await untilSaved(desk.page);
    await step(desk.page, 'Cutting').click();
    const choice = (page: typeof desk.page) => page.getByLabel('Cut by');
    const before = await choice(desk.page).inputValue();
    const other = (
      await choice(desk.page)
        .locator('option')
        .evaluateAll((all) => all.map((option) => (option as HTMLOptionElement).value))
    ).find((value) => value !== before);
    expect(other, 'several ways to lie were found').toBeDefined();
    await choice(desk.page).selectOption(other!);
    await untilSaved(desk.page);
    const phone = await openPage(app.browser, desk.page.url(), { viewport: PHONE });
    expect(await choice(phone.page).inputValue()).toBe(other);
    await desk.page.reload();
    expect(await choice(desk.page).inputValue()).toBe(other);
    // Files without a word about which layout are of this one.
    const id = /#\/([^/]+)/.exec(desk.page.url())?.[1];
    const [clothId = '', spread = ''] = other!.split(' ');
    const positions = async (query: string): Promise<unknown> =>
      (
        await desk.page.request.get(
          new URL(`/api/projects/${id}/positions.json${query}`, desk.page.url()).href,
        )
      ).json();
    expect(await positions('')).toEqual(await positions(`?cloth=${clothId}&spread=${spread}`));
    expect(await positions('')).not.toEqual(
      await positions(`?cloth=${clothId}&spread=${before.split(' ')[1]}`),
    );
    await desk.page.getByRole('radio', { name: 'parts' }).check({ force: true });
    await desk.page.getByRole('button', { name: 'Hold back Panel in Canvas' }).click();
    const last = desk.page.locator('.material-cutting').last();
    await last.getByText('Panel').waitFor();
    expect(await last.getByText('Strap').count()).toBe(0);
    const order = await desk.page.locator('.tick-row strong').allTextContents();
    expect(order).toEqual(['Strap', 'Panel']);
    expect([...desk.faults, ...phone.faults]).toEqual([]);
    await Promise.all([desk.context.close(), phone.context.close()]);
  });
});
