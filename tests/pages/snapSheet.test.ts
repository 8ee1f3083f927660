import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../nesting/packing/types.ts';
import { holdOf, linesByPage, type PageLine, type SheetHold } from '../../pattern/pages/sheetLines.ts';
import { snapSheet } from '../../pattern/pages/snapSheet.ts';
import { readPdf } from '../../pattern/reading/index.ts';
import { drawn } from '../reading/readings.ts';
import { tiledPdf } from '../support/tiledPdf.ts';

const WINDOW = { minX: 10, minY: 10, maxX: 200, maxY: 287 };
const hold = (page: number, lines: readonly PageLine[]): SheetHold => holdOf(page, lines, WINDOW);
const line = (...points: Point[]): PageLine => ({ points, closed: false });

describe('a sheet beside others', () => {
  // Two lines are cut at the right side of the first sheet and go on at the left of the second.
  const left = hold(1, [line([50, 100], [200, 120]), line([50, 200], [200, 230])]);
  const right = hold(2, [line([10, 120], [150, 140]), line([10, 230], [150, 200]), line([10, 40], [50, 40])]);

  it('is caught where its cut-through lines go on', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -8, max: 8, noNaN: true }),
        fc.double({ min: -8, max: 8, noNaN: true }),
        (dx, dy) => {
          const snap = snapSheet(right, [190 + dx, dy], [{ hold: left, at: [0, 0] }], 15);
          expect(snap).toMatchObject({ by: 'lines', met: 2 });
          expect(snap.at[0]).toBeCloseTo(190, 9);
          expect(snap.at[1]).toBeCloseTo(0, 9);
        },
      ),
    );
  });

  it('stays where nothing is near', () => {
    expect(snapSheet(right, [300, 90], [{ hold: left, at: [0, 0] }], 15)).toEqual({
      at: [300, 90],
      by: null,
      met: 0,
    });
  });

  it('is caught by marks that are printed on both, before a single line', () => {
    const cross = (x: number, y: number): PageLine => line([x - 3, y], [x + 3, y]);
    const one = hold(1, [cross(190, 50), cross(190, 240), line([50, 100], [200, 100])]);
    // The strip of 20 mm is on both sheets.
    const two = hold(2, [cross(20, 50), cross(20, 240), line([10, 104], [150, 104])]);
    expect(snapSheet(two, [166, 3], [{ hold: one, at: [0, 0] }], 15)).toMatchObject({
      at: [170, 0],
      by: 'marks',
    });
  });

  it('is caught by its edges where nothing is drawn over them', () => {
    const empty = (page: number): SheetHold => hold(page, []);
    expect(snapSheet(empty(2), [184, -6], [{ hold: empty(1), at: [0, 0] }], 15)).toMatchObject({
      at: [190, 0],
      by: 'edges',
    });
    expect(snapSheet(empty(3), [2, -280], [{ hold: empty(1), at: [0, 0] }], 15)).toMatchObject({
      at: [0, -277],
      by: 'edges',
    });
  });
});

it('sheets of a real file are caught one by one to the whole', async () => {
  const ring: Point[] = [
    [100, 200],
    [330, 190],
    [350, 420],
    [230, 440],
    [110, 400],
  ];
  const apart = drawn(await readPdf(tiledPdf([{ ring }], { columns: 2, rows: 2 }), 'roll.pdf', {}));
  const lines = linesByPage(apart);
  const holds = [1, 2, 3, 4].map((page) => holdOf(page, lines.get(page) ?? [], WINDOW));
  const laid = [{ hold: holds[0] as SheetHold, at: [0, 0] as Point }];
  for (const [page, at] of [
    [2, [195, 4]],
    [3, [-5, -270]],
    [4, [186, -281]],
  ] as const) {
    const moving = holds[page - 1] as SheetHold;
    const snap = snapSheet(moving, at, laid, 15);
    expect(snap.by).toBe('lines');
    laid.push({ hold: moving, at: snap.at });
  }
  const places = laid.map(({ hold: { page }, at }) => ({ page, at }));
  const whole = drawn(
    await readPdf(tiledPdf([{ ring }], { columns: 2, rows: 2 }), 'roll.pdf', {
      sheets: { places, window: WINDOW },
    }),
  );
  expect(whole.sheets).toMatchObject({ loose: 0, sheets: 4 });
  expect(whole.outlines.map(({ widthMm, heightMm }) => [Math.round(widthMm), Math.round(heightMm)])).toEqual([
    [250, 250],
  ]);
});
