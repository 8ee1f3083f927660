/**
 * The reader against Chromium's own rendering of our fixtures: boxes of what the browser draws, sampled along its
 * outlines (`getPointAtLength`, `getScreenCTM`) or, for clones, from `getBBox`.
 */
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type ReadDrawing, readSvg } from '../../pattern/reading/index.ts';
import { ROOT } from '../support/sharedFolder.ts';
import { hasBrowser, launch } from './support.ts';

interface PixelBox {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Runs in the page: box of an element in CSS pixels from the drawing's upper left corner. */
function boxInPage(id: string): PixelBox {
  const element = document.getElementById(id) as unknown as SVGGraphicsElement;
  const root = document.documentElement as unknown as SVGSVGElement;
  const matrix = element.getScreenCTM() as DOMMatrix;
  const corner = root.getBoundingClientRect();
  const xs: number[] = [];
  const ys: number[] = [];
  const add = (x: number, y: number): void => {
    xs.push(matrix.a * x + matrix.c * y + matrix.e - corner.left);
    ys.push(matrix.b * x + matrix.d * y + matrix.f - corner.top);
  };
  if ('getTotalLength' in element) {
    const shape = element as SVGGeometryElement;
    const length = shape.getTotalLength();
    for (let i = 0; i <= 5_000; i++) {
      const point = shape.getPointAtLength((length * i) / 5_000);
      add(point.x, point.y);
    }
  }
  // Straight sides meet in corners that samples step over; the box has them when nothing is turned.
  if (
    !('getTotalLength' in element) ||
    (matrix.b === 0 && matrix.c === 0) ||
    (matrix.a === 0 && matrix.d === 0)
  ) {
    const box = element.getBBox();
    add(box.x, box.y);
    add(box.x + box.width, box.y + box.height);
  }
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
}

/** A sample may miss a corner by half a step; arcs become cubics in the browser, 0.03 % of the radius off. */
const WITHIN_MM = 0.06;

describe.skipIf(!hasBrowser)(
  `boxes as Chromium draws them${hasBrowser ? '' : ' (skipped: no Chromium here)'}`,
  () => {
    let browser: Browser;
    beforeAll(async () => {
      browser = await launch();
    });
    afterAll(async () => {
      await browser?.close();
    });

    test.each([
      ['saddle-roll.svg', ['keeper-1/keeper', 'keeper-2/keeper-1/keeper']],
      ['turns-and-windows.svg', ['badge-1/in-badge']],
      ['needs-mending.svg', []],
    ])('%s', async (name, straightClones) => {
      const path = `${ROOT}fixtures/patterns/${name}`;
      const drawing = readSvg(readFileSync(path), name) as ReadDrawing;
      expect(drawing.ok).toBe(true);
      const page = await browser.newPage();
      await page.goto(pathToFileURL(path).href);
      let compared = 0;
      for (const outline of drawing.outlines) {
        // Turned clones can't be asked for their outline; parts of one element share its box.
        const straight = straightClones.includes(outline.id);
        if (outline.clone ? !straight : outline.id !== outline.elementId) continue;
        if (
          drawing.outlines.some(({ id }) => id === `${outline.id}.2`) ||
          outline.mending?.kind === 'crossing mended'
        )
          continue;
        const seen = await page.evaluate(boxInPage, outline.id.split('/')[0] as string);
        const mm = 25.4 / 96;
        const { box } = outline;
        const pairs = [
          [box.minX, seen.left * mm],
          [box.maxX, seen.right * mm],
          [drawing.page.heightMm - box.maxY, seen.top * mm],
          [drawing.page.heightMm - box.minY, seen.bottom * mm],
        ] as const;
        for (const [ours, theirs] of pairs)
          expect(Math.abs(ours - theirs), `${outline.id}: ${ours} and ${theirs}`).toBeLessThan(WITHIN_MM);
        compared += 1;
      }
      expect(compared).toBeGreaterThanOrEqual(3);
      await page.close();
    });
  },
);
