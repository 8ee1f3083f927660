/** Drawings of ours, cut into sheets of A4 (ISO 216) by arithmetic of the test's own and put together again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../nesting/packing/types.ts';
import { clipToBox } from '../../pattern/pages/clipToBox.ts';
import { gridOf, readGrid, writeGrid } from '../../pattern/pages/layout.ts';
import { type PdfOptions, readPdf } from '../../pattern/reading/index.ts';
import { drawn, expectSize } from '../reading/readings.ts';
import { type TiledItem, type Tiling, tiledPdf } from '../support/tiledPdf.ts';

const circle = (cx: number, cy: number, r: number): Point[] =>
  Array.from({ length: 120 }, (_, i): Point => {
    const angle = (i * Math.PI) / 60;
    return [cx + r * Math.cos(angle), cy + r * Math.sin(angle)];
  });

/** Pannier panel over four sheets, a round base over two, a pocket on one, a test square. */
const ITEMS: readonly TiledItem[] = [
  {
    ring: [
      [100, 200],
      [330, 190],
      [350, 420],
      [230, 440],
      [110, 400],
    ],
  },
  { ring: circle(185, 120, 62) },
  {
    ring: [
      [15, 300],
      [75, 300],
      [75, 380],
      [15, 380],
    ],
  },
  {
    ring: [
      [20, 480],
      [70, 480],
      [70, 530],
      [20, 530],
    ],
  },
  { text: 'Test square 5 cm', at: [22, 505], sizeMm: 4 },
  { text: 'Pannier panel', at: [140, 320] },
];

const assembled = async (tiling: Tiling, options: PdfOptions = { sheets: 'find' }) =>
  drawn(await readPdf(tiledPdf(ITEMS, tiling), 'pannier.pdf', options));

describe('sheets put together', () => {
  it.each<[string, Tiling]>([
    ['by their frames', { columns: 2, rows: 2 }],
    [
      'by their frames, column by column, with a cover in front',
      { columns: 2, rows: 2, order: 'columns', cover: true },
    ],
    ['with a strip to glue of 10 mm', { columns: 3, rows: 2, overlapMm: 10 }],
    ['by their lines alone', { columns: 2, rows: 2, frames: false, marginMm: 0 }],
    ['from pages that hold the whole outlines', { columns: 2, rows: 2, lines: 'whole' }],
  ])('%s', async (_, tiling) => {
    const drawing = await assembled(tiling);
    expect(drawing.sheets).toMatchObject({ loose: 0 });
    expect(drawing.sheets?.layout).toMatchObject({ overlapMm: tiling.overlapMm ?? 0 });
    expect(drawing.openLines).toEqual([]);
    expect(drawing.outlines).toHaveLength(4);
    const panel = drawing.outlines.find(({ suggestedName }) => suggestedName === 'Pannier panel');
    expectSize(panel, 250, 250, 0.1);
    expectSize(
      drawing.outlines.find(({ widthMm }) => Math.abs(widthMm - 124) < 1),
      124,
      124,
      0.1,
    );
    expectSize(
      drawing.outlines.find(({ widthMm }) => Math.abs(widthMm - 60) < 1),
      60,
      80,
      0.1,
    );
  });

  it('as the maker types it, at another size too', async () => {
    const first = await assembled({ columns: 2, rows: 2, cover: true });
    const layout = first.sheets?.layout;
    expect(layout).toMatchObject({
      grid: [
        [2, 3],
        [4, 5],
      ],
    });
    const larger = await assembled({ columns: 2, rows: 2, cover: true }, { sheets: layout!, factor: 1.05 });
    expectSize(
      larger.outlines.find(({ suggestedName }) => suggestedName === 'Pannier panel'),
      262.5,
      262.5,
      0.1,
    );
  });

  it('as it is laid by hand, sheet by sheet, shared strips and all', async () => {
    const overlapMm = 10;
    const tiling = { columns: 3, rows: 2, overlapMm } as const;
    const found = await assembled(tiling);
    const window = found.sheets!.layout.window;
    const [wide, tall] = [window.maxX - window.minX - overlapMm, window.maxY - window.minY - overlapMm];
    // In another place, and with two sheets a hair off, as by hand.
    const places = [0, 1, 2, 3, 4, 5].map((i) => ({
      page: i + 1,
      at: [
        500 + (i % 3) * wide + (i === 4 ? 0.2 : 0),
        70 - Math.floor(i / 3) * tall - (i === 1 ? 0.15 : 0),
      ] as const,
    }));
    const byHand = await assembled(tiling, { sheets: { places, window } });
    expect(byHand.sheets).toMatchObject({ loose: 0, sheets: 6 });
    expect(byHand.sheets?.widestGapMm).toBeGreaterThan(0.1);
    expect(byHand.outlines).toHaveLength(4);
    const sizes = (drawing: typeof found): string[] =>
      drawing.outlines
        .map(({ widthMm, heightMm }) => `${Math.round(widthMm)} ${Math.round(heightMm)}`)
        .sort();
    expect(sizes(byHand)).toEqual(sizes(found));
    const grown = await assembled(tiling, { sheets: byHand.sheets!.layout, factor: 2 });
    expectSize(
      grown.outlines.find(({ suggestedName }) => suggestedName === 'Pannier panel'),
      500,
      500,
      1,
    );
  });

  it('takes an outline from the page that holds the whole of it, without a cut', async () => {
    const whole = await assembled({ columns: 2, rows: 2, lines: 'whole' });
    expect(whole.sheets).toMatchObject({ whole: 2, met: 0, loose: 0 });
    const panel = whole.outlines.find(({ suggestedName }) => suggestedName === 'Pannier panel');
    // As it was drawn: no corner where the sheets meet.
    expect(panel?.ring).toHaveLength(5);
    expect(panel?.mending).toBeNull();
    // Where no line goes on from sheet to sheet the maker says how they lie.
    const alone = await assembled({ columns: 2, rows: 2, lines: 'once' }, { sheets: whole.sheets!.layout });
    expect(alone.sheets).toMatchObject({ whole: 2, loose: 0 });
    expect(alone.outlines).toHaveLength(4);
  });

  it('says which lines meet nothing when sheets are swapped', async () => {
    const right = await assembled({ columns: 2, rows: 2 });
    const wrong = await assembled(
      { columns: 2, rows: 2 },
      {
        sheets: {
          ...right.sheets!.layout,
          grid: [
            [2, 1],
            [3, 4],
          ],
        },
      },
    );
    expect(wrong.sheets?.loose).toBeGreaterThan(0);
    expect(wrong.warnings.some(({ code }) => code === 'pages')).toBe(true);
  });

  it('leaves pages apart where no line goes on', async () => {
    const drawing = drawn(
      await readPdf(
        tiledPdf(
          [
            {
              ring: [
                [20, 20],
                [80, 20],
                [80, 90],
              ],
            },
            {
              ring: [
                [210, 20],
                [280, 20],
                [280, 90],
              ],
            },
          ],
          { columns: 2, rows: 1 },
        ),
        'apart.pdf',
        { sheets: 'find' },
      ),
    );
    expect(drawing.sheets).toBeUndefined();
    expect(drawing.pages).toHaveLength(2);
  });
});

