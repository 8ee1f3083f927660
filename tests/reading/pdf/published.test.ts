/** PDF files that people published, and one made for its traps: sizes and counts that their open check data state. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { findTestSquares, type ReadDrawing, readPdf } from '../../../pattern/reading/index.ts';
import { sharedFolder } from '../../support/sharedFolder.ts';
import { countOfSize, drawn, expectSize } from '../readings.ts';

const folder = sharedFolder();
const skipped = folder === null;

describe.skipIf(skipped)(
  `published PDF${skipped ? ' (skipped: no open check data at ../shared)' : ''}`,
  () => {
    const readFile = async (name: string): Promise<ReadDrawing> =>
      drawn(await readPdf(new Uint8Array(readFileSync(`${folder}inputs/${name}`)), name));

    // jarmokivekas/sewing, CC BY-SA 4.0.
    test('daypack-worksheet: one page of 2164.5 × 1993.5, scale bars exact, panels with and without allowance', async () => {
      const drawing = await readFile('daypack-worksheet.pdf');
      expect(drawing.page.widthMm).toBeCloseTo(2164.5, 1);
      expect(drawing.page.heightMm).toBeCloseTo(1993.5, 1);
      expect(countOfSize(drawing, 298.6, 435.6)).toBeGreaterThan(0);
      expect(countOfSize(drawing, 268.6, 405.6)).toBeGreaterThan(0);
      expect(countOfSize(drawing, 1200, 114.15)).toBeGreaterThan(0);
      expect(countOfSize(drawing, 120, 120, 0.15)).toBeGreaterThan(0);
      expect(drawing.texts.map(({ text }) => text)).toContain('Intermediate panel posterior section');
      const bars = findTestSquares(drawing).map(({ statedMm, measuredXMm }) => [statedMm, measuredXMm]);
      for (const size of [25.4, 1, 10, 100]) expect(bars).toContainEqual([size, expect.closeTo(size, 3)]);
    });

    test('bivy: a page of 20.2 × 19.7 m', async () => {
      const drawing = await readFile('bivy.pdf');
      expect(drawing.page.widthMm).toBeCloseTo(20_200, 0);
      // And one fill without a line round it.
      expect(drawing.outlines.filter(({ strokeMm }) => strokeMm > 0)).toHaveLength(154);
      expect(drawing.outlines).toHaveLength(155);
    });

    test('made-pdf-traps: squares stay 50 × 50 on pages 1, 3 and 5; what is hidden does not count', async () => {
      const drawing = await readFile('made-pdf-traps.pdf');
      for (const page of [1, 3, 5]) {
        const square = drawing.outlines.find(
          ({ pageNumber, heightMm }) => pageNumber === page && Math.abs(heightMm - 50) < 0.1,
        );
        expectSize(square, 50, 50, 0.01);
      }
      expect(drawing.pages).toHaveLength(5);
      expect(drawing.layers!.filter(({ read }) => !read)).toHaveLength(1);
      expect(countOfSize(drawing, 70, 45)).toBe(0);
      expect(drawing.outlines.filter(({ pageNumber }) => pageNumber === 5)).toHaveLength(1);
      expect(drawing.openLines).toMatchObject([{ dashed: true, lengthMm: expect.closeTo(100, 2) }]);
    });
  },
);
