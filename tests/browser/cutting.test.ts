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
});
