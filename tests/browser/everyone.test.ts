import { beforeAll, describe, expect, it } from 'vitest';
import { findings, overflow } from './accessibility.ts';
import { DESK, hasBrowser, PHONE, step, untilLaid, untilSaved, withServerAndBrowser } from './support.ts';

const STEPS = ['Pieces', 'Cut list', 'Cloths', 'Lay plan', 'Cutting'] as const;

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

  it.each(['light', 'dark'] as const)(
    'has no serious finding of axe-core on any step, %s',
    async (scheme) => {
      const context = await app.browser.newContext({ viewport: DESK, colorScheme: scheme });
      const { page } = await app.open({ context });
      for (const name of STEPS) {
        await step(page, name).click();
        await page.getByRole('heading', { level: 2, name }).waitFor();
        expect(await findings(page), name).toEqual([]);
        const card = page.locator('.cards .card').nth(1);
        if ((await card.count()) > 0) {
          await card.click();
          await page.locator('.detail').waitFor();
          expect(await findings(page), `${name}, one open`).toEqual([]);
        }
      }
      await step(page, 'Pieces').click();
      for (const way of ['Type measurements', 'Paste a cut list', 'Bring in a drawing']) {
        await page.getByRole('button', { name: way }).click();
        expect(await findings(page), way).toEqual([]);
      }
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: 'Projects', exact: true }).click();
      expect(await findings(page), 'Projects').toEqual([]);
      await context.close();
    },
  );

  it('works at 360 pixels without scrolling sideways', async () => {
    const { page, context, faults } = await app.open({ viewport: PHONE });
    for (const name of STEPS) {
      await step(page, name).click();
      await page.getByRole('heading', { level: 2, name }).waitFor();
      expect(await overflow(page), name).toBe(0);
      const card = page.locator('.cards .card').nth(1);
      if ((await card.count()) > 0) {
        await card.click();
        await page.locator('.detail').waitFor();
        expect(await overflow(page), `${name}, one open`).toBe(0);
        await page.getByRole('link', { name: /^All / }).click();
      }
    }
    await step(page, 'Pieces').click();
    await page.getByRole('button', { name: 'Type measurements' }).click();
    expect(await overflow(page), 'measurements').toBe(0);
    expect(await findings(page), 'phone').toEqual([]);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('has no target smaller than 24 pixels', async () => {
    const { page, context } = await app.open({ viewport: PHONE });
    for (const name of STEPS) {
      await step(page, name).click();
      await page.getByRole('heading', { level: 2, name }).waitFor();
      const small = await page.evaluate(() =>
        [...document.querySelectorAll<HTMLElement>('button, select, input, summary, .card, nav a')]
          .filter((element) => element.checkVisibility() && !element.closest('.sr, .skip'))
          .map((element) => {
            // A labelled box or radio is pressed by its label.
            const target = element.closest('label') ?? element;
            const { width, height } = target.getBoundingClientRect();
            return { width, height, what: element.outerHTML.slice(0, 100) };
          })
          .filter(({ width, height }) => width > 1 && (width < 24 || height < 24)),
      );
      expect(small, name).toEqual([]);
    }
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

  it('keeps still for those who asked for less motion', async () => {
    const context = await app.browser.newContext({ viewport: DESK, reducedMotion: 'reduce' });
    const { page } = await app.open({ context });
    const moving = await page.evaluate(() => document.getAnimations().length);
    expect(moving).toBe(0);
    await context.close();
  });
});
