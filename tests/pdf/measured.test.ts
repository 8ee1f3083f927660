import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import { pieceFromRectangle } from '../../pattern/measurements/index.ts';
import {
  fullLaySheets,
  fullPieceSheets,
  type LabelSheet,
  labelSheets,
  labelSize,
  labelsFor,
  planSheets,
  projectorLaySheets,
  projectorPieceSheets,
  TEST_SQUARES,
} from '../../pattern/output/index.ts';
import { type Drawing, drawLay, flatItems } from '../../pattern/plan/index.ts';
import { bounds } from '../../pattern/plan/intervals.ts';
import { drawingToPdf, sheetsToPdf } from '../../server/pdf/sheetsToPdf.ts';
import { singleLayer } from '../plan/sampleLays.ts';
import { lay, placeAtCorner, project } from '../support/handmadeLays.ts';
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

/**
 * Both spans of the closed line whose upper left corner is about here, measured in the rendered page.
 * @param light the line is light on a dark page
 */
function measured(
  pdf: Uint8Array,
  page: number,
  x: number,
  y: number,
  side: number,
  light = false,
): [number, number] {
  const room = 2;
  const seen = render(pdf, page, DPI, {
    x: x - room,
    y: y - room,
    width: side + 2 * room,
    height: side + 2 * room,
  });
  // A grid line of the dark page itself is far below half as light as what is drawn on it.
  const picture = light
    ? { ...seen, grey: seen.grey.map((value) => (value > 127 ? 255 - value : 255)) }
    : seen;
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

    it('a piece of 5 cm and the squares of the grid for a projector, mirrored or not', async () => {
      for (const mirrored of [false, true]) {
        const sheets = projectorPieceSheets([SQUARE], OWN, { units: 'cm', mirrored, unfold: false });
        const pdf = await sheetsToPdf(sheets, FACTS);
        const corners = flatItems(sheets[1]!.drawing)
          .flatMap((item) => (item.kind === 'path' && item.role === 'light-line' ? item.lines : []))
          .flat();
        const { minX, minY } = bounds(corners);
        for (const sides of [measured(pdf, 1, 40, 40, 50, true), measured(pdf, 2, minX, minY, 50, true)]) {
          for (const side of sides) expect(Math.abs(side - 50)).toBeLessThanOrEqual(TOLERANCE_MM);
        }
      }
    });

    it('a piece of 5 cm in a lay in full size, on paper and for a projector', async () => {
      const own = lay(OWN, [
        {
          spread: 'single',
          widthMm: 150,
          lengthMm: 110,
          placed: [placeAtCorner(SQUARE, { x: 30, y: 50 })],
        },
      ]);
      const edge = (drawing: Drawing, role: string) =>
        bounds(
          flatItems(drawing)
            .flatMap((item) => (item.kind === 'path' && item.role === role && item.closed ? item.lines : []))
            .flat(),
        );
      const paper = fullLaySheets([own], OWN, { paper: 'one', marginMm: 10, overlapMm: 0, units: 'cm' });
      const [sheet] = paper;
      const window = sheet!.windows?.[0];
      const drawn = window?.drawing ?? sheet!.drawing;
      const onPaper = edge(drawn, 'piece-edge');
      const dark = projectorLaySheets([own], OWN, { units: 'cm', mirrored: false });
      const onDark = edge(dark[1]!.drawing, 'light-line');
      for (const sides of [
        measured(
          await sheetsToPdf(paper, FACTS),
          1,
          onPaper.minX + (window?.x ?? 0),
          onPaper.minY + (window?.y ?? 0),
          50,
        ),
        measured(await sheetsToPdf(dark, FACTS), 2, onDark.minX, onDark.minY, 50, true),
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
