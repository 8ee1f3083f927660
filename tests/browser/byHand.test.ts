import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { pngAddress } from '../support/png.ts';
import {
  addCloth,
  DESK,
  hasBrowser,
  newProject,
  PHONE,
  paste,
  step,
  untilLaid,
  untilSaved,
  withServerAndBrowser,
} from './support.ts';

/** A project of two flaps and a tab, laid out on a roll, its layout open to be arranged. */
async function openBench(page: Page, rules: { turn?: string; fromBack?: boolean } = {}): Promise<void> {
  await newProject(page);
  await paste(page, '2 @ 30 x 20 cm flap\n1 @ 10 x 5 cm tab', 'canvas');
  await addCloth(page, 'canvas', 'roll');
  if (rules.turn) await page.getByLabel('Pieces may be turned').selectOption({ label: rules.turn });
  if (rules.fromBack) await page.getByRole('checkbox', { name: /from the back/i }).check();
  await step(page, 'Lay plan').click();
  await page.getByLabel('Look for').selectOption('short');
  await page.getByRole('button', { name: 'Lay out everything' }).click();
  await untilLaid(page);
  await page.getByRole('button', { name: 'Arrange by hand' }).first().click();
  await page.locator('.hand-view').waitFor();
}

/** Pockets on motifs that recur every 200 mm along and 160 mm across. */
const ON_MOTIFS = {
  format: 'clothlay-project',
  version: 2,
  name: 'On motifs',
  pieces: [
    {
      id: 'p',
      name: 'Pocket',
      outline: [
        [0, 0],
        [180, 0],
        [180, 160],
        [0, 160],
      ],
      motif: { at: [90, 80], onMotif: [0, 0], toleranceMm: 0 },
      grainDeg: 0,
      topDeg: 90,
    },
  ],
  materials: [{ id: 'm', name: 'Print' }],
  cutList: [{ pieceId: 'p', materialId: 'm', plain: 2 }],
  cloths: [
    {
      kind: 'roll',
      id: 'c',
      name: 'Foxes',
      materialId: 'm',
      widthMm: 1100,
      squaringMm: 0,
      squaringEndMm: 0,
      repeat: { alongMm: 200, acrossMm: 160, fromEndMm: 60, fromSelvedgeMm: 90 },
    },
  ],
};

const pieceOf = (page: Page, name: RegExp): Locator =>
  page.locator('.hand-view').getByRole('button', { name });
const rules = (page: Page): Promise<string | null> =>
  page.getByRole('region', { name: 'Rules' }).textContent();
const along = (page: Page): Promise<number> => page.getByLabel('From the cut end').inputValue().then(Number);

async function drag(page: Page, piece: Locator, dx: number, dy: number, alt = false): Promise<void> {
  const box = (await piece.boundingBox())!;
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  if (alt) await page.keyboard.down('Alt');
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + dx, y + dy, { steps: 6 });
  // A dragged piece is drawn once a frame.
  await page.evaluate(
    () => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))),
  );
  await page.mouse.up();
  if (alt) await page.keyboard.up('Alt');
}

