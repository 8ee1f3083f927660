import { mkdirSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { enlargeText, findings, focusFaults, misfits, spaceText, unnamedDrawings } from './accessibility.ts';
import { type Documents, makeDocuments, openScreen, SCREENS } from './screens.ts';
import { DESK, hasBrowser, withServerAndBrowser } from './support.ts';

/** A desk of 1280 × 1024 zoomed to 400 % (WCAG 1.4.10). */
const ZOOMED = { width: 320, height: 256 };
const PHONES = [
  { width: 390, height: 844 },
  { width: 360, height: 740 },
] as const;
const SCHEMES = ['light', 'dark'] as const;

const twoFrames = (page: Page): Promise<void> =>
  page.evaluate(
    () => new Promise<void>((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => resolve()))),
  );

/** Where pictures of every screen are put, to be looked at; none are made without it. */
const PICTURES = process.env.PICTURES;

describe.skipIf(!hasBrowser)(`every screen${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();
  let documents: Documents;
  beforeAll(async () => {
    const page = await app.browser.newPage();
    documents = await makeDocuments(page, app.server.url);
    await page.close();
    if (PICTURES !== undefined) mkdirSync(PICTURES, { recursive: true });
  }, 180_000);

  /** All faults of what is shown, so that one run tells everything there is to mend. */
  async function look(page: Page, name: string, size: string): Promise<string[]> {
    const faults: string[] = [];
    for (const colorScheme of SCHEMES) {
      await page.emulateMedia({ colorScheme });
      // What is pushed halfway under the steps, which stay in sight, is no small target.
      await page.evaluate(() => scrollTo(0, 0));
      faults.push(...(await findings(page)).map((found) => `${size}, ${colorScheme}: ${found}`));
      if (PICTURES === undefined) continue;
      const file = `${name.replace(/\W+/g, '-')}.${size}.${colorScheme}.png`;
      await page.screenshot({ path: `${PICTURES}/${file}`, fullPage: true });
    }
    return faults;
  }

  async function newContext(viewport: { width: number; height: number }): Promise<BrowserContext> {
    return app.browser.newContext({ viewport, reducedMotion: 'reduce' });
  }

  it.each(SCREENS)(
    '$name: on a desk',
    async (screen) => {
      const context = await newContext(DESK);
      const page = await openScreen(screen, context, app.server, documents);
      const faults = await look(page, screen.name, 'desk');
      faults.push(...(await unnamedDrawings(page)));
      // All screens are opened as for those who asked for less motion.
      const moving = await page.evaluate(() => document.getAnimations().length);
      if (moving > 0) faults.push(`${moving} things move`);
      faults.push(...(await misfits(page)).map((found) => `desk: ${found}`));
      await spaceText(page, true);
      await twoFrames(page);
      faults.push(...(await misfits(page)).map((found) => `text spaced out: ${found}`));
      await spaceText(page, false);
      await twoFrames(page);
      await enlargeText(page, 2);
      await twoFrames(page);
      faults.push(...(await misfits(page)).map((found) => `text twice as large: ${found}`));
      await enlargeText(page, 1);
      await twoFrames(page);
      faults.push(...(await focusFaults(page)).map((found) => `desk: ${found}`));
      expect(faults, faults.join('\n')).toEqual([]);
      await context.close();
    },
    150_000,
  );

  it.each(SCREENS)(
    '$name: on a phone, and zoomed to 400 %',
    async (screen) => {
      const context = await newContext(PHONES[0]);
      const page = await openScreen(screen, context, app.server, documents);
      const faults = await look(page, screen.name, 'phone');
      for (const size of [...PHONES, ZOOMED]) {
        await page.setViewportSize(size);
        // Drawings that fill their place are drawn anew a frame later.
        await twoFrames(page);
        faults.push(...(await misfits(page)).map((found) => `${size.width}: ${found}`));
      }
      await spaceText(page, true);
      await twoFrames(page);
      faults.push(...(await misfits(page)).map((found) => `zoomed, text spaced out: ${found}`));
      await spaceText(page, false);
      await twoFrames(page);
      faults.push(...(await focusFaults(page)).map((found) => `zoomed: ${found}`));
      if (PICTURES !== undefined) {
        const file = `${screen.name.replace(/\W+/g, '-')}.zoomed.png`;
        await page.screenshot({ path: `${PICTURES}/${file}`, fullPage: true });
      }
      expect(faults, faults.join('\n')).toEqual([]);
      await context.close();
    },
    150_000,
  );
});
