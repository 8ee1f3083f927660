/** DXF drawings of our own, each with sizes known by arithmetic, and published ones with known sizes. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { DxfParser } from 'dxf-parser';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pieceSchema } from '../../pattern/exchange/project.ts';
import { unfold } from '../../pattern/pieces/unfold.ts';
import {
  type DxfOptions,
  pieceFromOutline,
  READING_LIMITS,
  type ReadDrawing,
  readDxf,
  scaleReading,
} from '../../pattern/reading/index.ts';
import { sharedFolder } from '../support/sharedFolder.ts';
import { box, type DxfParts, dxf, line, type Rec } from './dxfText.ts';
import { codes, drawn, expectSize } from './readings.ts';

const readParts = (parts: DxfParts, options: DxfOptions = {}): ReadDrawing =>
  drawn(readDxf(dxf(parts), 'test.dxf', options));
const entities = (...records: Rec[]): ReadDrawing => readParts({ entities: records });
const only = (drawing: ReadDrawing) => {
  expect(drawing.outlines).toHaveLength(1);
  return drawing.outlines[0]!;
};

describe('curves of a DXF', () => {
  test('a circle', () => {
    const circle = only(entities(['CIRCLE', 8, 'a', 10, 500, 20, 0, 40, 250]));
    expectSize(circle, 500, 500, 1e-6);
    expect(circle.areaMm2).toBeGreaterThan(Math.PI * 250 ** 2 - 2 * Math.PI * 250 * 0.05);
    expect(circle.layer).toBe('a');
  });

  test('an arc runs counter-clockwise from its first angle to its second', () => {
    const drawing = entities(['ARC', 8, '0', 10, 0, 20, 0, 40, 100, 50, 350, 51, 80]);
    expect(drawing.openLines[0]!.lengthMm).toBeCloseTo((100 * Math.PI) / 2, 1);
    // From 350° to 80° over 0°: x from 100·cos 80° to 100, y from −100·sin 10° to 100·sin 80°.
    expect(drawing.page.widthMm).toBeCloseTo(100 - 100 * Math.cos((80 * Math.PI) / 180), 9);
    expect(drawing.page.heightMm).toBeCloseTo(
      100 * Math.sin((80 * Math.PI) / 180) + 100 * Math.sin((10 * Math.PI) / 180),
      9,
    );
  });

  test('an ellipse, whole and in half, its axes turned', () => {
    const whole = only(
      entities(['ELLIPSE', 8, '0', 10, 5, 20, 5, 11, 0, 21, 60, 40, 0.5, 41, 0, 42, 2 * Math.PI]),
    );
    expectSize(whole, 60, 120, 1e-6);
    const half = entities(['ELLIPSE', 8, '0', 10, 0, 20, 0, 11, 60, 21, 0, 40, 0.5, 41, 0, 42, Math.PI]);
    expect(half.page.widthMm).toBeCloseTo(120, 6);
    expect(half.page.heightMm).toBeCloseTo(30, 6);
  });

  test('bulges: a slot of two straight lines and two half circles; a bulge beyond 1 is the long way round', () => {
    const slot = only(
      entities([
        'LWPOLYLINE',
        8,
        '0',
        90,
        4,
        70,
        1,
        10,
        0,
        20,
        0,
        10,
        100,
        20,
        0,
        42,
        1,
        10,
        100,
        20,
        40,
        10,
        0,
        20,
        40,
        42,
        1,
      ]),
    );
    expectSize(slot, 140, 40, 1e-6);
    expect(slot.areaMm2).toBeCloseTo(100 * 40 + Math.PI * 20 ** 2, -1);
    // Three quarters of a circle: tan(270°/4).
    const long = entities([
      'LWPOLYLINE',
      8,
      '0',
      70,
      0,
      10,
      0,
      20,
      0,
      42,
      Math.tan((270 / 4) * (Math.PI / 180)),
      10,
      100,
      20,
      0,
    ]);
    const radius = 50 * Math.SQRT2;
    expect(long.openLines[0]!.lengthMm).toBeCloseTo(1.5 * Math.PI * radius, 0);
    expect(long.page.widthMm).toBeCloseTo(2 * radius, 6);
  });

  test('a POLYLINE with vertices of its own, closed by its flag; the frame of a fitted one is not drawn', () => {
    const vertex = (x: number, y: number, flags = 0): Rec => ['VERTEX', 8, '0', 10, x, 20, y, 70, flags];
    const fitted = only(
      entities(
        ['POLYLINE', 8, '0', 66, 1, 70, 5],
        vertex(0, 0, 16),
        vertex(900, 900, 16),
        vertex(0, 0, 8),
        vertex(50, 0, 8),
        vertex(50, 30, 8),
        ['SEQEND', 8, '0'],
      ),
    );
    expectSize(fitted, 50, 30, 1e-9);
  });

  test('a spline with weights is an exact circle (The NURBS Book, ex. 7.3: nine points, weights √½)', () => {
    const s = Math.SQRT1_2;
    const r = 300;
    const controls = [
      [1, 0, 1],
      [1, 1, s],
      [0, 1, 1],
      [-1, 1, s],
      [-1, 0, 1],
      [-1, -1, s],
      [0, -1, 1],
      [1, -1, s],
      [1, 0, 1],
    ];
    const circle = only(
      entities([
        'SPLINE',
        8,
        '0',
        70,
        4,
        71,
        2,
        72,
        12,
        73,
        9,
        ...[0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4].flatMap((knot) => [40, knot]),
        ...controls.flatMap(([x, y, w]) => [10, x! * r, 20, y! * r, 41, w!]),
      ]),
    );
    const [cx, cy] = [circle.box.minX + r, circle.box.minY + r];
    for (const [x, y] of circle.ring) expect(Math.abs(Math.hypot(x - cx, y - cy) - r)).toBeLessThan(0.05);
    expectSize(circle, 600, 600, 0.05);
    expect(circle.areaMm2).toBeCloseTo(Math.PI * r * r, -3);
  });

  test('a cubic B-spline agrees with de Boor–Cox evaluated densely', () => {
    const knots = [0, 0, 0, 0, 1, 2.5, 3, 3, 3, 3];
    const controls = [
      [0, 0],
      [100, 300],
      [250, -50],
      [400, 200],
      [500, 0],
      [620, 90],
    ] as const;
    const drawing = entities([
      'SPLINE',
      8,
      '0',
      70,
      8,
      71,
      3,
      72,
      10,
      73,
      6,
      ...knots.flatMap((knot) => [40, knot]),
      ...controls.flatMap(([x, y]) => [10, x, 20, y]),
    ]);
    const basis = (i: number, p: number, t: number): number => {
      if (p === 0) return knots[i]! <= t && t < knots[i + 1]! ? 1 : 0;
      const left = knots[i + p]! - knots[i]!;
      const right = knots[i + p + 1]! - knots[i + 1]!;
      return (
        (left > 0 ? ((t - knots[i]!) / left) * basis(i, p - 1, t) : 0) +
        (right > 0 ? ((knots[i + p + 1]! - t) / right) * basis(i + 1, p - 1, t) : 0)
      );
    };
    const chords = drawing.openLines[0]!.points;
    // The drawing begins at its box's corner: found from the curve's first point, which is (0, 0).
    const [x0, y0] = chords[0]!;
    let farthest = 0;
    for (let t = 0; t < 3; t += 0.01) {
      const x = controls.reduce((sum, [px], i) => sum + px * basis(i, 3, t), 0) + x0;
      const y = controls.reduce((sum, [, py], i) => sum + py * basis(i, 3, t), 0) + y0;
      farthest = Math.max(farthest, distanceToLine([x, y], chords));
    }
    expect(farthest).toBeLessThan(0.05);
  });

  test('a spline stored by fit points goes through them, and that is said', () => {
    const fits = [
      [0, 0],
      [100, 50],
      [200, 0],
      [300, 50],
    ] as const;
    const drawing = entities([
      'SPLINE',
      8,
      '0',
      70,
      8,
      71,
      3,
      74,
      4,
      ...fits.flatMap(([x, y]) => [11, x, 21, y]),
    ]);
    expect(codes(drawing)).toContain('approximated');
    const points = drawing.openLines[0]!.points;
    const [x0, y0] = points[0]!;
    for (const [x, y] of fits) expect(distanceToLine([x + x0, y + y0], points)).toBeLessThan(0.05);
  });

  test('a part whose extrusion points down is turned over', () => {
    const triangle = ['LWPOLYLINE', 8, '0', 70, 1, 10, 0, 20, 0, 10, 60, 20, 0, 10, 60, 20, 20] as const;
    const { ring } = only(entities([...triangle, 230, -1]));
    // The right angle stood at the right (x = 60), now at the left.
    expect(ring).toContainEqual([0, 20]);
    expect(ring).toContainEqual([0, 0]);
    expect(ring).toContainEqual([60, 0]);
  });
});

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
    expect(drawing.warnings.map(({ text }) => text).join(' ')).toMatch(/"hints".*"mirror here"/);
  });

  test('the maker chooses, and the choice outlives a corrected scale', () => {
    const drawing = readParts(parts, { layers: ['large', 'hints'] });
    expectSize(only(drawing), 40, 40, 1e-6);
    expect(drawing.texts.map(({ text }) => text)).toEqual(['mirror here']);
    expectSize(only(drawn(scaleReading(drawing, 1.5))), 60, 60, 1e-6);
  });
});

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
    const drawing = entities(
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

describe('pieces by ASTM D6673', () => {
  const drawing = readParts({
    header: {},
    blocks: {
      'PANNIER-LID': [
        ['TEXT', 8, '1', 1, 'Piece Name: LID', 40, 5],
        ['TEXT', 8, '1', 1, 'Quantity: 2', 40, 5],
        ['TEXT', 8, '1', 1, 'Material: LINING', 40, 5],
        ['POLYLINE', 8, '1', 66, 1, 70, 0],
        ...[
          [0, 0],
          [120, 0],
          [120, 90],
          [0, 90],
          [0, 0],
        ].map(([x, y]): Rec => ['VERTEX', 8, '1', 10, x!, 20, y!]),
        ['SEQEND', 8, '1'],
        line('6', 120, 0, 120, 90),
        line('7', 20, 20, 80, 20),
        line('80', 60, 90, 60, 85),
        ['POINT', 8, '4', 10, 30, 20, 0],
        ['CIRCLE', 8, '11', 10, 60, 20, 45, 40, 8],
        ['POINT', 8, '13', 10, 100, 20, 45],
        ['LWPOLYLINE', 8, '14', 70, 1, 10, 10, 20, 10, 10, 120, 20, 10, 10, 120, 20, 80, 10, 10, 20, 80],
        line('8', 10, 45, 40, 45),
        line('9', 0, 60, 120, 60),
        line('10', 60, 0, 60, 90),
      ],
      'PANNIER-TAB': [['TEXT', 8, '1', 1, 'Piece Name: TAB', 40, 5], ...box('1', 30, 20)],
    },
    entities: [
      ['TEXT', 8, '1', 1, 'Units: METRIC', 40, 5],
      ['INSERT', 8, '1', 2, 'PANNIER-LID', 10, 0, 20, 0],
      ['INSERT', 8, '1', 2, 'PANNIER-TAB', 10, 0, 20, 0],
    ],
  });
  const [lid, tab] = drawing.proposals ?? [];

  test('each block is a piece by itself, though all lie on one another in the file', () => {
    expect(drawing.proposals).toHaveLength(2);
    expect(lid).toMatchObject({ name: 'LID', quantity: 2, material: 'LINING', size: null, grainDeg: 0 });
    expect(tab).toMatchObject({ name: 'TAB', quantity: null, foldEdge: null, notches: [], holeIds: [] });
    const ring = drawing.outlines.find(({ id }) => id === lid!.outlineId)!;
    expectSize(ring, 120, 90, 1e-9);
    expect(ring.suggestedName).toBe('LID');
    expect(drawing.outlines.find(({ id }) => id === tab!.outlineId)!.parent).toBeNull();
    expect(drawing.pages).toHaveLength(2);
  });

  test('layers say what lines are', () => {
    const { at } = drawing.pages![0]!;
    expect(lid!.notches.map(([x, y]) => [x - at[0], y - at[1]])).toEqual([
      [30, 0],
      [60, 90],
    ]);
    expect(lid!.drillHoles.map(([x, y]) => [x - at[0], y - at[1]])).toEqual([[100, 45]]);
    expect(lid!.stripeIds).toHaveLength(2);
    expect([lid!.holeIds, lid!.sewLineIds, lid!.internalIds].map((ids) => ids.length)).toEqual([1, 1, 1]);
  });

  test('the mirror line is the fold edge: unfolded the piece is twice as wide', () => {
    const outline = drawing.outlines.find(({ id }) => id === lid!.outlineId)!;
    const piece = pieceFromOutline(outline, {
      id: 'lid',
      name: lid!.name,
      fileName: 'a.dxf',
      foldEdge: lid!.foldEdge,
    });
    expect(pieceSchema.parse(piece).foldEdge).toBe(lid!.foldEdge);
    const a = piece.outline[lid!.foldEdge!]!;
    const b = piece.outline[(lid!.foldEdge! + 1) % piece.outline.length]!;
    expect([a[0], b[0]]).toEqual([120, 120]);
    const xs = unfold({ outline: piece.outline, holes: [], fold: [a, b] }).outline.map(([x]) => x);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(240, 9);
  });
});

describe('broken and hostile DXF', () => {
  const sound = dxf({
    blocks: { Tab: box('0', 10, 4) },
    entities: [
      ['INSERT', 8, '0', 2, 'Tab'],
      ['CIRCLE', 8, '0', 40, 5],
      ['TEXT', 8, '0', 1, 'Tab', 40, 2],
    ],
  });
  const refusal = (source: string | Uint8Array): string => {
    const reading = readDxf(source, 'bad.dxf');
    if (reading.ok) throw new Error(`was read: ${reading.outlines.length} outlines`);
    expect(reading.message).toMatch(/^[A-Z][^\n]{10,250}\.$/);
    return reading.message;
  };

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
    const drawing = entities(
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

// Its CommonJS entry, which is the class itself; its types describe the other one.
const Parser = createRequire(import.meta.url)('dxf-parser') as typeof DxfParser;

const folder = sharedFolder();
const skipped = folder === null;

describe.skipIf(skipped)(
  `published DXF${skipped ? ' (skipped: no open check data at ../shared)' : ''}`,
  () => {
    const bytes = (name: string): Uint8Array => readFileSync(`${folder}inputs/${name}`);
    const readFile = (name: string): ReadDrawing => drawn(readDxf(bytes(name), name));
    const count = (drawing: ReadDrawing, width: number, height: number): number =>
      drawing.outlines.filter(
        ({ widthMm, heightMm }) => Math.abs(widthMm - width) <= 0.1 && Math.abs(heightMm - height) <= 0.1,
      ).length;

    // mathewlippincott/airpup-balloon, CERN-OHL-1.2.
    test('kite-fin: 14 loops of lines and arcs in nested blocks, in inches', () => {
      const drawing = readFile('kite-fin.dxf');
      expect(drawing.outlines).toHaveLength(14);
      for (const [width, height] of [
        [1346.2, 596.9],
        [710.41, 922.88],
        [656.17, 157.61],
        [1778, 25.4],
      ] as const)
        expect(count(drawing, width, height), `${width} × ${height}`).toBe(1);
      expect(count(drawing, 75, 50)).toBe(4);
      expect(drawing.outlines.filter(({ suggestedName }) => suggestedName === 'patch')).toHaveLength(5);
      expect(drawing.warnings.map(({ text }) => text).join(' ')).toMatch(/"annotation".*"MIRROR AXIS"/);
    });

    test('kite-envelope: splines, arcs and inserts', () => {
      const drawing = readFile('kite-envelope.dxf');
      expect(drawing.page.widthMm).toBeCloseTo(2265.56, 1);
      expect(drawing.page.heightMm).toBeCloseTo(1380.33, 1);
      expect(count(drawing, 2265.56, 1101.58)).toBe(1);
      expect(drawing.openLines.some(({ layer }) => layer === 'reference')).toBe(true);
    });

    test('made-d6673-blocks: pieces by the layers of ASTM D6673', () => {
      const drawing = readFile('made-d6673-blocks.dxf');
      expect(drawing.scale.known).toBe(false);
      const [front, pocket] = drawing.proposals ?? [];
      expect(front).toMatchObject({ name: 'FRONT', quantity: 1, material: 'MAIN', size: 'M', grainDeg: 90 });
      expect(pocket).toMatchObject({ name: 'POCKET', quantity: 2, material: 'LINING', foldEdge: null });
      const outline = drawing.outlines.find(({ id }) => id === front!.outlineId)!;
      expectSize(outline, 200, 220, 0.1);
      const { ring } = outline;
      const fold = [ring[front!.foldEdge!]!, ring[(front!.foldEdge! + 1) % ring.length]!] as const;
      const xs = unfold({ outline: ring, holes: [], fold }).outline.map(([x]) => x);
      expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(400, 6);
    });

    test('an independent reader finds as many parts of each kind', () => {
      for (const name of ['kite-fin.dxf', 'kite-envelope.dxf']) {
        const parsed = new Parser().parseSync(Buffer.from(bytes(name)).toString('latin1'));
        const layers = drawn(readDxf(bytes(name), name)).layers!.map(({ id }) => id);
        // Every layer, hidden or not: what is closed and open in all is what the other reader has as inserts and curves.
        const all = drawn(readDxf(bytes(name), name, { layers }));
        const blocks = parsed?.blocks ?? {};
        const lines = (list: readonly { type: string; name?: string }[]): number =>
          list.reduce((sum, entity) => {
            if (entity.type === 'INSERT') return sum + lines(blocks[entity.name ?? '']?.entities ?? []);
            return sum + (['LINE', 'ARC', 'SPLINE'].includes(entity.type) ? 1 : 0);
          }, 0);
        const strokes =
          all.openLines.length + all.outlines.reduce((sum, { mending }) => sum + strokesOf(mending?.text), 0);
        expect(strokes).toBe(lines(parsed?.entities ?? []));
      }
    });
  },
);

/** How many lines an outline was joined from. */
const strokesOf = (text: string | undefined): number => Number(/drawn as (\d+)/.exec(text ?? '')?.[1] ?? 1);

function distanceToLine(
  [x, y]: readonly [number, number],
  points: readonly (readonly [number, number])[],
): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < points.length; i++) {
    const [ax, ay] = points[i - 1]!;
    const [bx, by] = points[i]!;
    const squared = (bx - ax) ** 2 + (by - ay) ** 2;
    const t =
      squared === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / squared));
    least = Math.min(least, Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)));
  }
  return least;
}
