import { existsSync } from 'node:fs';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawLay } from '../../pattern/plan/drawLay.ts';
import { drawingToSvg } from '../../pattern/plan/svg.ts';
import { textWidth } from '../../pattern/plan/text.ts';
import { type Role, STYLES } from '../../pattern/plan/tokens.ts';
import { SAMPLES } from './sampleLays.ts';

const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';
/** CSS: 96 pixels are one inch. */
const PX_PER_MM = 96 / 25.4;

/** What a browser makes of the file: an outside check on true size, on fitted words and on escaping. */
describe.skipIf(!existsSync(CHROMIUM))('in Chromium (left out where there is none)', () => {
  let browser: Browser;
  let page: Page;

  beforeAll(async () => {
    browser = await chromium.launch({
      executablePath: CHROMIUM,
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-background-networking',
        '--disable-sync',
        '--no-first-run',
      ],
    });
    page = await browser.newPage();
  }, 60_000);

  afterAll(async () => {
    await browser?.close();
  });

  async function show(name: keyof typeof SAMPLES) {
    const { lay, project } = SAMPLES[name]();
    const drawing = drawLay(lay, project, { page: 'a4', units: 'mm' });
    const svg = drawingToSvg(drawing);
    await page.goto(`data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}`);
    return drawing;
  }

  it.each(['singleLayer', 'twoSegments', 'remnant', 'elevenMetres'] as const)(
    'is true to scale: %s',
    async (name) => {
      const drawing = await show(name);
      const seen = await page.evaluate(() => {
        const svg = document.querySelector('svg')!;
        const width = (element: Element) => {
          const shape = element as SVGGraphicsElement;
          return shape.getBBox().width * shape.getScreenCTM()!.a;
        };
        return {
          page: [svg.getBoundingClientRect().width, svg.getBoundingClientRect().height] as const,
          bars: [...document.querySelectorAll('g.scale-bar')].map((bar) => ({
            lengthMm: Number((bar as SVGElement).dataset.lengthMm),
            px: width(bar.querySelector('path.scale-bar')!),
          })),
        };
      });
      expect(seen.page[0] / PX_PER_MM).toBeCloseTo(drawing.widthMm, 2);
      expect(seen.page[1] / PX_PER_MM).toBeCloseTo(drawing.heightMm, 2);
      expect(seen.bars).toHaveLength(2);
      for (const { lengthMm, px } of seen.bars) {
        // Coordinates in the file are rounded to a thousandth of a millimetre.
        expect(Math.abs(px / PX_PER_MM - lengthMm / drawing.scale)).toBeLessThan(0.003);
      }
    },
  );

  it.each(Object.keys(SAMPLES) as (keyof typeof SAMPLES)[])(
    'keeps words inside their pieces: %s',
    async (name) => {
      await show(name);
      const outside = await page.evaluate(() => {
        const found: string[] = [];
        for (const group of document.querySelectorAll('g.piece')) {
          const fill = group.querySelector('path') as SVGPathElement;
          for (const text of group.querySelectorAll('text')) {
            const box = text.getBBox();
            const size = Number(text.getAttribute('font-size'));
            const baseline = Number(text.getAttribute('y'));
            const turn = text.transform.baseVal.consolidate()?.matrix ?? new DOMMatrix();
            for (const x of [box.x, box.x + box.width]) {
              for (const y of [baseline - 0.72 * size, baseline + 0.2 * size]) {
                const at = new DOMPoint(x, y).matrixTransform(turn as DOMMatrix);
                if (!fill.isPointInFill(at)) found.push(text.textContent ?? '');
              }
            }
          }
        }
        return found;
      });
      // This machine's font for Japanese may be missing or of any width; names in it are not judged here.
      expect(outside.filter((text) => !/[\u3040-\u30ff\u4e00-\u9fff]/u.test(text))).toEqual([]);
    },
  );

  it('sets Latin texts no wider than was reckoned', async () => {
    await show('singleLayer');
    const seen = await page.evaluate(() =>
      [...document.querySelectorAll('text')].map((text) => ({
        text: text.textContent ?? '',
        role: text.getAttribute('class') ?? '',
        size: Number(text.getAttribute('font-size')),
        width: text.getComputedTextLength(),
      })),
    );
    expect(seen.length).toBeGreaterThan(100);
    for (const { text, role, size, width } of seen) {
      expect(role in STYLES).toBe(true);
      expect(width, text).toBeLessThanOrEqual(textWidth(text, size, role as Role) + 0.01);
    }
  });

  it('runs nothing that a name says', async () => {
    const alarms: string[] = [];
    const listen = (dialog: { message(): string; dismiss(): Promise<void> }) => {
      alarms.push(dialog.message());
      return dialog.dismiss();
    };
    page.on('dialog', listen);
    await show('oddNames');
    expect(await page.evaluate(() => document.querySelectorAll('script, img, b, here').length)).toBe(0);
    expect(await page.title()).toContain('"><img src=x onerror=alert(3)>');
    page.off('dialog', listen);
    expect(alarms).toEqual([]);
  });
});
