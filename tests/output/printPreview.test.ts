import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ClothLay, clothSchema, type Project } from '../../pattern/exchange/project.ts';
import { type PrintTile, printedStretches } from '../../pattern/output/index.ts';
import { printSheets } from '../../pattern/output/printSheets.ts';
import { printCopies } from '../../pattern/output/printTile.ts';
import type { Sheet } from '../../pattern/output/sheet.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { singleLayer, twoSegments } from '../plan/sampleLays.ts';
import { area, rect } from '../support/handmadeLays.ts';
import { pngAddress } from '../support/png.ts';

/** One pixel. */
const PICTURE = pngAddress(1, [[200, 80, 40]]);

/** Without a sign: on the sheet y runs down. */
const areaOf = (ring: Parameters<typeof area>[0]) => Math.abs(area(ring));

function printed(sample: { project: Project; lay: ClothLay }, repeat: object, more: object = {}) {
  const project: Project = {
    ...sample.project,
    cloths: sample.project.cloths.map((cloth) =>
      clothSchema.parse({
        ...cloth,
        printPicture: PICTURE,
        repeat: { alongMm: 100, acrossMm: 60, ...repeat },
        ...more,
      }),
    ),
  };
  return printedStretches(sample.lay, project);
}

/** Upper left corners of all pictures near the origin, over and over as the tile repeats. */
function corners({ x, y, width, height, pictures }: PrintTile): string[] {
  const found = new Set<string>();
  for (let i = -3; i <= 3; i++) {
    for (let j = -3; j <= 3; j++) {
      for (const [px, py] of pictures) found.add(`${x + i * width + px} ${y + j * height + py}`);
    }
  }
  return [...found];
}

describe('the print on a layout', () => {
  it('has the first motif where the cloth says it lies', () => {
    const [stretch] = printed(singleLayer(), { fromEndMm: 70, fromSelvedgeMm: 40 });
    const { tile, height } = stretch!;
    // The motif is the middle of a picture; across is measured upwards from the lower selvedge.
    expect(corners(tile)).toContain(`${70 - 50} ${height - 40 - 30}`);
    expect([tile.width, tile.height]).toEqual([100, 60]);
  });

  it('sets every second column off by half a repeat along, or every second row by half across', () => {
    const drop = corners(printed(singleLayer(), { kind: 'halfDrop' })[0]!.tile);
    const brick = corners(printed(singleLayer(), { kind: 'brick' })[0]!.tile);
    const { tile } = printed(singleLayer(), {})[0]!;
    const at = (dx: number, dy: number) => `${tile.x + dx} ${tile.y + dy}`;
    expect(drop).toContain(at(0, 0));
    expect(drop).toContain(at(50, 60));
    expect(drop).not.toContain(at(0, 60));
    expect(brick).toContain(at(100, 30));
    expect(brick).not.toContain(at(100, 0));
  });

  it('tells the pieces on which it stands on its head', () => {
    const sample = singleLayer();
    const lay: ClothLay = {
      ...sample.lay,
      segments: sample.lay.segments.map((segment) => ({
        ...segment,
        placed: segment.placed.map((placed, i) => ({ ...placed, topDeg: [0, 180, 90, 20][i] ?? 0 })),
      })),
    };
    const [stretch] = printed({ ...sample, lay }, {}, { printUp: 'away' });
    expect(stretch!.pieces.slice(0, 3).map(({ print }) => print)).toEqual(['up', 'upsideDown', 'sideways']);
    expect(printed({ ...sample, lay }, {})[0]!.pieces.every(({ print }) => print === 'unknown')).toBe(true);
  });

  it('shows both layers of doubled cloth, opened out: of a pair one of each, of a half piece the whole', () => {
    const sample = twoSegments();
    const [doubled] = printed(sample, {}, { printUp: 'away' });
    expect(doubled).toMatchObject({ isDoubled: true });
    const placed = sample.lay.segments[0]!.placed;
    for (const { pieceId, copy, hand } of placed) {
      const name = sample.project.pieces.find(({ id }) => id === pieceId)!.name;
      const found = doubled!.pieces.filter((piece) => piece.name === name && piece.tag.endsWith(`${copy}`));
      const hands = found.map((piece) => piece.hand).sort();
      if (hand === 'fold') {
        expect(hands).toEqual(['fold']);
        expect(found[0]!.rings).toHaveLength(1);
        const half = placed.find((entry) => entry.pieceId === pieceId)!.outline;
        expect(areaOf(found[0]!.rings[0]!)).toBeCloseTo(2 * areaOf(half), 3);
      } else if (hand === 'pair') {
        expect(hands).toEqual(['mirrored', 'plain']);
      }
    }
    expect(placed.map(({ hand }) => hand)).toEqual(expect.arrayContaining(['fold', 'pair']));
    // Both layers show the same way along the cloth.
    expect(new Set(doubled!.pieces.map(({ print }) => print)).size).toBe(1);
  });

  it('has the print upside down on the upper layer of a crosswise fold, and right when that is turned', () => {
    const sample = twoSegments();
    const of = (spread: 'crosswise' | 'turned') => {
      const [first] = sample.lay.segments;
      const placed = first!.placed
        .filter(({ hand }) => hand === 'pair')
        .map((entry) => ({ ...entry, topDeg: 0 }));
      const lay: ClothLay = { ...sample.lay, spread, segments: [{ ...first!, spread, placed }] };
      return printed({ ...sample, lay }, {}, { printUp: 'away' })[0]!.pieces.map(({ print }) => print);
    };
    expect(new Set(of('crosswise'))).toEqual(new Set(['up', 'upsideDown']));
    expect(new Set(of('turned'))).toEqual(new Set(['up']));
  });

  it('is not there for cloth without a picture or a lattice', () => {
    expect(printed(singleLayer(), { acrossMm: 0 })).toEqual([]);
    expect(printedStretches(singleLayer().lay, singleLayer().project)).toEqual([]);
  });
});