describe.skipIf(!hasBrowser)(
  `a lay arranged by hand${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    const app = withServerAndBrowser();

    it('drags a piece along the cloth, says what breaks a rule, and takes it all back', async () => {
      const { page, context, faults } = await app.open();
      await openBench(page);
      expect(await rules(page)).toContain('Every piece lies as it may');
      const tab = pieceOf(page, /^tab/);
      await tab.click();
      const before = await along(page);
      await drag(page, tab, 160, 0);
      expect(await along(page)).toBeGreaterThan(before + 5);
      expect(await rules(page)).toContain('Every piece lies as it may');

      await page.getByRole('button', { name: 'Close the gaps' }).click();
      await tab.click();
      expect(await along(page)).toBeLessThan(before + 5);
      await page.getByRole('button', { name: /^Undo: close the gaps/ }).click();

      // On top of a flap: held freely it stays there, and the rule is named with both pieces.
      const [from, to] = [(await tab.boundingBox())!, (await pieceOf(page, /^flap, 1 of/).boundingBox())!];
      await drag(
        page,
        tab,
        to.x + to.width / 2 - from.x - from.width / 2,
        to.y + to.height / 2 - from.y - from.height / 2,
        true,
      );
      expect(await rules(page)).toMatch(/overlap by/);
      expect(await page.locator('.hand-view g.piece.faulty').count()).toBeGreaterThanOrEqual(2);

      await page.getByRole('button', { name: /^Undo: move/ }).click();
      await page.getByRole('button', { name: /^Undo: move/ }).click();
      expect(await rules(page)).toContain('Every piece lies as it may');
      await pieceOf(page, /^tab/).click();
      expect(await along(page)).toBe(before);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('is done by keys and numbers alone, and is still there after a reload', async () => {
      const { page, context, faults } = await app.open();
      await openBench(page);
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'tab' });
      await page.getByLabel('From the cut end').fill('80');
      await page.getByLabel('From the cut end').press('Enter');
      expect(await along(page)).toBe(80);
      await pieceOf(page, /^tab/).focus();
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('Shift+ArrowRight');
      expect(await along(page)).toBeCloseTo(81.1, 6);
      await page.keyboard.press('l');
      await page.getByRole('button', { name: 'Let it go', pressed: true }).waitFor();
      await page.keyboard.press('.');
      await page.keyboard.press('Delete');
      const parked = page.getByRole('region', { name: 'Beside the cloth' });
      expect(await parked.getByRole('listitem').count()).toBe(1);
      await untilSaved(page);

      await page.reload();
      await page.locator('.hand-view').waitFor();
      expect(await parked.getByRole('listitem').count()).toBe(1);
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'tab' });
      expect(await along(page)).toBeCloseTo(81.1, 6);
      await page.getByRole('button', { name: 'Let it go', pressed: true }).waitFor();
      await parked.getByRole('button', { name: 'Put on the cloth' }).click();
      expect(await parked.textContent()).toContain('Every piece lies on the cloth');
      expect(await rules(page)).toContain('Every piece lies as it may');

      // The layout that was found is still the latest one; the arranged one is kept under its name.
      await page.getByRole('link', { name: 'Back to the lay plan' }).click();
      await page.getByRole('region', { name: 'Kept plans' }).getByLabel('Name of the plan').waitFor();
      expect(await page.locator('.material-plan .result').count()).toBe(1);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('packs the rest around a locked piece, away from the server', async () => {
      const { page, context, faults } = await app.open();
      await openBench(page);
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'tab' });
      await page.getByLabel('From the cut end').fill('60');
      await page.getByLabel('From the cut end').press('Enter');
      await page.getByRole('button', { name: 'Lock here' }).click();
      await page.keyboard.press('.');
      await page
        .getByRole('combobox', { name: 'Piece', exact: true })
        .selectOption({ label: 'flap, 1 of 2' });
      await page.getByRole('button', { name: 'Take off the cloth' }).click();
      await context.setOffline(true);
      await page.getByRole('button', { name: 'Pack the rest' }).click();
      await page.getByText('Every piece lies on the cloth').waitFor({ timeout: 30_000 });
      await page.getByRole('button', { name: /^Undo: pack the rest/ }).waitFor({ timeout: 30_000 });
      expect(await rules(page)).toContain('Every piece lies as it may');
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'tab' });
      expect(await along(page)).toBe(60);
      await context.setOffline(false);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('locks what lies in a region, drawn or given by numbers, and packs the rest around it', async () => {
      const { page, context, faults } = await app.open();
      await openBench(page);
      const locked = page.locator('.hand-view g.piece.locked');
      const region = page.getByRole('region', { name: 'Lock a region' });
      // The tab goes far away by itself; a rectangle is drawn around it, beginning on a flap's side of the cloth.
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'tab' });
      await page.getByLabel('From the cut end').fill('60');
      await page.getByLabel('From the cut end').press('Enter');
      await region.getByRole('button', { name: 'Draw it' }).click();
      const box = (await pieceOf(page, /^tab/).boundingBox())!;
      await page.mouse.move(box.x - 8, box.y - 8);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width + 8, box.y + box.height + 8, { steps: 4 });
      await page.locator('.hand-view .region').waitFor();
      await page.mouse.up();
      await locked.first().waitFor();
      expect(await locked.count()).toBe(1);
      expect(await locked.getAttribute('aria-label')).toMatch(/^tab/);
      expect(await page.locator('.hand-view .region').count()).toBe(0);
      // Locked is told by a sign, not by a line alone.
      await locked.locator('.lock-sign').waitFor();

      // The rest is packed anew; the tab stays where it was put.
      await page
        .getByRole('combobox', { name: 'Piece', exact: true })
        .selectOption({ label: 'flap, 1 of 2' });
      await page.getByLabel('From the cut end').fill('90');
      await page.getByLabel('From the cut end').press('Enter');
      await page.getByRole('button', { name: 'Pack the rest' }).click();
      await page.getByRole('button', { name: /^Undo: pack the rest/ }).waitFor({ timeout: 30_000 });
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'tab' });
      expect(await along(page)).toBe(60);

      // The same by keys: a region by its numbers, from the cut end to half a metre on.
      await region.getByRole('button', { name: 'Let all go' }).press('Enter');
      expect(await locked.count()).toBe(0);
      await region.getByText('By numbers').press('Enter');
      await region.getByLabel('Along, to').fill('50');
      await region.getByLabel('Along, to').press('Enter');
      await region.getByRole('button', { name: 'Lock 2 pieces' }).press('Enter');
      expect(await locked.count()).toBe(2);
      await page.getByRole('button', { name: /^Undo: lock or unlock 2 pieces/ }).click();
      expect(await locked.count()).toBe(0);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('keeps several layouts under names, side by side, and goes back to one of them', async () => {
      const { page, context, faults } = await app.open();
      await openBench(page);
      await page.getByLabel('Name of the plan').fill('Roomy');
      await page.getByLabel('Name of the plan').press('Enter');
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'tab' });
      await page.getByLabel('From the cut end').fill('80');
      await page.getByLabel('From the cut end').press('Enter');
      await page.getByRole('link', { name: 'Back to the lay plan' }).click();
      await page.getByRole('button', { name: 'Arrange by hand' }).first().click();
      await page.locator('.hand-view').waitFor();
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'tab' });
      await page.getByRole('button', { name: 'Take off the cloth' }).click();
      await page.getByRole('link', { name: 'Back to the lay plan' }).click();

      const table = page.getByRole('region', { name: 'canvas: plans side by side' });
      const rows = await table.getByRole('row').allTextContents();
      expect(rows).toHaveLength(4);
      expect(rows[1]).toMatch(/^Latest layout.*least.*whole/);
      expect(rows[2]).toMatch(/^Roomy.*cm more.*whole/);
      expect(rows[3]).toMatch(/^canvas, by hand.*1 piece without a place/);

      const bought = page.getByRole('region', { name: 'Altogether' });
      const before = await bought.textContent();
      await page.getByRole('button', { name: 'Cut from this one' }).first().click();
      // What is bought is explained where it stands: 80 cm and a tab, in steps of ten.
      await bought.getByText(/0\.90 m: .* for the pieces .*, rounded up to whole 10 cm steps/).waitFor();
      await page.getByRole('button', { name: /^Undo: cut from Roomy/ }).click();
      await expect.poll(() => bought.textContent()).toBe(before);
      expect(await page.getByRole('button', { name: 'Cut from this one' }).count()).toBe(2);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('moves a piece of cloth that is cut from the back where the hand moves it', async () => {
      const { page, context, faults } = await app.open();
      await openBench(page, { fromBack: true });
      const tab = pieceOf(page, /^tab/);
      const before = (await tab.boundingBox())!;
      await drag(page, tab, 120, -60, true);
      const after = (await tab.boundingBox())!;
      // To a few pixels: the drawing is fitted anew to the longer lay.
      expect(Math.abs(after.x - before.x - 120)).toBeLessThan(4);
      expect(Math.abs(after.y - before.y + 60)).toBeLessThan(4);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('shows the print under the pieces, and a piece on a motif catches on its motif there', async () => {
      const { page, context, faults } = await app.open();
      const printPicture = pngAddress(2, [
        [200, 60, 60],
        [240, 230, 200],
        [240, 230, 200],
        [60, 160, 90],
      ]);
      const response = await page.request.post(`${app.server.url}/api/projects`, {
        data: { project: { ...ON_MOTIFS, cloths: ON_MOTIFS.cloths.map((c) => ({ ...c, printPicture })) } },
      });
      expect(response.status(), await response.text()).toBe(201);
      const { id } = (await response.json()) as { id: string };
      await page.goto(`${app.server.url}/#/${id}/plan`);
      await expect.poll(() => page.title(), { timeout: 20_000 }).toContain('On motifs');
      await page
        .getByRole('region', { name: 'Lay out', exact: true })
        .getByLabel('Look for')
        .selectOption('short');
      await page.getByRole('button', { name: 'Lay out everything' }).click();
      await untilLaid(page);
      await page.getByRole('button', { name: 'Arrange by hand' }).click();
      const pocket = pieceOf(page, /^Pocket/).first();
      await pocket.click();
      // The corner of a piece is so far from its motif, in the middle of it; motifs lie 200 mm apart from 60 mm on.
      const offMotif = async (): Promise<number> => ((await along(page)) * 10 + 90 - 60) % 200;
      expect(await offMotif()).toBeCloseTo(0, 3);
      await drag(page, pocket, 95, 0);
      expect(await offMotif()).toBeCloseTo(0, 3);
      expect(await rules(page)).toContain('Every piece lies as it may');

      // A picture's middle is a motif's: the cross of the plan lies where the pattern's tile says.
      const ground = page.locator('.print-ground path.print');
      expect(await ground.count()).toBe(1);
      const where = await page.evaluate(() => {
        const path = document.querySelector<SVGPathElement>('.print-ground path.print')!;
        const pattern = document.querySelector<SVGPatternElement>('.hand-view pattern')!;
        const [x, y, w, h] = ['x', 'y', 'width', 'height'].map((name) => Number(pattern.getAttribute(name)));
        const middle = new DOMPoint(x! + w! / 2, y! + h! / 2).matrixTransform(path.getScreenCTM()!);
        const crosses = document.querySelector<SVGPathElement>('.hand-view .repeat')!;
        const d = crosses.getAttribute('d')!.split('M').slice(1);
        // Of each cross the first line lies along: its middle is the motif.
        const motifs = d
          .map((line) => line.match(/-?[\d.]+/g)!.map(Number))
          .map(([ax, ay, bx, by]) => new DOMPoint((ax! + bx!) / 2, (ay! + by!) / 2))
          .map((point) => point.matrixTransform(crosses.getScreenCTM()!));
        const [tileX, tileY] = [w!, h!].map((mm) => mm * path.getScreenCTM()!.a);
        const off = (value: number, step: number) => Math.abs(value / step - Math.round(value / step)) * step;
        return motifs.map((at) => Math.hypot(off(at.x - middle.x, tileX!), off(at.y - middle.y, tileY!)));
      });
      expect(where.length).toBeGreaterThan(2);
      for (const px of where) expect(px).toBeLessThan(0.5);
      await page.getByRole('checkbox', { name: 'Show it under the pieces' }).uncheck();
      expect(await ground.count()).toBe(0);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('turns a piece by its handle, finely with Alt, by keys and with a second finger', async () => {
      const context = await app.browser.newContext({ viewport: DESK, hasTouch: true });
      const { page, faults } = await app.open({ context });
      await openBench(page, { turn: 'At any angle' });
      const tab = pieceOf(page, /^tab/);
      // Room around it, so that no turn is in the way of anything.
      await page.getByRole('combobox', { name: 'Piece', exact: true }).selectOption({ label: 'tab' });
      await page.getByLabel('From the cut end').fill('60');
      await page.getByLabel('From the cut end').press('Enter');
      await page.getByLabel('From the selvedge').fill('60');
      await page.getByLabel('From the selvedge').press('Enter');
      const angle = (): Promise<number> => page.getByLabel('Turned by').inputValue().then(Number);
      const before = await angle();

      const turnByHandle = async (degrees: number, alt: boolean): Promise<void> => {
        const [box, dot] = [
          (await tab.locator('.piece-edge').boundingBox())!,
          (await page.locator('.turn-dot').boundingBox())!,
        ];
        const [cx, cy] = [box.x + box.width / 2, box.y + box.height / 2];
        const [hx, hy] = [dot.x + dot.width / 2 - cx, dot.y + dot.height / 2 - cy];
        const by = (-degrees * Math.PI) / 180;
        if (alt) await page.keyboard.down('Alt');
        await page.mouse.move(cx + hx, cy + hy);
        await page.mouse.down();
        await page.mouse.move(
          cx + hx * Math.cos(by) - hy * Math.sin(by),
          cy + hx * Math.sin(by) + hy * Math.cos(by),
          { steps: 4 },
        );
        await page.mouse.up();
        if (alt) await page.keyboard.up('Alt');
      };
      await turnByHandle(32, false);
      expect(await angle()).toBeCloseTo((before + 30) % 360, 6);
      await turnByHandle(7, true);
      expect(Math.abs((await angle()) - ((before + 37) % 360))).toBeLessThanOrEqual(0.5);
      const fine = await angle();
      await tab.focus();
      await page.keyboard.press('Alt+KeyR');
      expect(await angle()).toBeCloseTo((fine + 1) % 360, 6);
      await page.keyboard.press('Control+z');
      expect(await angle()).toBeCloseTo(fine, 6);

      const devtools = await context.newCDPSession(page);
      const box = (await tab.locator('.piece-edge').boundingBox())!;
      const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
      const touch = (type: string, points: readonly (readonly [number, number])[]) =>
        devtools.send('Input.dispatchTouchEvent', {
          type: type as 'touchStart',
          touchPoints: points.map(([px, py], id) => ({ x: px, y: py, id })),
        });
      await touch('touchStart', [[x, y]]);
      await touch('touchStart', [
        [x, y],
        [x + 80, y],
      ]);
      await touch('touchMove', [
        [x, y],
        [x + 56, y - 56],
      ]);
      await page.evaluate(
        () => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))),
      );
      await touch('touchEnd', [[x, y]]);
      await touch('touchEnd', []);
      await expect.poll(angle).toBeCloseTo((fine + 45) % 360, 0);
      await page.getByRole('button', { name: /^Undo: turn tab/ }).click();
      expect(await angle()).toBeCloseTo(fine, 6);
      expect(faults).toEqual([]);
      await context.close();
    });

    it('fits on a phone', async () => {
      const { page, context, faults } = await app.open({ viewport: PHONE });
      await openBench(page);
      const wide = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(wide).toBe(0);
      expect(faults).toEqual([]);
      await context.close();
    });
  },
);
