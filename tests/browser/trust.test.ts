import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import {
  addCloth,
  hasBrowser,
  newProject,
  openPage,
  paste,
  step,
  TWENTY_SIZES,
  untilLaid,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

describe.skipIf(!hasBrowser)(
  `nothing that was made is lost${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('keeps a project and its plan through a reload', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Panel 30 x 40 cm (2)', 'Canvas');
      await addCloth(page, 'Canvas', 'roll');
      await step(page, 'Lay plan').click();
      await page.getByLabel('Look for').selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await untilLaid(page, 30_000);
      const bought = await page.locator('.bought-figure').textContent();
      await untilSaved(page);
      await page.reload();
      await page.locator('.lay-view').waitFor();
      expect(await page.locator('.bought-figure').textContent()).toBe(bought);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('takes a running lay up again after a reload', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, TWENTY_SIZES, 'Canvas');
      await addCloth(page, 'Canvas', 'roll');
      await step(page, 'Lay plan').click();
      await page.getByLabel('Look for').selectOption('long');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await page.locator('.lay-view').waitFor();
      await untilSaved(page);
      await page.reload();
      await page.getByText(/Looking for better layouts/).waitFor();
      await page.getByRole('button', { name: 'Stop, keep the best' }).click();
      await page.locator('.progress', { hasText: 'Stopped' }).waitFor();
      await page.locator('.lay-view').waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });

    it('survives a server that is killed: what was saved is there, what was not is sent later', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Saved panel 30 x 40 cm', 'Canvas');
      await untilSaved(page);
      const { port } = app.server;
      await app.server.kill();
      await paste(page, 'Later panel 20 x 10 cm', 'Canvas');
      await page.getByText('Not saved: no connection').waitFor();
      await page
        .getByRole('alert')
        .getByText(/Your work is kept in this browser/)
        .waitFor();
      await app.server.run(port);
      await untilSaved(page);
      await page.reload();
      const pieces = page.getByRole('list', { name: 'Your pieces' });
      await pieces.getByText('Saved panel').waitFor();
      await pieces.getByText('Later panel').waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });

    it('sends work of a visit that ended while the server was away', async () => {
      const { page, context } = await app.open();
      await newProject(page);
      await untilSaved(page);
      const address = page.url();
      const { port } = app.server;
      await app.server.kill();
      await paste(page, 'Left behind 20 x 10 cm', 'Canvas');
      await page.getByText('Not saved: no connection').waitFor();
      await page.close();
      await app.server.run(port);
      const back = await openPage(app.browser, address, { context });
      await back.page.getByText('Work that had not been sent when you left is back.').waitFor();
      await untilSaved(back.page);
      const elsewhere = await openPage(app.browser, address);
      await elsewhere.page.getByRole('list', { name: 'Your pieces' }).getByText('Left behind').waitFor();
      expect([...back.faults, ...elsewhere.faults]).toEqual([]);
      await Promise.all([context.close(), elsewhere.context.close()]);
    });

    it('takes steps back and makes them again, by button and by key', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Strap 4 x 60 cm (2)\nTab 5 x 5 cm', 'Canvas');
      const pieces = page.getByRole('list', { name: 'Your pieces' });
      await pieces.getByRole('link', { name: /Strap/ }).click();
      await page.getByRole('article', { name: 'Strap' }).getByRole('button', { name: 'Remove' }).click();
      expect(await pieces.getByRole('link').count()).toBe(1);
      await page.getByRole('button', { name: 'Undo: remove Strap' }).click();
      await pieces.getByRole('link', { name: /Strap/ }).waitFor();
      await page.keyboard.press('Control+Shift+z');
      await expect.poll(() => pieces.getByRole('link').count()).toBe(1);
      await page.keyboard.press('Control+z');
      await page.keyboard.press('Control+z');
      await page.getByRole('heading', { name: 'Start with your pieces' }).waitFor();
      await untilSaved(page);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('takes steps back after a reload, and goes back to an earlier version', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Strap 4 x 60 cm', 'Canvas');
      await untilSaved(page);
      await paste(page, 'Tab 5 x 5 cm', 'Canvas');
      await untilSaved(page);
      const pieces = page.getByRole('list', { name: 'Your pieces' });
      // Steps are written a quarter of a second after the last change, or as the page goes.
      await page.reload();
      await pieces.getByText('Tab').waitFor();
      await page.keyboard.press('Control+z');
      await expect.poll(() => pieces.getByRole('link').count()).toBe(1);
      await page.keyboard.press('Control+Shift+z');
      await expect.poll(() => pieces.getByRole('link').count()).toBe(2);
      await untilSaved(page);
      await page.getByRole('button', { name: 'Projects', exact: true }).click();
      await page.getByRole('button', { name: 'Earlier versions' }).click();
      const dialog = page.getByRole('dialog', { name: 'Earlier versions' });
      await dialog
        .getByRole('button', { name: /^Compare/ })
        .last()
        .click();
      await dialog
        .getByText(/added: .*Strap/)
        .first()
        .waitFor();
      await dialog.getByRole('button', { name: 'Go back to this version' }).click();
      await page.getByRole('heading', { name: 'Start with your pieces' }).waitFor();
      await page.keyboard.press('Control+z');
      await expect.poll(() => pieces.getByRole('link').count()).toBe(2);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('lets nobody overwrite somebody else unseen', async () => {
      const mine = await app.open();
      await newProject(mine.page);
      await paste(mine.page, 'First 10 x 10 cm', 'Canvas');
      await untilSaved(mine.page);
      const theirs = await openPage(app.browser, mine.page.url());
      await theirs.page.getByLabel('Project name').fill('Theirs');
      await untilSaved(theirs.page);
      await mine.page.getByLabel('Project name').fill('Mine');
      const banner = mine.page.getByRole('alert', { name: 'Someone else changed this project' });
      await banner.waitFor();
      await banner.getByRole('button', { name: 'Keep mine as a copy' }).click();
      await untilSaved(mine.page);
      expect(await mine.page.getByLabel('Project name').inputValue()).toBe('Mine (mine)');
      await theirs.page.reload();
      await expect.poll(() => theirs.page.getByLabel('Project name').inputValue()).toBe('Theirs');
      expect([...mine.faults, ...theirs.faults]).toEqual([]);
      await Promise.all([mine.context.close(), theirs.context.close()]);
    });

    it('saves a project to a file, opens it again, and refuses half a file with a clear word', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await paste(page, 'Strap 4 x 60 cm (2)', 'Canvas');
      await page.getByLabel('Project name').fill('To be carried');
      await untilSaved(page);
      await page.getByRole('button', { name: 'Projects', exact: true }).click();
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: 'Save to a file' }).click(),
      ]);
      const file = await readFile(await download.path(), 'utf8');
      const open = page.getByLabel('Open a file');
      await open.setInputFiles({
        name: 'half.json',
        mimeType: 'application/json',
        buffer: Buffer.from(file.slice(0, file.length / 2)),
      });
      await page.locator('dialog').getByRole('alert').waitFor();
      expect(await page.locator('dialog').getByRole('alert').textContent()).toMatch(
        /cut off|damaged|incomplete/,
      );
      await open.setInputFiles({
        name: download.suggestedFilename(),
        mimeType: 'application/json',
        buffer: Buffer.from(file),
      });
      await page.getByText('“To be carried” is open.').waitFor();
      await page.getByRole('list', { name: 'Your pieces' }).getByText('Strap').waitFor();
      expect(faults).toEqual([]);
      await context.close();
    });

    it('deletes a project and brings it back', async () => {
      const { page, context, faults } = await app.open();
      await newProject(page);
      await page.getByLabel('Project name').fill('Short lived');
      await untilSaved(page);
      await page.getByRole('button', { name: 'Projects', exact: true }).click();
      await page.getByRole('button', { name: 'Delete Short lived' }).click();
      await page.getByText('“Short lived” is deleted.').waitFor();
      expect(await page.getByLabel('Project name').inputValue()).not.toBe('Short lived');
      await page.locator('.message').getByRole('button', { name: 'Undo' }).click();
      await expect.poll(() => page.getByLabel('Project name').inputValue()).toBe('Short lived');
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);
