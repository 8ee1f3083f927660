import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { READING_LIMITS, readDxf } from '../../../pattern/reading/index.ts';
import { box, dxf, type Rec } from '../dxfText.ts';
import { expectSize, only, refusalOf } from '../readings.ts';
import { readEntities } from './readParts.ts';

describe('broken and hostile DXF', () => {
  const sound = dxf({
    blocks: { Tab: box('0', 10, 4) },
    entities: [
      ['INSERT', 8, '0', 2, 'Tab'],
      ['CIRCLE', 8, '0', 40, 5],
      ['TEXT', 8, '0', 1, 'Tab', 40, 2],
    ],
  });
  const refusal = (source: string | Uint8Array): string => refusalOf(readDxf(source, 'bad.dxf'));

  test.each<[string, string | Uint8Array, RegExp]>([
    ['nothing', '', /empty/],
    ['spaces', ' \n \n', /empty/],
    ['a picture', new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0]), /not a DXF/],
    ['a PDF', '%PDF-1.4\n', /is a PDF/],
    ['an SVG', '<svg>\n</svg>\n', /not a DXF/],
    ['a DWG', 'AC1032\u0000\u0000\n\n', /DWG/],
    ['a binary DXF', 'AutoCAD Binary DXF\r\n\u001a\u0000', /binary DXF/],
    ['no sections', '0\nEOF\n', /no sections/],
    ['cut off', sound.slice(0, 300), /cut off/],
    ['a lost line', sound.replace('8\n0\n10', '8\n10'), /damaged in line \d+/],
    [
      'an endless array',
      dxf({ blocks: { T: box('0', 1, 1) }, entities: [['INSERT', 2, 'T', 70, 30_000, 71, 30_000]] }),
      /more lines/,
    ],
    [
      'blocks of blocks of blocks',
      dxf({
        blocks: Object.fromEntries(
          Array.from({ length: 30 }, (_, i): [string, Rec[]] => [
            `b${i}`,
            i === 0 ? box('0', 1, 1) : Array.from({ length: 10 }, (): Rec => ['INSERT', 2, `b${i - 1}`]),
          ]),
        ),
        entities: [['INSERT', 2, 'b29']],
      }),
      /more lines/,
    ],
    [
      'more curves than anyone draws',
      dxf({ entities: Array.from({ length: READING_LIMITS.shapes + 1 }, (): Rec => ['CIRCLE', 40, 1]) }),
      /more lines/,
    ],
  ])('%s is refused in a sentence', (_, source, words) => {
    expect(refusal(source)).toMatch(words);
  });

  test('unreadable numbers leave out their part alone', () => {
    const drawing = readEntities(
      ...box('0', 10, 10),
      ['CIRCLE', 8, '0', 10, 'NaN', 20, 0, 40, 5],
      ['CIRCLE', 8, '0', 10, 0, 20, 0, 40, -5],
      ['LINE', 8, '0', 10, '1e999', 20, 0, 11, 5, 21, 5],
      ['ELLIPSE', 8, '0', 10, 0, 20, 0, 11, 0, 21, 0, 40, 1],
      ['SPLINE', 8, '0', 71, 3, 40, 0, 10, 1, 20, 1],
      ['SPLINE', 8, '0', 71, 1e9, 10, 1, 20, 1],
    );
    expectSize(only(drawing), 10, 10, 1e-9);
    expect(drawing.warnings.filter(({ code }) => code === 'bad-number').length).toBeGreaterThanOrEqual(5);
  });

  test('cut off anywhere it is refused as cut off', () => {
    fc.assert(
      fc.property(fc.nat(sound.trimEnd().length - 1), (end) => {
        expect(refusal(sound.slice(0, end))).toMatch(/cut off|empty|not a DXF|damaged/);
      }),
      { numRuns: 150 },
    );
  });

  test('with letters changed or lines lost it never throws', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.nat(sound.length),
            fc.constantFrom('', '\n', '9', '-', 'e99', '0\n', ' ', 'x', '\u0000', '70\n64\n'),
          ),
          { minLength: 1, maxLength: 8 },
        ),
        (changes) => {
          let text = sound;
          for (const [at, letters] of changes) text = text.slice(0, at) + letters + text.slice(at + 1);
          const reading = readDxf(text, 'a.dxf');
          if (!reading.ok) expect(reading.message).not.toMatch(/cannot follow/);
          else
            for (const { widthMm, areaMm2 } of reading.outlines)
              expect(widthMm > 0 && areaMm2 > 0).toBe(true);
        },
      ),
      { numRuns: 400 },
    );
  });
});
