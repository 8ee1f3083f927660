/**
 * Pattern files that people published, brought through the page to pieces of the sizes that their open check data
 * state. Sources: `jarmokivekas/sewing` (CC0-1.0 and CC BY-SA 4.0), `Tempel/notebook` (CC BY-SA 4.0). The files are not part of this project.
 */
import type { Browser, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { sharedFolder } from '../support/sharedFolder.ts';
import {
  hasBrowser,
  newProject,
  openPage,
  type TestServer,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

const folder = sharedFolder();

interface Row {
  readonly file: string;
  /** Sizes of pieces, mm: all must be among those added. */
  readonly sizes: readonly (readonly [number, number])[];
  /** What is clicked before the outlines are taken. */
  readonly first?: string;
}

/** Those of which nothing but "take all" is needed. */
const ROWS: readonly Row[] = [
  {
    file: 'square-pack-pattern.svg',
    sizes: [
      [25, 2380],
      [500, 25],
      [900, 30],
    ],
  },
  {
    file: 'pouch-horizontal.svg',
    sizes: [
      [270, 180],
      [430, 110],
      [25.4, 304.8],
      [280, 25.4],
      [101.6, 25.4],
    ],
  },
  {
    file: 'notebook-kit-cut.svg',
    sizes: [
      [240, 170],
      [110, 130],
      [110, 170],
    ],
  },
  { file: 'yoke-cut.svg', sizes: [[791.53, 311.35]] },
  { file: 'hammock.svg', sizes: [[3300, 1500]] },
  { file: 'notebook-leather.svg', sizes: [[99, 253]], first: 'Read it as 90 dots an inch' },
];

/** Settles what the words leave open, as alike where that can be said. */
async function settleAll(page: Page): Promise<void> {
  const answers = page.getByRole('button', { name: /^\d+ alike$|^\d+ in all, from/ });
  for (let left = await answers.count(); left > 0; left = await answers.count())
    await answers.first().click();
}

const skipped = !hasBrowser || folder === null;

describe.skipIf(skipped)(
  `published files through the page${skipped ? ' (skipped: no Chromium, or no open check data at ../shared)' : ''}`,
  () => {
    let server: TestServer;
    let browser: Browser;
    withServerAndBrowser((started, launched) => {
      server = started;
      browser = launched;
    });

    it.each(ROWS)('$file', async ({ file, sizes, first }) => {
      const { page, context, faults } = await openPage(browser, server.url);
      await newProject(page);
      await page.getByRole('button', { name: 'Bring in a drawing' }).click();
      await page.locator('input[type=file]').setInputFiles(`${folder}inputs/${file}`);
      const all = page.getByRole('button', { name: 'Take all on the page' });
      await all.waitFor();
      if (first) await page.getByRole('button', { name: first }).first().click();
      if (first) await page.getByText(/Everything is now/).waitFor();
      await all.click();
      await settleAll(page);
      await page.getByRole('button', { name: /^Add \d+ piece/ }).click();
      await page.getByRole('list', { name: 'Your pieces' }).waitFor();
      await untilSaved(page);
      const { project } = (await page.request
        .get(`${server.url}/api/projects/${page.url().split('#/')[1]?.split('/')[0]}`)
        .then((response) => response.json())) as { project: { pieces: { outline: [number, number][] }[] } };
      const found = project.pieces.map(({ outline }) => {
        const xs = outline.map(([x]) => x);
        const ys = outline.map(([, y]) => y);
        return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)] as const;
      });
      const missing = sizes.filter(
        ([width, height]) =>
          !found.some(([w, h]) => Math.abs(w - width) <= 0.1 && Math.abs(h - height) <= 0.1),
      );
      expect(missing, found.map((size) => size.map((mm) => mm.toFixed(2)).join('×')).join(' ')).toEqual([]);
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);
