import { describe, expect, test } from 'vitest';
import { mm, type PdfParts, square } from '../pdfText.ts';
import { codes, saidIn } from '../readings.ts';
import { readContent, readParts } from './readParts.ts';

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
