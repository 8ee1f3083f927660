import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { hasBrowser, newProject, openPage, paste, untilSaved, withServerAndBrowser } from './support.ts';

/** A poll that gives a busy machine time. */
const soon = { timeout: 30_000 };

const nameOf = (page: Page): Promise<string> => page.getByLabel('Project name').inputValue();

describe.skipIf(!hasBrowser)(
  `two tabs of one browser at one project${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    async function twoTabs() {
      const { page: one, context, faults } = await app.open();
      const before = one.url();
      await newProject(one);
      await expect.poll(() => one.url(), soon).not.toBe(before);
      await paste(one, 'Panel 30 x 40 cm', 'Canvas');
      await untilSaved(one);
      const other = await openPage(app.browser, one.url(), { context });
      await other.page
        .getByRole('list', { name: 'Your pieces' })
        .getByText('Panel', { exact: true })
        .waitFor();
      return { one, other: other.page, context, faults: () => [...faults, ...other.faults] };
    }

    it('join what each did to different things', async () => {
      const { one, other, context, faults } = await twoTabs();
      await paste(one, 'Strap 4 x 60 cm', 'Canvas');
      await paste(other, 'Tab 5 x 5 cm', 'Canvas');
      await Promise.all([untilSaved(one), untilSaved(other)]);
      // Whichever was later has joined both; the other takes it over when it comes to the front, here by a reload.
      await Promise.all([one.reload(), other.reload()]);
      for (const page of [one, other])
        for (const name of ['Panel', 'Strap', 'Tab'])
          await page.getByRole('list', { name: 'Your pieces' }).getByText(name, { exact: true }).waitFor();
      expect(faults()).toEqual([]);
      await context.close();
    });

    it('ask where both changed the same, and the one that asks loses nothing while the other goes on', async () => {
      const { one, other, context, faults } = await twoTabs();
      await other.getByLabel('Project name').fill('Of the other');
      await untilSaved(other);
      await one.getByLabel('Project name').fill('Of the one');
      const banner = one.getByRole('alert', { name: 'Someone else changed this project' });
      await banner.waitFor();
      await paste(one, 'Made while it asks 10 x 10 cm', 'Canvas');
      // The other saves again, and again: each time what it had kept in this browser meanwhile is dropped.
      for (const name of ['Of the other, twice', 'Of the other, three times']) {
        await other.getByLabel('Project name').fill(name);
        await expect.poll(async () => (await storedNames(app.server.url)).includes(name), soon).toBe(true);
      }
      await one.reload();
      await banner.waitFor();
      expect(await nameOf(one)).toBe('Of the one');
      await banner.getByRole('button', { name: 'Join, and keep mine for these' }).click();
      await untilSaved(one);
      await other.reload();
      await expect.poll(() => nameOf(other), soon).toBe('Of the one');
      await other.getByRole('list', { name: 'Your pieces' }).getByText('Made while it asks').waitFor();
      expect(faults()).toEqual([]);
      await context.close();
    });
  },
);

async function storedNames(url: string): Promise<string[]> {
  const projects = (await (await fetch(new URL('/api/projects', url))).json()) as { name: string }[];
  return projects.map(({ name }) => name);
}
