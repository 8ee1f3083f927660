import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { pieceFromRectangle } from '../../pattern/measurements/index.ts';
import {
  fullPieceSheets,
  type LabelSheet,
  labelSheets,
  labelSize,
  labelsFor,
  planSheets,
  TEST_SQUARES,
} from '../../pattern/output/index.ts';
import { drawLay } from '../../pattern/plan/index.ts';
import { drawingToPdf, sheetsToPdf } from '../../server/pdf/sheetsToPdf.ts';
import { lay, placeAtCorner, project, singleLayer } from '../plan/sampleLays.ts';
import { crossings, hasPoppler, info, render } from './rendered.ts';

const FACTS = { title: 'Test', subject: '', lang: 'en' };
const DPI = 1200;
const TOLERANCE_MM = 0.05;
const DEMO = demoProject();

/** A project with one square piece of 5 cm. */
const SQUARE = pieceFromRectangle({ id: 'square', name: 'Square', acrossMm: 50, alongMm: 50 });
const OWN = project('Squares', [SQUARE], [{ pieceId: 'square', plain: 1 }], {
  kind: 'roll',
  id: 'c',
  name: 'Ripstop',
  widthMm: 150,
});

/** Both spans of the closed line whose upper left corner is about here, measured in the rendered page. */
function measured(pdf: Uint8Array, page: number, x: number, y: number, side: number): [number, number] {
  const room = 2;
  const picture = render(pdf, page, DPI, {
    x: x - room,
    y: y - room,
    width: side + 2 * room,
    height: side + 2 * room,
  });
  // A fifth of the side in, words in the middle are not met.
  const across = crossings(picture, 'level', room + side * 0.2);
  const down = crossings(picture, 'upright', room + side * 0.2);
  return [across.at(-1)! - across[0]!, down.at(-1)! - down[0]!];
}

describe.skipIf(!hasPoppler)(
  'lengths on paper as poppler renders them at 1200 dpi (skipped where it is missing)',
  () => {
    const FULL = { marginMm: 10, overlapMm: 0, unfold: false, units: 'cm' } as const;

    it.each(['a4', 'letter', 'a3', 'tabloid', 'both'] as const)('test squares on %s', async (paper) => {
      const sheets = fullPieceSheets([DEMO.pieces[4]!], DEMO, { ...FULL, paper });
      const pdf = await sheetsToPdf(sheets, FACTS);
      const square = sheets[0]!.drawing.layers
        .flatMap(({ items }) => items)
        .find((item) => item.kind === 'path' && item.role === 'dimension');
      const [x, y] = square?.kind === 'path' ? square.lines[0]![0]! : [0, 0];
      for (const side of measured(pdf, 1, x, y, TEST_SQUARES.metricMm)) {
        expect(Math.abs(side - 50)).toBeLessThanOrEqual(TOLERANCE_MM);
      }
      for (const side of measured(pdf, 1, x + 58, y, TEST_SQUARES.inchMm)) {
        expect(Math.abs(side - 50.8)).toBeLessThanOrEqual(TOLERANCE_MM);
      }
    });

    it('a piece of 5 cm on its sheet, on one sheet of its own, and in a plan of scale 1', async () => {
      const tiled = fullPieceSheets([SQUARE], OWN, { ...FULL, paper: 'a4' });
      const window = tiled[1]!.windows![0]!;
      const tile = await sheetsToPdf(tiled, FACTS);
      const one = await sheetsToPdf(fullPieceSheets([SQUARE], OWN, { ...FULL, paper: 'one' }), FACTS);
      const plan = drawLay(
        lay(OWN, [
          {
            spread: 'single',
            widthMm: 150,
            lengthMm: 110,
            placed: [placeAtCorner(SQUARE, { x: 30, y: 50 })],
          },
        ]),
        OWN,
        { page: 'a4', units: 'cm', bare: true },
      );
      expect(plan.scale).toBe(1);
      const [frame] = plan.frames;
      for (const sides of [
        measured(tile, 2, window.x, window.y, 50),
        measured(one, 1, 10, 10, 50),
        measured(await drawingToPdf(plan), 1, frame!.x + 30, frame!.y - 100, 50),
      ]) {
        for (const side of sides) expect(Math.abs(side - 50)).toBeLessThanOrEqual(TOLERANCE_MM);
      }
    });

    it('labels', async () => {
      const sheet: LabelSheet = {
        page: 'letter',
        rows: 5,
        columns: 3,
        marginXMm: 12,
        marginYMm: 10,
        gapXMm: 3,
        gapYMm: 2,
        frames: true,
      };
      const { width, height } = labelSize(sheet);
      const pdf = await sheetsToPdf(labelSheets(labelsFor(DEMO), sheet), FACTS);
      const picture = render(pdf, 1, DPI, { x: 11, y: 9, width: width + 2, height: height + 2 });
      const across = crossings(picture, 'level', 1 + height / 2);
      const down = crossings(picture, 'upright', 1 + width * 0.8);
      expect(across.at(-1)! - across[0]!).toBeCloseTo(width, 1);
      expect(down.at(-1)! - down[0]!).toBeCloseTo(height, 1);
    });

    it('a piece of six yards: longer than 200 inches, so its unit is larger than 1/72 inch', async () => {
      // 216 in need a unit of at least 216 / 200 = 1.08 (ISO 32000-1, annex C: 14 400 units).
      const strip = pieceFromRectangle({ id: 'square', name: 'Strip', acrossMm: 50, alongMm: 216 * 25.4 });
      const pdf = await sheetsToPdf(fullPieceSheets([strip], OWN, { ...FULL, paper: 'one' }), FACTS);
      const unit = Number(/\/UserUnit ([\d.]+)/.exec(Buffer.from(pdf).toString('latin1'))![1]);
      expect(unit).toBeGreaterThanOrEqual(1.08);
      const [width, height] = /([\d.]+) x ([\d.]+) pts/.exec(info(pdf)['Page size']!)!.slice(1).map(Number);
      expect(Math.max(width!, height!)).toBeLessThanOrEqual(14_400);
      expect((height! * unit * 25.4) / 72).toBeCloseTo(216 * 25.4 + 20 + 8 + 50.8 + 9, 1);
    });

    it('pages have the sizes of their papers', async () => {
      const { lay: of, project: own } = singleLayer();
      for (const [page, size] of [
        ['a4', '595.276 x 841.89 pts (A4)'],
        ['letter', '612 x 792 pts (letter)'],
      ] as const) {
        expect(info(await sheetsToPdf(planSheets(of, own, { page, units: 'cm' }), FACTS))['Page size']).toBe(
          size,
        );
      }
    });
  },
);
