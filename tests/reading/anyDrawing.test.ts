import { describe, expect, test } from 'vitest';
import { kindOfDrawing, readAnyDrawing } from '../../pattern/reading/index.ts';
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

  test('anything else is refused in a sentence', async () => {
    for (const [file, words] of [
      [new Uint8Array(), /empty/],
      [bytes('PK\u0003\u0004'), /neither/],
      [bytes('just words'), /neither/],
      [new Uint8Array([0x1f, 0x8b, 8, 0]), /compressed SVG/],
    ] as const)
      expect(await readAnyDrawing(file, 'x.pdf')).toMatchObject({
        ok: false,
        message: expect.stringMatching(words),
      });
  });
});
