import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { kindOfDrawing, READING_LIMITS, readAnyDrawing } from '../../pattern/reading/index.ts';
import { box, dxf } from './dxfText.ts';
import { pdf, square } from './pdfText.ts';
import { drawn, expectSize, onPage } from './readings.ts';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const rectangle = onPage('<rect width="30" height="20"/>');

describe('a drawing of any kind', () => {
  test.each([
    ['svg', bytes(rectangle)],
    ['dxf', bytes(dxf({ entities: box('0', 30, 20) }))],
    ['pdf', pdf({ pages: [{ content: square(10, 10, 30) }] })],
  ] as const)('%s is told by its content, not its name, and sized', async (kind, file) => {
    expect(kindOfDrawing(file)).toBe(kind);
    const drawing = drawn(await readAnyDrawing(file, 'pattern.dat', { factor: 2 }));
    expectSize(drawing.outlines[0], 60, kind === 'pdf' ? 60 : 40, 0.01);
  });

  test('marks and comments before the beginning', () => {
    expect(kindOfDrawing(bytes(`\uFEFF${rectangle}`))).toBe('svg');
    expect(kindOfDrawing(bytes(`999\nmade by hand\n${dxf({})}`))).toBe('dxf');
    expect(kindOfDrawing(bytes(dxf({}).replace(/\n/g, '\r\n')))).toBe('dxf');
  });

  test('a packed SVG is unpacked', async () => {
    const drawing = drawn(await readAnyDrawing(new Uint8Array(gzipSync(rectangle)), 'pattern.svgz'));
    expectSize(drawing.outlines[0], 30, 20, 1e-9);
  });

  test('anything else is refused in a sentence', async () => {
    for (const [file, words] of [
      [new Uint8Array(), /empty.*again/],
      [bytes('PK\u0003\u0004'), /archive.*[Uu]npack/],
      [bytes('just words'), /neither.*Save/],
      [bytes('AC1027'), /DWG.*Save/],
      [bytes('%!PS-Adobe-3.0'), /PostScript.*Save/],
      [new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]), /picture.*trace/],
      [new Uint8Array([0xff, 0xd8, 0xff, 0xe0]), /picture.*trace/],
      [new Uint8Array([0xd0, 0xcf, 0x11, 0xe0]), /office document.*Save/],
      [new Uint8Array([0x1f, 0x8b, 8, 0]), /packed.*damaged/],
      // Packed twice, and packed a thousandfold.
      [new Uint8Array(gzipSync(gzipSync(rectangle))), /neither/],
      [new Uint8Array(gzipSync(Buffer.alloc(READING_LIMITS.characters + 1))), /swells/],
    ] as const)
      expect(await readAnyDrawing(file, 'x.pdf')).toMatchObject({
        ok: false,
        message: expect.stringMatching(words),
      });
  });
});
