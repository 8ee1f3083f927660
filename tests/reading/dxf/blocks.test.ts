import { describe, expect, test } from 'vitest';
import { scaleReading } from '../../../pattern/reading/index.ts';
import { box, type DxfParts, line, type Rec } from '../dxfText.ts';
import { codes, drawn, expectSize, only, saidIn } from '../readings.ts';
import { readParts } from './readParts.ts';

describe('blocks', () => {
  test('inserts within inserts: scaled, turned, moved, in rows and columns', () => {
    const drawing = readParts({
      blocks: {
        Tab: box('0', 10, 4),
        Pair: [
          ['INSERT', 8, '0', 2, 'Tab', 10, 0, 20, 0],
          ['INSERT', 8, 'edge', 2, 'Tab', 10, 20, 20, 0, 50, 90],
        ],
      },
      entities: [
        ['INSERT', 8, 'body', 2, 'PAIR', 10, 100, 20, 50, 41, 2, 42, 2, 70, 3, 71, 2, 44, 100, 45, 60],
      ],
    });
    const sizes = drawing.outlines.map(
      ({ widthMm, heightMm }) => `${widthMm.toFixed(3)}x${heightMm.toFixed(3)}`,
    );
    expect(sizes.filter((size) => size === '20.000x8.000')).toHaveLength(6);
    expect(sizes.filter((size) => size === '8.000x20.000')).toHaveLength(6);
    // What is on layer 0 of a block is on the layer it is inserted on.
    expect(new Set(drawing.outlines.map(({ layer }) => layer))).toEqual(new Set(['body', 'edge']));
    expect(new Set(drawing.outlines.map(({ id }) => id)).size).toBe(12);
    expect(drawing.outlines[0]!.suggestedName).toBe('Tab');
    // 3 columns 100 apart of 40 (the turned tab reaches back from 2·20), 2 rows 60 apart of 20.
    expect(drawing.page.widthMm).toBeCloseTo(240, 9);
    expect(drawing.page.heightMm).toBeCloseTo(80, 9);
  });

  test('loose ends join within one insert and one layer only, stubs put aside', () => {
    const open = box('cut', 80, 30).slice(0, 3);
    const drawing = readParts({
      blocks: { Open: open, Closed: [...open, line('cut', 0, 30, 0, 0), line('cut', 80, 0, 90, 0)] },
      entities: [
        ['INSERT', 8, 'cut', 2, 'Open', 10, 0, 20, 0],
        line('cut', 0, 30, 0, 0),
        ['INSERT', 8, 'cut', 2, 'Closed', 10, 0, 20, 200],
        ['INSERT', 8, 'cut', 2, 'Open', 10, 0, 20, 400],
        ...box('fold', 0, 430)
          .slice(3)
          .map((): Rec => line('fold', 0, 430, 0, 400)),
      ],
    });
    expectSize(only(drawing), 80, 30, 1e-9);
    expect(drawing.outlines[0]!.id).toMatch(/^Closed\//);
  });

  test('blocks that contain themselves or are missing', () => {
    const drawing = readParts({
      blocks: { Loop: [...box('0', 10, 10), ['INSERT', 8, '0', 2, 'Loop', 10, 5, 20, 5]] },
      entities: [
        ['INSERT', 8, '0', 2, 'Loop'],
        ['INSERT', 8, '0', 2, 'Nowhere'],
      ],
    });
    expectSize(only(drawing), 10, 10, 1e-9);
    expect(codes(drawing)).toEqual(expect.arrayContaining(['clone-cycle', 'clone-missing']));
  });
});

describe('layers', () => {
  const parts: DxfParts = {
    layers: [
      ['LAYER', 2, 'small', 70, 0, 62, 1],
      ['LAYER', 2, 'large', 70, 1, 62, 3],
      ['LAYER', 2, 'hints', 70, 0, 62, -5],
    ],
    entities: [
      ['CIRCLE', 8, 'small', 10, 0, 20, 0, 40, 10],
      ['CIRCLE', 8, 'large', 10, 0, 20, 0, 40, 20],
      ['TEXT', 8, 'hints', 10, 0, 20, 0, 40, 3, 1, 'mirror here'],
    ],
  };

  test('those frozen or switched off are left out, and what is written there is said', () => {
    const drawing = readParts(parts);
    expectSize(only(drawing), 20, 20, 1e-6);
    expect(drawing.layers).toEqual([
      { id: 'small', name: 'small', shownByFile: true, read: true },
      { id: 'large', name: 'large', shownByFile: false, read: false },
      { id: 'hints', name: 'hints', shownByFile: false, read: false },
    ]);
    expect(saidIn(drawing)).toMatch(/"hints".*"mirror here"/);
  });

  test('the maker chooses, and the choice outlives a corrected scale', () => {
    const drawing = readParts(parts, { layers: ['large', 'hints'] });
    expectSize(only(drawing), 40, 40, 1e-6);
    expect(drawing.texts.map(({ text }) => text)).toEqual(['mirror here']);
    expectSize(only(drawn(scaleReading(drawing, 1.5))), 60, 60, 1e-6);
  });
});
