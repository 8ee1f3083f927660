/** What is drawn on pages of our own, each with sizes known by arithmetic. */
import { describe, expect, test } from 'vitest';
import { mm, square } from '../pdfText.ts';
import { expectSize, only } from '../readings.ts';
import { readContent } from './readParts.ts';

describe('what is drawn on a page', () => {
  test('a square where it stands, with its pen', async () => {
    const drawing = await readContent(`1 0 0 RG ${mm(0.5)} w ${square(30, 20, 50)}`);
    const outline = only(drawing);
    expectSize(outline, 50, 50, 1e-3);
    expect([outline.box.minX, outline.box.minY]).toEqual([expect.closeTo(30, 3), expect.closeTo(20, 3)]);
    expect(outline).toMatchObject({
      strokeMm: expect.closeTo(0.5, 3),
      strokeColour: '#ff0000',
      dashed: false,
      pageNumber: 1,
    });
    expect(drawing.page).toEqual({ widthMm: expect.closeTo(200, 6), heightMm: expect.closeTo(100, 6) });
    expect(drawing.scale).toMatchObject({ known: true, doubt: null });
    expect(drawing.warnings).toEqual([]);
  });

  test('transforms, saved and restored', async () => {
    const drawing = await readContent(
      `q 2 0 0 3 0 0 cm 0 1 -1 0 ${mm(40, 5)} cm ${square(0, 0, 10)} Q ${square(100, 50, 8)}`,
    );
    const sizes = drawing.outlines.map(({ widthMm, heightMm }) => [
      Math.round(widthMm),
      Math.round(heightMm),
    ]);
    expect(sizes).toEqual([
      [20, 30],
      [8, 8],
    ]);
  });

  test('a circle of four Béziers lies within 0.05 mm of them', async () => {
    const k = (4 / 3) * (Math.SQRT2 - 1) * 45;
    const drawing = await readContent(
      `${mm(95, 50)} m ${mm(95, 50 + k, 50 + k, 95, 50, 95)} c ${mm(50 - k, 95, 5, 50 + k, 5, 50)} c ${mm(5, 50 - k, 50 - k, 5, 50, 5)} c ${mm(50 + k, 5, 95, 50 - k, 95, 50)} c s`,
    );
    const { ring } = only(drawing);
    // The Bézier circle is at most 0.027 % too large (0.0123 mm here).
    for (let i = 0; i < ring.length; i++) {
      const [a, b] = [ring[i]!, ring[(i + 1) % ring.length]!];
      const middle = Math.hypot((a[0] + b[0]) / 2 - 50, (a[1] + b[1]) / 2 - 50);
      expect(Math.abs(middle - 45)).toBeLessThan(0.05);
    }
  });

  test('filled first and stroked after is one outline', async () => {
    const outline = only(await readContent(`0.5 g ${square(10, 10, 40, 'f')} 0 G ${square(10, 10, 40)}`));
    expect(outline.strokeColour).toBe('#000000');
    expect(outline.fillColour).toMatch(/^#[78]/);
  });

  test('dashes are told, lines joined end to end', async () => {
    const drawing = await readContent(
      `[4 2] 0 d ${mm(10, 10)} m ${mm(60, 10)} l S [] 0 d ${mm(10, 20)} m ${mm(60, 20)} l S ${mm(60, 20)} m ${mm(60, 70)} l S ${mm(60, 70)} m ${mm(10, 20)} l S`,
    );
    expectSize(only(drawing), 50, 50, 1e-3);
    expect(drawing.openLines).toMatchObject([{ dashed: true, lengthMm: expect.closeTo(50, 3) }]);
  });

  test('fills that stand for lines: a frame of a ring within a ring, four strips, a single strip', async () => {
    const ring = `${mm(10, 10, 50, 50)} re ${mm(10.7, 10.7, 48.6, 48.6)} re f* `;
    const strips = `${mm(100, 10, 60, 0.7)} re f ${mm(100, 49.3, 60, 0.7)} re f ${mm(100, 10, 0.7, 40)} re f ${mm(159.3, 10, 0.7, 40)} re f `;
    const drawing = await readContent(`${ring}${strips}${mm(10, 80, 80, 0.7)} re f`);
    const [joined, frame] = [...drawing.outlines].sort((p, q) => q.widthMm - p.widthMm);
    expect(drawing.outlines).toHaveLength(2);
    expectSize(frame, 49.3, 49.3, 0.01);
    expect(frame).toMatchObject({ strokeMm: expect.closeTo(0.7, 2), outerWidthMm: expect.closeTo(50, 2) });
    expectSize(joined, 59.3, 39.3, 0.01);
    expect(drawing.openLines).toMatchObject([
      { lengthMm: expect.closeTo(80, 2), strokeMm: expect.closeTo(0.7, 2) },
    ]);
  });

  test('a white sheet under everything is no piece', async () => {
    expectSize(
      only(await readContent(`1 g ${mm(0, 0, 200, 100)} re f 0 g ${square(10, 10, 30)}`)),
      30,
      30,
      1e-3,
    );
  });

  test('words with their place, put together from single letters', async () => {
    const drawing = await readContent(
      `${square(10, 10, 60)} BT /F ${mm(5)} Tf ${mm(20, 40)} Td (Side) Tj [(pa) -20 (nel) -300 (2)] TJ ET BT /F ${mm(5)} Tf 3 Tr ${mm(20, 20)} Td (hidden words) Tj ET BT /F ${mm(4)} Tf 0 Tr 0 1 -1 0 ${mm(150, 20)} Tm (up the side) Tj ET`,
    );
    expect(drawing.texts.map(({ text }) => text)).toEqual(['Sidepanel 2', 'up the side']);
    expect(drawing.texts[0]).toMatchObject({
      at: [expect.closeTo(20, 3), expect.closeTo(40, 3)],
      sizeMm: expect.closeTo(5, 3),
    });
    expect(drawing.texts[1]!.box.maxY - drawing.texts[1]!.box.minY).toBeGreaterThan(15);
    expect(only(drawing).suggestedName).toBe('Sidepanel 2');
  });
});
