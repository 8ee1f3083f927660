import { readFile } from 'node:fs/promises';
import type { BrowserContext, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { findings, overflow } from './accessibility.ts';
import { DESK, hasBrowser, PHONE, withServerAndBrowser } from './support.ts';

/** Names of the steps begin so, whatever stands behind them. */
const STEPS = ['Schnittteile', 'Zuschnittliste', 'Stoffe', 'Zuschnittplan', 'Zuschneiden'] as const;

const PROJECT = 'Saddle roll with picnic pocket';
/** What only English words have; the demo's own names are English, and so are not looked at. */
const ENGLISH = /\b(?:the|of|which|cut from|pieces|save|your|with)\b/i;

/** A desk of 1280 × 1024 zoomed to 400 % (WCAG 1.4.10). */
const ZOOMED = { width: 320, height: 256 };

describe.skipIf(!hasBrowser)(`the page in German${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  async function open(viewport: { width: number; height: number }): Promise<[Page, BrowserContext]> {
    const context = await app.browser.newContext({ viewport, locale: 'de-AT', acceptDownloads: true });
    const page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await page.goto(app.server.url);
    await page.getByRole('navigation', { name: 'Arbeitsschritte' }).waitFor();
    return [page, context];
  }

  const step = (page: Page, name: string) =>
    page
      .getByRole('navigation', { name: 'Arbeitsschritte' })
      .getByRole('link', { name: new RegExp(`^${name}`) });

  it('takes the demo from the pieces to the cutting, on paper too', async () => {
    const [page, context] = await open(DESK);
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('de');
    await step(page, 'Zuschnittliste').click();
    await page.getByRole('heading', { name: 'Zuschnittliste', exact: true }).waitFor();
    await step(page, 'Zuschnittplan').click();
    await page.getByLabel('Suchen').selectOption('short');
    await page.getByRole('button', { name: 'Alles auslegen' }).click();
    await page.locator('.progress', { hasText: 'Fertig.' }).first().waitFor({ timeout: 60_000 });
    const total = await page.getByRole('region', { name: 'Insgesamt' }).textContent();
    // What is bought is written with a comma.
    expect(total).toMatch(/\d,\d\d m/);
    expect(total).not.toMatch(/\d\.\d/);
    const drawn = (await page.locator('.lay-view text').allTextContents()).join('\n');
    expect(drawn).toContain('Webkante');
    expect(drawn).toContain('Anschnitt');
    expect(drawn).not.toMatch(/selvedge|cut end/i);
    await page.locator('.save-state.saved').waitFor();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Plan zum Zuschneiden (PDF)' }).first().click(),
    ]);
    // A screen reader and a search engine are told which language the file is in.
    expect((await readFile(await download.path())).toString('latin1')).toMatch(
      /\/Lang\s*\((?:\xfe\xff)?\0?d\0?e\)/,
    );
    await step(page, 'Zuschneiden').click();
    await page.getByText('0 von 44 geschnitten').first().waitFor();
    await page.getByRole('radio', { name: 'Material' }).check({ force: true });
    const box = page.getByRole('checkbox', { name: /^Body panel, Waxed canvas/ }).first();
    await box.check();
    await page.getByText('1 von 44 geschnitten').first().waitFor();
    await box.uncheck();
    await page.locator('.save-state.saved').waitFor();
    await context.close();
  });

  it.each([DESK, PHONE, ZOOMED])(
    'has no finding of axe-core and nothing beyond the edge, $width px',
    async (size) => {
      const [page, context] = await open(size);
      for (const name of STEPS) {
        await step(page, name).click();
        await page.waitForTimeout(200);
        expect(await findings(page), name).toEqual([]);
        expect(await overflow(page), name).toBe(0);
        // Names of its things apart, nothing is left in English.
        const said = await page.locator('main p, main h2, main label, main summary').allTextContents();
        const own = said.map((text) => text.replaceAll(PROJECT, ''));
        expect(own.filter((text) => ENGLISH.test(text))).toEqual([]);
      }
      await context.close();
    },
  );

  it('is chosen in the header and kept, whatever the browser speaks', async () => {
    const [page, context] = await open(DESK);
    await page.getByLabel('Sprache').selectOption('en');
    await page.getByRole('navigation', { name: 'Steps of the work' }).waitFor();
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('en');
    await page.reload();
    await page.getByLabel('Language').selectOption('de');
    await page.getByRole('navigation', { name: 'Arbeitsschritte' }).waitFor();
    await context.close();
  });
});