describe('copies of the picture under a shape', () => {
  it('are all that reach into it and none besides', () => {
    const { tile } = printed(singleLayer(), { kind: 'brick' })[0]!;
    const angle = fc.integer({ min: 0, max: 359 });
    fc.assert(
      fc.property(
        angle,
        fc.integer({ min: -400, max: 400 }),
        fc.integer({ min: 5, max: 300 }),
        (deg, at, side) => {
          const [cos, sin] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
          const matrix = [cos / 8, sin / 8, -sin / 8, cos / 8, 50, 60] as const;
          const toPage = ([x, y]: readonly [number, number]): readonly [number, number] => [
            matrix[0] * x + matrix[2] * y + matrix[4],
            matrix[1] * x + matrix[3] * y + matrix[5],
          ];
          const square = rect(side, side).map(([x, y]) => [x + at, y - at] as const);
          const print = { rings: [square.map(toPage)], tile, matrix };
          const copies = printCopies(print);
          // Every point of the square lies in one picture.
          for (const [u, v] of [...square, [at + side / 2, -at + side / 3] as const]) {
            const over = copies.filter(
              ([x, y]) =>
                u > x - 1e-6 &&
                u < x + tile.pictureWidth + 1e-6 &&
                v > y - 1e-6 &&
                v < y + tile.pictureHeight + 1e-6,
            );
            expect(over.length).toBeGreaterThan(0);
          }
          expect(new Set(copies.map(([x, y]) => `${x.toFixed(3)} ${y.toFixed(3)}`)).size).toBe(copies.length);
        },
      ),
    );
  });
});

describe('the pages of the print', () => {
  const of = (sample: ReturnType<typeof singleLayer>, picture: string | undefined, more: object = {}) => {
    const cloths = sample.project.cloths.map((cloth) =>
      clothSchema.parse({
        ...cloth,
        ...(picture === undefined ? {} : { printPicture: picture }),
        repeat: { alongMm: 100, acrossMm: 60 },
        ...more,
      }),
    );
    return printSheets(sample.lay, { ...sample.project, cloths }, { page: 'a4', units: 'cm' });
  };
  const wordsOf = (sheets: readonly Sheet[]) =>
    sheets
      .flatMap(({ drawing, windows = [] }) => [drawing, ...windows.map((window) => window.drawing)])
      .flatMap(flatItems)
      .flatMap((item) => (item.kind === 'text' ? [item.text] : []));

  it('show every piece, the print under each and under the cloth, and mark what stands on its head', () => {
    const sample = singleLayer();
    const segments = sample.lay.segments.map((segment) => ({
      ...segment,
      placed: segment.placed.map((placed, i) => ({ ...placed, topDeg: i === 0 ? 180 : 0 })),
    }));
    const sheets = of({ ...sample, lay: { ...sample.lay, segments } }, PICTURE, { printUp: 'away' });
    const count = segments.flatMap(({ placed }) => placed).length;
    expect(sheets.flatMap(({ prints = [] }) => prints).length).toBeGreaterThan(count);
    const words = wordsOf(sheets);
    expect(words.filter((text) => text === 'PRINT UPSIDE DOWN')).toHaveLength(1);
    expect(words.some((text) => text.startsWith('The print does not stand upright on: A1'))).toBe(true);
    for (const { drawing, prints = [] } of sheets) {
      for (const [x, y] of prints.flatMap(({ rings }) => rings.flat())) {
        expect(x).toBeGreaterThanOrEqual(10);
        expect(x).toBeLessThanOrEqual(drawing.widthMm - 10);
        expect(y).toBeGreaterThanOrEqual(10);
        expect(y).toBeLessThanOrEqual(drawing.heightMm - 10);
      }
    }
  });

  it('are not made without a picture that can be printed', () => {
    expect(of(singleLayer(), undefined)).toEqual([]);
    // Colour type 6 has an alpha channel (ISO/IEC 15948, 11.2.2).
    const clear = Buffer.from(PICTURE.split(',')[1]!, 'base64');
    clear[25] = 6;
    expect(of(singleLayer(), `data:image/png;base64,${clear.toString('base64')}`)).toEqual([]);
  });
});

describe('a picture that is none', () => {
  const cloth = { kind: 'roll', id: 'c', name: 'c', materialId: 'm', widthMm: 1400 };
  it.each([
    'https://example.org/picture.png',
    'data:image/svg+xml;base64,PHN2ZyBvbmxvYWQ9ImFsZXJ0KDEpIi8+',
    'data:text/html;base64,PHNjcmlwdD4=',
    'data:image/png;base64,PHNjcmlwdD4=',
    'data:image/png;base64,iVBORw0KGgo") onload="x',
    `data:image/png;base64,iVBORw0KGgo${'A'.repeat(500_000)}`,
  ])('is refused: %s', (printPicture) => {
    expect(clothSchema.safeParse({ ...cloth, printPicture }).success).toBe(false);
    expect(clothSchema.safeParse({ ...cloth, printPicture: PICTURE }).success).toBe(true);
  });
});
