/** PDF files of our own, each with sizes known by arithmetic, and published ones with known sizes. */
import { readFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  findTestSquares,
  type PdfOptions,
  type ReadDrawing,
  readPdf,
  scaleReading,
} from '../../pattern/reading/index.ts';
import { withoutFontBombs } from '../../pattern/reading/pdf/fontBombs.ts';
import { swellsBeyond } from '../../pattern/reading/pdf/swelling.ts';
import { ROOT, sharedFolder } from '../support/sharedFolder.ts';
import { mm, type PdfParts, pdf, square } from './pdfText.ts';
import { codes, drawn, expectSize } from './readings.ts';

const readParts = async (parts: PdfParts, options: PdfOptions = {}): Promise<ReadDrawing> =>
  drawn(await readPdf(pdf(parts), 'test.pdf', options));
const readContent = (content: string): Promise<ReadDrawing> => readParts({ pages: [{ content }] });
const only = (drawing: ReadDrawing) => {
  expect(drawing.outlines).toHaveLength(1);
  return drawing.outlines[0]!;
};
const saidIn = (drawing: ReadDrawing): string => drawing.warnings.map(({ text }) => text).join(' ');

// pdf.js fetches pages ahead without looking whether that fails (catalog.getPageDict): what it leaves unhandled is its
// own kind of error, and is no fault of the reading.
const others = process.listeners('unhandledRejection');
const foreign: unknown[] = [];
beforeAll(() => {
  process.removeAllListeners('unhandledRejection');
  process.on('unhandledRejection', (reason) => {
    const name = reason instanceof Error ? reason.name : '';
    if (
      !/^(FormatError|XRefEntryException|XRefParseException|InvalidPDFException|UnknownErrorException)$/.test(
        name,
      )
    )
      foreign.push(reason);
  });
});
afterAll(async () => {
  await new Promise((resolve) => setTimeout(resolve, 50));
  process.removeAllListeners('unhandledRejection');
  for (const listener of others) process.on('unhandledRejection', listener);
  expect(foreign).toEqual([]);
});

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

