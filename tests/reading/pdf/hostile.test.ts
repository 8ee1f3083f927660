/** PDF files that are broken or mean harm: one clear sentence or warnings, never a throw, never without bound. */
import { readFileSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readPdf } from '../../../pattern/reading/index.ts';
import { withoutFontBombs } from '../../../pattern/reading/pdf/fontBombs.ts';
import { swellsBeyond } from '../../../pattern/reading/pdf/swelling.ts';
import { ROOT } from '../../support/sharedFolder.ts';
import { pdf, square } from '../pdfText.ts';
import { drawn, expectSize, only, refusalOf, saidIn } from '../readings.ts';
import { readParts } from './readParts.ts';

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

describe('broken and hostile PDF', () => {
  const sound = pdf({
    pages: [{ content: `${square(10, 10, 50)} BT /F 12 Tf (side) Tj ET` }, { content: square(5, 5, 20) }],
  });
  const refusal = async (bytes: Uint8Array): Promise<string> => refusalOf(await readPdf(bytes, 'bad.pdf'));
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
