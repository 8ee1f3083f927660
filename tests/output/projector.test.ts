import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import {
  fullPieceSheets,
  projectorLaySheets,
  projectorPieceSheets,
  type Sheet,
} from '../../pattern/output/index.ts';
import { wholeShape } from '../../pattern/pieces/index.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { bounds } from '../../pattern/plan/intervals.ts';
import { drawingToSvg } from '../../pattern/plan/svg.ts';
import { singleLayer } from '../plan/sampleLays.ts';

const paths = (sheet: Sheet, role: string) =>
  flatItems(sheet.drawing).flatMap((item) => (item.kind === 'path' && item.role === role ? item.lines : []));
const texts = (sheet: Sheet) =>
  flatItems(sheet.drawing).flatMap((item) => (item.kind === 'text' ? [item] : []));

describe('a projector sheet', () => {
  const project = demoProject();
  const pieces = project.pieces.filter(({ id }) => id === 'gusset' || id === 'lining-body');
  const sheets = (mirrored: boolean) =>
    projectorPieceSheets(pieces, project, { units: 'cm', mirrored, unfold: true });

  it('begins with a grid whose outer lines are half a metre apart', () => {
    const [first] = sheets(false);
    const box = bounds([...paths(first!, 'light-line').flat()]);
    expect(box.maxX - box.minX).toBeCloseTo(500, 6);
    expect(box.maxY - box.minY).toBeCloseTo(500, 6);
  });

  it('shows each piece in true size, half pieces opened out', () => {
    pieces.forEach((piece, i) => {
      const outline = paths(sheets(false)[i + 1]!, 'light-line').sort((a, b) => b.length - a.length)[0]!;
      const shown = bounds(outline);
      const real = bounds(wholeShape(piece).outline.map(([x, y]) => [x, y] as const));
      expect(shown.maxX - shown.minX).toBeCloseTo(real.maxX - real.minX, 6);
      expect(shown.maxY - shown.minY).toBeCloseTo(real.maxY - real.minY, 6);
    });
  });

  it('turns lines over for cloth that lies face down, and leaves words readable where they belong', () => {
    const [plain, turned] = [sheets(false)[1]!, sheets(true)[1]!];
    const outline = bounds(paths(plain, 'light-line').flat());
    const width = outline.minX + outline.maxX;
    const over = paths(plain, 'light-line').map((line) => line.map(([x, y]) => [width - x, y]));
    paths(turned, 'light-line').forEach((line, i) => {
      line.forEach(([x, y], j) => {
        expect(x).toBeCloseTo(over[i]![j]![0]!, 6);
        expect(y).toBeCloseTo(over[i]![j]![1]!, 6);
      });
    });
    const name = (sheet: Sheet) => texts(sheet).find(({ text }) => text === 'Side gusset')!;
    expect(name(turned).x).toBeCloseTo(width - name(plain).x, 6);
    expect(drawingToSvg(turned.drawing)).not.toMatch(/scale\(-1/);
  });

  it('is dark to its edges', () => {
    const { lay, project: sample } = singleLayer();
    for (const sheet of projectorLaySheets([lay], sample, { units: 'in', mirrored: false })) {
      const page = bounds(paths(sheet, 'dark-page').flat());
      expect([page.maxX, page.maxY]).toEqual([sheet.drawing.widthMm, sheet.drawing.heightMm]);
    }
  });
});

describe('pieces on large paper', () => {
  const project = demoProject();
  const options = { units: 'cm', marginMm: 10, overlapMm: 0, unfold: true } as const;

  it('share sheets without touching, each once', () => {
    const sheets = fullPieceSheets(project.pieces, project, { ...options, paper: 'a0' });
    const shown = sheets.flatMap(({ windows = [] }) => windows.map(({ drawing }) => drawing));
    const rings = shown.flatMap((drawing) =>
      flatItems(drawing).flatMap((item) =>
        item.kind === 'path' && item.role === 'piece-edge' ? [{ drawing, box: bounds(item.lines[0]!) }] : [],
      ),
    );
    expect(rings).toHaveLength(project.pieces.length);
    for (const [i, one] of rings.entries()) {
      for (const other of rings.slice(i + 1)) {
        if (one.drawing !== other.drawing) continue;
        const apart =
          one.box.maxX < other.box.minX ||
          other.box.maxX < one.box.minX ||
          one.box.maxY < other.box.minY ||
          other.box.maxY < one.box.minY;
        expect(apart).toBe(true);
      }
    }
    // ISO 216: A0 is 841 × 1189 mm.
    const sizes = sheets.map(({ drawing }) => [drawing.widthMm, drawing.heightMm].sort((a, b) => a - b));
    expect(sizes.slice(1).every(([a, b]) => a === 841 && b === 1189)).toBe(true);
  });

  it('come off a roll no longer than they need, and in parts of at most 200 in', () => {
    const roll = { ...options, paper: 'roll', rollMm: 914.4 } as const;
    for (const { drawing } of fullPieceSheets(project.pieces, project, roll)) {
      expect(Math.min(drawing.widthMm, drawing.heightMm)).toBeLessThanOrEqual(914.4);
      // ISO 32000-1, annex C: 14 400 units of 1/72 in.
      expect(Math.max(drawing.widthMm, drawing.heightMm)).toBeLessThanOrEqual(5080);
    }
    const [strap] = project.pieces.filter(({ id }) => id === 'strap');
    // 6 yd, which is 216 in: too long for one page.
    const long = { ...strap!, outline: strap!.outline.map(([x, y]) => [x, y > 0 ? 6 * 914.4 : y] as const) };
    const sheets = fullPieceSheets([long], project, roll);
    expect(sheets.filter(({ windows }) => windows)).toHaveLength(2);
  });
});
