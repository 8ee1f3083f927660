import { describe, expect, test } from 'vitest';
import { readPdf, scaleReading } from '../../../pattern/reading/index.ts';
import { mm, type PdfParts, pdf, square } from '../pdfText.ts';
import { codes, drawn, expectSize, only, saidIn } from '../readings.ts';
import { readContent, readParts } from './readParts.ts';

describe('pages', () => {
  const A4 = [0, 0, 595.2756, 841.8898];

  test('turned, with a unit of their own, with a crop box: squares stay square and 50 mm', async () => {
    const drawing = await readParts({
      pages: [
        { mediaBox: A4, content: `${mm(20, 30, 50, 80)} re S` },
        { mediaBox: A4, entries: '/Rotate 90', content: `${mm(20, 30, 50, 80)} re S` },
        {
          mediaBox: A4.map((value) => value / 2),
          entries: '/UserUnit 2',
          content: `${mm(10, 15, 25, 40)} re S`,
        },
        {
          mediaBox: A4,
          entries: `/CropBox [${mm(10, 10, 110, 160)}]`,
          content: `${mm(20, 30, 50, 80)} re S ${mm(150, 200, 30, 30)} re S`,
        },
      ],
    });
    const sizes = drawing.outlines.map(({ pageNumber, widthMm, heightMm }) => [
      pageNumber,
      Math.round(widthMm * 100) / 100,
      Math.round(heightMm * 100) / 100,
    ]);
    expect(sizes).toEqual([
      [1, 50, 80],
      [2, 80, 50],
      [3, 50, 80],
      [4, 50, 80],
    ]);
    expect(
      drawing.pages!.map(({ widthMm, heightMm }) => [Math.round(widthMm), Math.round(heightMm)]),
    ).toEqual([
      [210, 297],
      [297, 210],
      [210, 297],
      [100, 150],
    ]);
    // Measured from the lower left corner of what the page shows: turned clockwise, 20 from the left becomes 297 − 30 − 80 from below.
    const onPage = drawing.outlines.map(({ box, pageNumber }) => {
      const { at } = drawing.pages![pageNumber! - 1]!;
      return [Math.round(box.minX - at[0]), Math.round(box.minY - at[1])];
    });
    expect(onPage).toEqual([
      [20, 30],
      [30, 140],
      [20, 30],
      [10, 20],
    ]);
    expect(saidIn(drawing)).toMatch(/page does not show were left out: 1/);
  });

  test('stand apart: nothing of one lies in or joins anything of another', async () => {
    const half = (x: number, y: number) => `${mm(10, 10)} m ${mm(x, y)} l ${mm(60, 60)} l S`;
    const drawing = await readParts({
      pages: [{ content: half(60, 10) }, { content: half(10, 60) }, { content: square(5, 5, 80) }],
    });
    expect(only(drawing).parent).toBeNull();
    expect(drawing.openLines).toHaveLength(2);
    const [a, b, c] = drawing.pages!;
    expect(a!.at[0] + a!.widthMm).toBeLessThan(b!.at[0]);
    expect(c!.at[1] + c!.heightMm).toBeLessThan(a!.at[1]);
  });

  test('are chosen by number; progress is told; a signal stops', async () => {
    const pages = [30, 40, 50].map((size) => ({ content: square(5, 5, size) }));
    const done: string[] = [];
    const drawing = await readParts(
      { pages },
      { pages: [3, 2, 9], onPage: (n, of) => done.push(`${n}/${of}`) },
    );
    expect(drawing.outlines.map(({ pageNumber, widthMm }) => [pageNumber, Math.round(widthMm)])).toEqual([
      [2, 40],
      [3, 50],
    ]);
    expect(done).toEqual(['1/2', '2/2']);
    expect(await readPdf(pdf({ pages }), 'a.pdf', { pages: [7] })).toMatchObject({
      ok: false,
      message: expect.stringMatching(/None of the pages/),
    });
    expect(await readPdf(pdf({ pages }), 'a.pdf', { signal: AbortSignal.abort() })).toMatchObject({
      ok: false,
      message: 'The reading was stopped.',
    });
  });

  test('without lines are said to be pictures', async () => {
    const image: PdfParts['objects'] = {
      100: [
        '/Type /XObject /Subtype /Image /Width 2 /Height 2 /ColorSpace /DeviceGray /BitsPerComponent 8',
        'abcd',
      ],
    };
    const scan = {
      content: `q ${mm(200)} 0 0 ${mm(100)} 0 0 cm /I Do Q`,
      resources: '/XObject << /I 100 0 R >>',
    };
    const mixed = await readParts({ pages: [{ content: square(5, 5, 30) }, scan], objects: image });
    expect(mixed.pages!.map(({ content }) => content)).toEqual(['lines', 'picture']);
    expect(saidIn(mixed)).toMatch(/Page 2 holds no lines to read, only a picture/);
    expect(saidIn(await readParts({ pages: [scan], objects: image }))).toMatch(
      /only a picture \(a scan or photo\)/,
    );
    const empty = await readContent('');
    expect(empty.pages![0]!.content).toBe('empty');
    expect(codes(empty)).toEqual(['picture', 'no-outlines']);
  });

  test('that each hold the whole drawing, of which they show a part', async () => {
    // 30 sheets of one drawing of 30 squares in a row: each sheet shows one.
    const all = Array.from({ length: 30 }, (_, i) => square(i * 250 + 20, 10, 80)).join('');
    const drawing = await readParts({
      pages: Array.from({ length: 30 }, (_, i) => ({ content: `1 0 0 1 ${mm(-i * 250, 0)} cm ${all}` })),
    });
    expect(drawing.outlines).toHaveLength(30);
    expect(drawing.outlines.map(({ pageNumber }) => pageNumber)).toEqual(
      Array.from({ length: 30 }, (_, i) => i + 1),
    );
  });

  test('far beyond the format’s limit still read', async () => {
    const drawing = await readParts({
      pages: [{ mediaBox: [0, 0, 57_260, 55_843], content: square(1000, 1000, 9000) }],
    });
    expectSize(only(drawing), 9000, 9000, 0.01);
  });
});

describe('size', () => {
  test('a correction: in the reading, and afterwards', async () => {
    const parts: PdfParts = { pages: [{ content: square(10, 10, 50) }, { content: square(10, 10, 20) }] };
    const twice = await readParts(parts, { factor: 1.5 });
    const after = drawn(scaleReading(await readParts(parts), 1.5));
    for (const drawing of [twice, after]) {
      expectSize(drawing.outlines[0], 75, 75, 1e-3);
      expect(drawing.scale.factor).toBe(1.5);
      expect(drawing.pages![1]!.widthMm).toBeCloseTo(300, 6);
    }
  });
});
