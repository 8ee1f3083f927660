import { describe, expect, test } from 'vitest';
import { readDxf, scaleReading } from '../../../pattern/reading/index.ts';
import { box, dxf } from '../dxfText.ts';
import { drawn, expectSize, only } from '../readings.ts';
import { readEntities, readParts } from './readParts.ts';

describe('units', () => {
  const square = box('0', 10, 10);
  test.each([
    [1, 254],
    [2, 3048],
    [4, 10],
    [5, 100],
    [6, 10_000],
    [10, 9144],
    [14, 1000],
  ])('$INSUNITS %i', (code, size) => {
    const drawing = readParts({ header: { $INSUNITS: [70, code] }, entities: square });
    expectSize(only(drawing), size, size, 1e-6);
    expect(drawing.scale).toMatchObject({ known: true, doubt: null, unitGuesses: [] });
  });

  test('none: read as millimetres, asked, and settled by a choice', () => {
    const drawing = readParts({ header: {}, entities: square });
    expectSize(only(drawing), 10, 10, 1e-9);
    expect(drawing.scale.known).toBe(false);
    expect(drawing.scale.doubt).toMatch(/does not say/);
    const inches = drawing.scale.unitGuesses?.find(({ unit }) => unit === 'in');
    expectSize(only(drawn(scaleReading(drawing, inches!.factor))), 254, 254, 1e-9);
  });

  test('a note of the file is a hint', () => {
    const drawing = readParts({
      header: {},
      entities: [...square, ['TEXT', 8, '1', 1, 'Units: ENGLISH', 40, 1]],
    });
    expectSize(only(drawing), 254, 254, 1e-9);
    expect(drawing.scale.unitGuesses?.find(({ likely }) => likely)?.unit).toBe('in');
  });
});

describe('text', () => {
  test('codes of MTEXT and TEXT become plain words', () => {
    const drawing = readEntities(
      [
        'MTEXT',
        8,
        '0',
        10,
        0,
        20,
        0,
        40,
        5,
        71,
        1,
        3,
        '{\\fArial|b0;Side ',
        1,
        'panel}\\Pcut {\\C1;2} \\\\ \\S1/2;\\~in',
      ],
      ['TEXT', 8, '0', 10, 0, 20, 50, 40, 5, 1, 'turn 45%%d \\U+00E4'],
    );
    expect(drawing.texts.map(({ text }) => text)).toEqual(['Side panel\ncut 2 \\ 1/2 in', 'turn 45° ä']);
  });

  test('a file of an old code page', () => {
    const text = dxf({
      header: { $ACADVER: [1, 'AC1015'], $DWGCODEPAGE: [3, 'ANSI_1252'], $INSUNITS: [70, 4] },
      entities: [['TEXT', 8, '0', 1, 'F\u00e4cher', 40, 5]],
    });
    const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
    expect(drawn(readDxf(bytes, 'a.dxf')).texts[0]!.text).toBe('Fächer');
  });
});
