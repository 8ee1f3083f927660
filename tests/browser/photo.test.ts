import type { Browser, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { hasBrowser, newProject, storedProject, untilSaved, withServerAndBrowser } from './support.ts';

type XY = readonly [number, number];

/** A camera that looks at the table from a slant: millimetres on the table to pixels of the photo. */
const seen = ([x, y]: XY): XY => {
  const depth = 1 + 0.0006 * y + 0.0001 * x;
  return [120 + (1.9 * x + 0.1 * y) / depth, 820 - (1.6 * y + 0.05 * x) / depth];
};
/** A sheet of A4 (ISO 216) and beside it a strap end of ours, 180 × 240. */
const SHEET: readonly XY[] = [
  [0, 297],
  [210, 297],
  [210, 0],
  [0, 0],
];
const PIECE: readonly XY[] = [
  [240, 20],
  [420, 20],
  [420, 180],
  [330, 260],
  [240, 180],
];

/** Photographs the table: a page that shows what the camera sees. */
async function photograph(browser: Browser): Promise<Buffer> {
  const page = await browser.newPage({ viewport: { width: 1_200, height: 900 } });
  const polygon = (ring: readonly XY[], fill: string): string =>
    `<polygon points="${ring.map((point) => seen(point).join(',')).join(' ')}" fill="${fill}"/>`;
  await page.setContent(
    `<body style="margin:0;background:#4a5a50"><svg width="1200" height="900">${polygon(SHEET, '#fff')}${polygon(PIECE, '#d8b070')}</svg>`,
  );
  const png = await page.screenshot();
  await page.close();
  return png;
}

/** Where a pixel of the photo stands on the screen. */
const onScreen = (page: Page, [x, y]: XY): Promise<{ x: number; y: number }> =>
  page.locator('svg.photo').evaluate(
    (svg, at) => {
      const matrix = (svg as SVGSVGElement).getScreenCTM();
      const point = new DOMPoint(at[0], at[1]).matrixTransform(matrix ?? undefined);
      return { x: point.x, y: point.y };
    },
    [x, y],
  );

describe.skipIf(!hasBrowser)(`a photo${hasBrowser ? '' : ' (skipped: no Chromium here)'}`, () => {
  const app = withServerAndBrowser();

  it('becomes a piece in true size, by pointer and by keys', async () => {
    const { page, context, faults } = await app.open();
    await newProject(page);
    await page.getByRole('button', { name: 'Bring in a drawing' }).click();
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'strap-end.png', mimeType: 'image/png', buffer: await photograph(app.browser) });
    await page.getByText('0 corners set').waitFor();
    for (const [i, point] of SHEET.entries()) {
      const handle = await page.getByRole('button', { name: `Corner ${i + 1} of the sheet` }).boundingBox();
      const to = await onScreen(page, seen(point));
      await page.mouse.move(
        (handle?.x ?? 0) + (handle?.width ?? 0) / 2,
        (handle?.y ?? 0) + (handle?.height ?? 0) / 2,
      );
      await page.mouse.down();
      await page.mouse.move(to.x - 3, to.y - 3);
      await page.mouse.move(to.x, to.y);
      await page.mouse.up();
    }
    // Without dragging: a corner is pressed, then its place.
    const first = page.getByRole('button', { name: 'Corner 1 of the sheet' });
    await first.click();
    expect(await first.getAttribute('aria-pressed')).toBe('true');
    const place = await onScreen(page, seen(SHEET[0]!));
    await page.mouse.click(place.x + 40, place.y + 40);
    const moved = (await first.locator('.photo-dot').boundingBox())!;
    expect(moved.x).toBeCloseTo(place.x + 40, -1);
    await first.click();
    await page.mouse.click(place.x, place.y);
    await page.getByText('0 corners set').waitFor();
    // Clicked beside the corners, the points come onto them.
    for (const point of PIECE) {
      const { x, y } = await onScreen(page, seen(point));
      await page.mouse.click(x + 3, y - 3);
    }
    await page.getByText(/off by .* at most/).waitFor();
    // A corner too many, moved by keys and taken away again.
    await page.getByRole('button', { name: 'Add a corner' }).click();
    const sixth = page.getByRole('button', { name: 'Corner 6 of the outline' });
    await sixth.focus();
    const before = await sixth.boundingBox();
    await page.keyboard.press('ArrowRight');
    expect((await sixth.boundingBox())?.x).toBeGreaterThan(before?.x ?? Number.POSITIVE_INFINITY);
    await page.getByRole('button', { name: 'Remove the last corner' }).click();

    await page.getByRole('button', { name: 'Take this outline' }).click();
    await page.getByRole('button', { name: 'Add 1 piece' }).click();
    await page.getByRole('heading', { name: 'strap-end' }).or(page.getByText('strap-end')).first().waitFor();
    await untilSaved(page);
    const project = await storedProject(page);
    const outline = project.pieces[0]?.outline ?? [];
    expect(outline).toHaveLength(5);
    const across = Math.max(...outline.map(([x]) => x));
    const up = Math.max(...outline.map(([, y]) => y));
    // A pixel of the screen is some millimetre here.
    expect(Math.abs(across - 180)).toBeLessThan(1);
    expect(Math.abs(up - 240)).toBeLessThan(1);
    expect(faults).toEqual([]);
    await context.close();
  });
});