describe('what hides', () => {
  test('clips: what lies wholly outside is left out, what is cut is read whole', async () => {
    const drawing = await readContent(
      `q ${mm(50, 20, 50, 50)} re W n ${square(60, 30, 20)} ${square(90, 60, 25)} ${square(120, 20, 30)} Q ${square(160, 10, 11)}`,
    );
    expect(drawing.outlines.map(({ widthMm }) => Math.round(widthMm))).toEqual([20, 25, 11]);
    expect(codes(drawing)).toEqual(expect.arrayContaining(['clip', 'off-page']));
  });

  test('form objects bring a matrix and a box', async () => {
    const drawing = await readParts({
      pages: [
        {
          content: `q 1 0 0 1 ${mm(20, 20)} cm /X Do Q q 1 0 0 1 ${mm(120, 20)} cm /X Do Q`,
          resources: '/XObject << /X 100 0 R >>',
        },
      ],
      objects: {
        100: [
          `/Type /XObject /Subtype /Form /Matrix [0.5 0 0 0.5 0 0] /BBox [0 0 ${mm(100, 100)}]`,
          `${square(0, 0, 80)} ${square(150, 0, 30)}`,
        ],
      },
    });
    expect(drawing.outlines.map(({ widthMm }) => Math.round(widthMm))).toEqual([40, 40]);
  });

  test('a transparency group does so as well; its soft mask is not drawn', async () => {
    const form = '/Type /XObject /Subtype /Form /Group << /S /Transparency /CS /DeviceGray >>';
    const drawing = await readParts({
      pages: [
        {
          content: '/G gs /X Do',
          resources:
            '/XObject << /X 100 0 R >> /ExtGState << /G << /SMask << /S /Luminosity /G 101 0 R >> >> >>',
        },
      ],
      objects: {
        100: [
          `${form} /Matrix [0.5 0 0 0.5 0 0] /BBox [0 0 ${mm(100, 100)}]`,
          `${square(0, 0, 80)} ${square(150, 0, 30)}`,
        ],
        101: [`${form} /BBox [0 0 ${mm(200, 100)}]`, `1 g ${square(20, 20, 60, 'f')}`],
      },
    });
    expect(drawing.outlines.map(({ widthMm }) => Math.round(widthMm))).toEqual([40]);
  });

  const layered: PdfParts = {
    pages: [
      {
        content: `/OC /A BDC ${square(10, 10, 30)} EMC /OC /B BDC ${square(10, 10, 40)} BT /F 12 Tf ${mm(15, 15)} Td (large) Tj ET EMC ${square(100, 10, 20)}`,
        resources: '/Properties << /A 100 0 R /B 101 0 R >>',
      },
    ],
    objects: { 100: ['/Type /OCG /Name (Small)', null], 101: ['/Type /OCG /Name (Large)', null] },
    catalogue: '/OCProperties << /OCGs [100 0 R 101 0 R] /D << /OFF [101 0 R] /Order [100 0 R 101 0 R] >> >>',
  };

  test('layers: hidden ones are left out and listed, the maker chooses', async () => {
    const drawing = await readParts(layered);
    expect(drawing.outlines.map(({ layer, widthMm }) => [layer, Math.round(widthMm)])).toEqual([
      ['Small', 30],
      ['', 20],
    ]);
    expect(drawing.layers).toMatchObject([
      { name: 'Small', shownByFile: true, read: true },
      { name: 'Large', shownByFile: false, read: false },
    ]);
    expect(drawing.texts).toEqual([]);
    expect(saidIn(drawing)).toMatch(/"Large" is hidden/);
    const large = await readParts(layered, { layers: [drawing.layers![1]!.id] });
    expect(large.outlines.map(({ widthMm }) => Math.round(widthMm))).toEqual([40, 20]);
    expect(large.texts[0]).toMatchObject({ text: 'large', layer: 'Large' });
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

describe('broken and hostile PDF', () => {
  const sound = pdf({
    pages: [{ content: `${square(10, 10, 50)} BT /F 12 Tf (side) Tj ET` }, { content: square(5, 5, 20) }],
  });
  const refusal = async (bytes: Uint8Array): Promise<string> => {
    const reading = await readPdf(bytes, 'bad.pdf');
    if (reading.ok) throw new Error(`was read: ${reading.outlines.length} outlines`);
    expect(reading.message).toMatch(/^[A-Z][^\n]{10,250}\.$/);
    return reading.message;
  };
  const bytes = (text: string): Uint8Array => Uint8Array.from(text, (letter) => letter.charCodeAt(0) & 255);

  test.each<[string, Uint8Array, RegExp]>([
    ['nothing', new Uint8Array(), /empty/],
    ['a zip renamed', bytes('PK\u0003\u0004'.padEnd(400, '\u0000')), /not a PDF/],
    ['a head without a body', bytes('%PDF-1.7\n'), /damaged or cut off/],
    ['a head and noise', bytes(`%PDF-1.7\n${'x1 0 obj '.repeat(40)}`), /damaged or cut off/],
  ])('%s is refused in a sentence', async (_, file, words) => {
    expect(await refusal(file)).toMatch(words);
  });

  test('a locked one says so', async () => {
    // Encrypted by the standard handler with a user password that is not empty: its check values are noise.
    const text = new TextDecoder('latin1')
      .decode(sound)
      .replace(
        '/Root 1 0 R',
        `/Root 1 0 R /ID [<${'00'.repeat(16)}> <${'00'.repeat(16)}>] /Encrypt << /Filter /Standard /V 1 /R 2 /P -4 /O <${'11'.repeat(32)}> /U <${'22'.repeat(32)}> >>`,
      );
    expect(await refusal(bytes(text))).toMatch(/locked with a password/);
  });

  test('a page that is missing leaves the others', async () => {
    const text = new TextDecoder('latin1')
      .decode(sound)
      .replace('/Kids [10 0 R 12 0 R]', '/Kids [10 0 R 90 0 R]');
    const drawing = drawn(await readPdf(bytes(text), 'a.pdf'));
    expectSize(only(drawing), 50, 50, 1e-3);
    expect(saidIn(drawing)).toMatch(/Page 2 is damaged/);
  });

  test('more lines than anyone draws', async () => {
    const file = pdf({ pages: [{ content: `0 0 m ${'1 0 l 0 0 l '.repeat(600_000)} S` }] });
    expect(await refusal(file)).toMatch(/more lines/);
  });

  test('stopped while a page is being worked through, at whatever moment, and nothing is left unhandled', async () => {
    const file = pdf({ pages: [{ content: square(1, 1, 5).repeat(5_000) }] });
    for (let at = 1; at <= 12; at++) {
      let asked = 0;
      const signal = {
        get aborted() {
          asked += 1;
          return asked > at;
        },
      } as AbortSignal;
      const reading = await readPdf(file, 'a.pdf', { signal });
      // Later than the last question it is read to its end.
      if (asked > at) expect(reading).toMatchObject({ ok: false, message: 'The reading was stopped.' });
      else expect(reading.ok).toBe(true);
    }
  });

  test('a font that says it has two thousand million characters', async () => {
    const file = new Uint8Array(readFileSync(`${ROOT}fixtures/patterns/broken/font-bomb.pdf`));
    // Its program goes, and nothing else.
    const sound = await withoutFontBombs(file);
    expect(sound.length).toBe(file.length);
    expect(sound).not.toEqual(file);
    const drawing = drawn(await readPdf(file, 'font-bomb.pdf'));
    expectSize(drawing.outlines[0], 50, 50, 0.01);
    expect(drawing.outlines[0]?.textInside).toEqual(['Cut 2']);
    // A file without such a font is left as it is.
    expect(await withoutFontBombs(sound)).toBe(sound);
  });

  test('a packed stream whose length stands elsewhere counts as well', async () => {
    const packed = deflateSync(Buffer.alloc(30_000_000)).toString('latin1');
    const text = `1 0 obj\n<< /Length 32 0 R /Filter /FlateDecode >>\nstream\n${packed}\nendstream\nendobj\n`;
    const file = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
    expect(await swellsBeyond(file, 29_000_000)).toBe(true);
    expect(await swellsBeyond(file, 31_000_000)).toBe(false);
  });

  test('a stream that swells a thousandfold', async () => {
    const packed = (megabytes: number): string =>
      Array.from(deflateSync(Buffer.alloc(megabytes * 1e6, ' ')), (byte) => String.fromCharCode(byte)).join(
        '',
      );
    const withForm = (megabytes: number): Uint8Array =>
      pdf({
        pages: [{ content: `${square(10, 10, 50)} /X Do`, resources: '/XObject << /X 100 0 R >>' }],
        objects: {
          100: ['/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Filter /FlateDecode', packed(megabytes)],
        },
      });
    expect(await refusal(withForm(210))).toMatch(/swells beyond all measure/);
    expectSize(only(drawn(await readPdf(withForm(25), 'a.pdf'))), 50, 50, 1e-3);
  });

  test('forms within themselves, states never restored, numbers out of all bounds', async () => {
    const drawing = await readParts({
      pages: [
        {
          content: `${square(10, 10, 50)} ${'q '.repeat(20_000)} 1e30 0 0 1e30 0 0 cm ${square(1, 1, 5)} ${'Q '.repeat(30_000)} /X Do`,
          resources: '/XObject << /X 100 0 R >>',
        },
      ],
      objects: {
        100: [
          `/Type /XObject /Subtype /Form /BBox [0 0 500 500] /Resources << /XObject << /X 100 0 R >> >>`,
          `${square(70, 10, 20)} /X Do`,
        ],
      },
    });
    expectSize(drawing.outlines[0], 50, 50, 1e-3);
  });

  test('cut off or with bytes changed it never throws', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.nat(sound.length),
        fc.array(fc.tuple(fc.nat(sound.length - 1), fc.nat(255)), { maxLength: 6 }),
        fc.boolean(),
        async (end, flips, cut) => {
          const broken = sound.slice(0, cut ? end : sound.length);
          for (const [at, value] of flips) if (at < broken.length) broken[at] = value;
          const reading = await readPdf(broken, 'a.pdf');
          if (!reading.ok) expect(reading.message).toMatch(/^[A-Z][^\n]{10,250}\.$/);
          else
            for (const { widthMm, areaMm2 } of reading.outlines)
              expect(widthMm > 0 && areaMm2 > 0).toBe(true);
        },
      ),
      { numRuns: 120 },
    );
  });
});

const folder = sharedFolder();
const skipped = folder === null;

describe.skipIf(skipped)(
  `published PDF${skipped ? ' (skipped: no open check data at ../shared)' : ''}`,
  () => {
    const readFile = async (name: string): Promise<ReadDrawing> =>
      drawn(await readPdf(new Uint8Array(readFileSync(`${folder}inputs/${name}`)), name));
    const count = (drawing: ReadDrawing, width: number, height: number, within = 0.1): number =>
      drawing.outlines.filter(
        ({ widthMm, heightMm }) =>
          Math.abs(widthMm - width) <= within && Math.abs(heightMm - height) <= within,
      ).length;

    // jarmokivekas/sewing, CC BY-SA 4.0.
    test('daypack-worksheet: one page of 2164.5 × 1993.5, scale bars exact, panels with and without allowance', async () => {
      const drawing = await readFile('daypack-worksheet.pdf');
      expect(drawing.page.widthMm).toBeCloseTo(2164.5, 1);
      expect(drawing.page.heightMm).toBeCloseTo(1993.5, 1);
      expect(count(drawing, 298.6, 435.6)).toBeGreaterThan(0);
      expect(count(drawing, 268.6, 405.6)).toBeGreaterThan(0);
      expect(count(drawing, 1200, 114.15)).toBeGreaterThan(0);
      expect(count(drawing, 120, 120, 0.15)).toBeGreaterThan(0);
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
      expect(count(drawing, 70, 45)).toBe(0);
      expect(drawing.outlines.filter(({ pageNumber }) => pageNumber === 5)).toHaveLength(1);
      expect(drawing.openLines).toMatchObject([{ dashed: true, lengthMm: expect.closeTo(100, 2) }]);
    });
  },
);
