import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import {
  hasBrowser,
  newProject,
  openPage,
  paste,
  TestServer,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

describe.skipIf(!hasBrowser)(
  `a backup of everything${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('is saved, and restored on another machine and over what is there', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Strap 4 x 60 cm (2)', 'Canvas');
      await page.getByLabel('Project name').fill('In the backup');
      await untilSaved(page);
      await page.getByRole('button', { name: 'Projects', exact: true }).click();
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: 'Save a backup' }).click(),
      ]);
      expect(download.suggestedFilename()).toMatch(/^clothlay-backup-\d{4}-\d\d-\d\d\.jsonl\.gz$/);
      const file = {
        name: download.suggestedFilename(),
        mimeType: 'application/gzip',
        buffer: await readFile(await download.path()),
      };
      const part = page.getByRole('region', { name: 'Backup of everything' });
      await part.locator('input[type=file]').setInputFiles(file);
      await part.getByText('Everything in it is here already.').waitFor();

      const other = await TestServer.start();
      const there = await openPage(app.browser, other.url);
      await there.page.getByRole('button', { name: 'Projects', exact: true }).click();
      const target = there.page.getByRole('region', { name: 'Backup of everything' });
      await target
        .locator('input[type=file]')
        .setInputFiles({ ...file, buffer: file.buffer.subarray(0, file.buffer.length / 2) });
      await target
        .getByRole('alert')
        .getByText(/cut off/)
        .waitFor();
      await target.locator('input[type=file]').setInputFiles(file);
      await target.getByText(/Back again: .*In the backup/).waitFor();
      await there.page.getByRole('button', { name: 'Open In the backup' }).click();
      await there.page
        .getByRole('list', { name: 'Your pieces' })
        .getByText('Strap', { exact: true })
        .waitFor();
      expect([...faults, ...there.faults]).toEqual([]);
      await Promise.all([context.close(), there.context.close()]);
      await other.close();
    });
  },
);
