import { beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, step, untilLaid, untilSaved, withServerAndBrowser } from './support.ts';

describe.skipIf(!hasBrowser)(`a page for everyone${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();
  beforeAll(async () => {
    // The demo is laid out once, so that every test finds drawings to look at.
    const { page, context } = await app.open();
    await step(page, 'Lay plan').click();
    await page.getByLabel('Look for').selectOption('short');
    await page.getByRole('button', { name: 'Lay out everything' }).click();
    await untilLaid(page, 60_000);
    await untilSaved(page);
    await context.close();
  });

  it('looks around in a drawing by pressing alone', async () => {
    const { page, context, faults } = await app.open();
    await step(page, 'Lay plan').click();
    const picture = page.locator('.lay-picture').first();
    const view = () => picture.locator('.lay-view').getAttribute('viewBox');
    expect(await picture.getByRole('button', { name: 'Look to the right' }).count()).toBe(0);
    await picture.getByRole('button', { name: 'Zoom in' }).click();
    await picture.getByRole('button', { name: 'Zoom in' }).click();
    const [x = '', y = ''] = (await view())?.split(' ') ?? [];
    await picture.getByRole('button', { name: 'Look to the right' }).click();
    await picture.getByRole('button', { name: 'Look further down' }).click();
    const [newX = '', newY = ''] = (await view())?.split(' ') ?? [];
    expect(Number(newX)).toBeGreaterThan(Number(x));
    expect(Number(newY)).toBeGreaterThan(Number(y));
    await picture.getByRole('button', { name: 'Whole sheet' }).press('Enter');
    // The button has nothing left to do; the focus stays beside it.
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.getAttribute('aria-label')))
      .toBe('Zoom in');
    expect(faults).toEqual([]);
    await context.close();
  });

  it('turns the grain by keys and by hand, and takes it back by Escape', async () => {
    const { page, context, faults } = await app.open();
    await page
      .getByRole('list', { name: 'Your pieces' })
      .getByRole('link', { name: /Side gusset/ })
      .click();
    const handle = page.getByRole('slider', { name: /^Grain of Side gusset/ });
    const angleIs = (angle: string) => expect.poll(() => handle.getAttribute('aria-valuenow')).toBe(angle);
    await angleIs('90');
    await handle.focus();
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowLeft');
    await angleIs('92');
    // The handle keeps the focus although the drawing was made anew.
    await page.keyboard.press('ArrowRight');
    await angleIs('91');
    await page.keyboard.press('Control+z');
    await angleIs('90');

    const dot = page.locator('.pv-handle-dot');
    const from = await dot.boundingBox();
    const drawing = await page.locator('.piece-drawing').boundingBox();
    if (!from || !drawing) throw new Error('the handle is not drawn');
    await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2);
    await page.mouse.down();
    await page.mouse.move(drawing.x + drawing.width - 30, drawing.y + drawing.height / 2, { steps: 5 });
    expect(await handle.getAttribute('aria-valuenow')).not.toBe('90');
    await page.keyboard.press('Escape');
    await angleIs('90');
    await page.mouse.up();
    expect(await page.getByRole('button', { name: 'Undo', exact: true }).isDisabled()).toBe(true);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('shows and takes every length in inches once they are chosen', async () => {
    const { page, context, faults } = await app.open();
    await page.getByRole('radio', { name: 'inch' }).check();
    await page
      .getByRole('list', { name: 'Your pieces' })
      .getByRole('link', { name: /Lashing strap/ })
      .click();
    const along = page.getByRole('article').getByLabel('Along the grain', { exact: true });
    await along.fill('24 1/2');
    await along.press('Enter');
    await page.getByRole('radio', { name: 'cm', exact: true }).check();
    expect(await along.inputValue()).toBe('62.23');
    await along.fill('not a length');
    await along.press('Enter');
    await page.getByText(/is not a length/).waitFor();
    await along.press('Escape');
    expect(await along.inputValue()).toBe('62.23');
    expect(faults).toEqual([]);
    await context.close();
  });

  it('goes through the steps by keyboard alone', async () => {
    const { page, context, faults } = await app.open();
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Skip to the work');
    await step(page, 'Cloths').focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 2, name: 'Cloths' }).waitFor();
    // Going to a step puts the focus at its beginning.
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('work');
    // The first stops are buttons of the step; the first cloth is a few stops on.
    const isOnCloth = (): Promise<boolean> =>
      page.evaluate(() => document.activeElement?.getAttribute('href')?.includes('/cloths/') === true);
    for (let stops = 0; stops < 6 && !(await isOnCloth()); stops++) await page.keyboard.press('Tab');
    expect(await isOnCloth()).toBe(true);
    await page.keyboard.press('Enter');
    await page.locator('.detail').waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });
});