describe('the map of the sheets', () => {
  it('reads what it writes', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 40 }), fc.integer({ min: 1, max: 9 }), (count, columns) => {
        const pages = Array.from({ length: count }, (_, i) => i + 1);
        const grid = gridOf(pages, columns, 'rows');
        expect(readGrid(writeGrid(grid), pages)).toEqual(grid);
      }),
    );
  });

  it('understands ranges and gaps, and names what is wrong', () => {
    expect(readGrid('1-3\n4 – 5', [1, 2, 3, 4, 5])).toEqual([
      [1, 2, 3],
      [4, null, 5],
    ]);
    for (const [text, fault] of [
      ['', /numbers of the pages/],
      ['1 two', /Row 1: “two”/],
      ['1 9', /no page 9/],
      ['1 1', /stands twice/],
      ['1 –', /At least two/],
    ] as const)
      expect(() => readGrid(text, [1, 2])).toThrow(fault);
  });
});

describe('clipping', () => {
  const coordinate = fc.double({ min: -50, max: 150, noNaN: true });
  it('keeps what lies in the box, and its length adds up over the boxes of a tiling', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 12 }), (points) => {
        const length = (line: readonly Point[], closed: boolean): number =>
          line.reduce((sum, [x, y], i) => {
            const next = line[i + 1] ?? (closed ? line[0] : undefined);
            return next ? sum + Math.hypot(next[0] - x, next[1] - y) : sum;
          }, 0);
        let sum = 0;
        for (const [minX, maxX] of [
          [-50, 31.7],
          [31.7, 150],
        ] as const)
          for (const [minY, maxY] of [
            [-50, 64.3],
            [64.3, 150],
          ] as const)
            for (const part of clipToBox(points, true, { minX, maxX, minY, maxY })) {
              sum += length(part.points, part.closed);
              for (const [x, y] of part.points) {
                expect(x).toBeGreaterThanOrEqual(minX - 1e-9);
                expect(x).toBeLessThanOrEqual(maxX + 1e-9);
                expect(y).toBeGreaterThanOrEqual(minY - 1e-9);
                expect(y).toBeLessThanOrEqual(maxY + 1e-9);
              }
            }
        const along = points.some(([x, y]) => x === 31.7 || y === 64.3);
        if (!along) expect(sum).toBeCloseTo(length(points, true), 6);
      }),
    );
  });
});
