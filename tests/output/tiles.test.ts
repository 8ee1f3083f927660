import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demoProject } from '../../pattern/demo/demoProject.ts';
import {
  fullLaySheets,
  fullLaysFault,
  fullPieceSheets,
  fullPiecesFault,
  TILE_PAPERS,
  tileFault,
  tileLayout,
} from '../../pattern/output/index.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { elevenMetres, nothingFits } from '../plan/extremeLays.ts';
import { singleLayer, twoSegments } from '../plan/sampleLays.ts';
import { area, rect } from '../support/handmadeLays.ts';

const INCH = 25.4;

describe('papers', () => {
  it('have the sizes of ISO 216 and ANSI/ASME Y14.1', () => {
    const sizes = Object.fromEntries(Object.entries(TILE_PAPERS).map(([k, p]) => [k, [p.width, p.height]]));
    expect(sizes).toEqual({
      a0: [841, 1189],
      a1: [594, 841],
      a4: [210, 297],
      a3: [297, 420],
      letter: [expect.closeTo(8.5 * INCH, 9), 11 * INCH],
      tabloid: [11 * INCH, expect.closeTo(17 * INCH, 9)],
      both: [210, 11 * INCH],
    });
  });
});

describe('a shape divided over sheets', () => {
  it('of 33 × 47 in takes 25 sheets that fit A4 and Letter', () => {
    // ceil(838 / 190) × ceil(1194 / 259.4): the part common to both papers less 10 mm all round.
    const layout = tileLayout([rect(33 * INCH, 47 * INCH)], { paper: 'both', marginMm: 10, overlapMm: 0 });
    expect([layout.frameWidth, layout.frameHeight]).toEqual([190, expect.closeTo(259.4, 9)]);
    expect([layout.columns, layout.rows, layout.tiles.length]).toEqual([5, 5, 25]);
    // 4 × 5 joins side by side, 5 × 4 one above the other.
    expect(layout.joins.map(({ number }) => number)).toEqual(Array.from({ length: 40 }, (_, i) => i + 1));
  });

  it('takes one sheet when it is exactly as large as the frame, two when it is 0.1 mm longer', () => {
    const options = { paper: 'a4', marginMm: 10, overlapMm: 0 } as const;
    expect(tileLayout([rect(190, 277)], options).tiles).toHaveLength(1);
    expect(tileLayout([rect(190, 277.1)], options).tiles).toHaveLength(2);
  });

  it('turns the paper where that saves sheets', () => {
    const layout = tileLayout([rect(550, 180)], { paper: 'a4', marginMm: 10, overlapMm: 0 });
    expect([layout.pageWidth, layout.tiles.length]).toEqual([297, 2]);
  });

  it('takes from a roll what it needs, in equal parts where that is longer than a page may be', () => {
    const roll = { paper: 'roll', rollMm: 914.4, marginMm: 10, overlapMm: 0 } as const;
    const short = tileLayout([rect(3000, 800)], roll);
    expect(short.tiles).toHaveLength(1);
    expect(Math.max(short.pageWidth, short.pageHeight)).toBeCloseTo(3020, 6);
    // 200 in is the longest page (ISO 32000-1, annex C).
    const long = tileLayout([rect(5089, 800)], roll);
    expect(long.tiles).toHaveLength(2);
    expect(Math.max(long.pageWidth, long.pageHeight)).toBeCloseTo(5089 / 2 + 20, 6);
    const lapped = tileLayout([rect(12_000, 800)], { ...roll, overlapMm: 20 });
    expect(lapped.tiles).toHaveLength(3);
    expect(3 * Math.max(lapped.frameWidth, lapped.frameHeight) - 2 * 20).toBeCloseTo(12_000, 6);
  });

  it('leaves out sheets without a part of it', () => {
    // An L: its inner corner stays free of the last sheet.
    const corner = [
      [0, 0],
      [700, 0],
      [700, 90],
      [90, 90],
      [90, 1000],
      [0, 1000],
    ] as const;
    const options = { paper: 'a4', marginMm: 10, overlapMm: 0 } as const;
    const layout = tileLayout([corner], options);
    expect(layout.tiles.length).toBeLessThan(layout.columns * layout.rows);
    for (const { first, second } of layout.joins) {
      expect(layout.tiles).toContain(first);
      expect(layout.tiles).toContain(second);
    }
  });

  it('is shown whole, whatever its size, margin and overlap', () => {
    const numbers = fc.record({
      width: fc.double({ min: 5, max: 2500, noNaN: true }),
      height: fc.double({ min: 5, max: 2500, noNaN: true }),
      marginMm: fc.double({ min: 10, max: 40, noNaN: true }),
      overlapMm: fc.double({ min: 0, max: 30, noNaN: true }),
      paper: fc.constantFrom('a4', 'a3', 'letter', 'tabloid', 'both'),
    });
    fc.assert(
      fc.property(numbers, ({ width, height, ...options }) => {
        const layout = tileLayout([rect(width, height)], options);
        const { frameWidth, frameHeight, overlapMm } = layout;
        // A rectangle needs every sheet, and the parts shown, each overlap once, add up to it.
        expect(layout.tiles).toHaveLength(layout.columns * layout.rows);
        const shown = (at: number, size: number, limit: number) =>
          Math.max(0, Math.min(limit, at + size) - Math.max(0, at));
        const across = layout.tiles.filter(({ row }) => row === 0);
        const along = layout.tiles.filter(({ column }) => column === 0);
        const sum = (parts: number[], size: number) =>
          parts.reduce((a, b) => a + b, 0) - (parts.length - 1) * overlapMm - size;
        expect(
          sum(
            across.map(({ x }) => shown(x, frameWidth, width)),
            width,
          ),
        ).toBeCloseTo(0, 5);
        expect(
          sum(
            along.map(({ y }) => shown(y, frameHeight, height)),
            height,
          ),
        ).toBeCloseTo(0, 5);
      }),
      { numRuns: 200 },
    );
  });

  it('is refused in words where margins or overlap leave nothing', () => {
    expect(tileFault({ paper: 'a4', marginMm: 120, overlapMm: 0 })).toBe(
      'Margins of 120 mm leave too little of A4: at most 85 mm.',
    );
    expect(tileFault({ paper: 'a4', marginMm: 5, overlapMm: 0 })).toContain('too small');
    expect(tileFault({ paper: 'letter', marginMm: 10, overlapMm: 150 })).toContain('overlap');
    for (const rollMm of [50, 6000]) {
      expect(tileFault({ paper: 'roll', rollMm, marginMm: 10, overlapMm: 0 })).toContain('from a roll');
    }
    expect(tileFault({ paper: 'roll', rollMm: 610, marginMm: 10, overlapMm: 0 })).toBeNull();
    expect(tileFault({ paper: 'a4', marginMm: Number.NaN, overlapMm: 0 })).not.toBeNull();
    expect(() => tileLayout([rect(10, 10)], { paper: 'a4', marginMm: 120, overlapMm: 0 })).toThrow(
      RangeError,
    );
  });
});

describe('pieces in full size', () => {
  const project = demoProject();
  const options = { paper: 'a4', marginMm: 10, overlapMm: 0, unfold: false, units: 'cm' } as const;

  it('begin with the squares to measure and a map, and number every sheet', () => {
    const sheets = fullPieceSheets(project.pieces, project, options);
    const squares = flatItems(sheets[0]!.drawing)
      .filter((item) => item.kind === 'path' && item.role === 'dimension')
      .flatMap((item) => (item.kind === 'path' ? item.lines : []))
      .map((ring) => Math.sqrt(area(ring)));
    expect(squares).toEqual([expect.closeTo(50, 9), expect.closeTo(2 * INCH, 9)]);
    const bookmarks = sheets.flatMap(({ bookmark }) => bookmark ?? []);
    expect(bookmarks).toHaveLength(project.pieces.length + 1);
    expect(bookmarks[1]).toBe('Body panel (4 sheets)');
  });

  it('keep every mark at least 10 mm from the edge of the paper', () => {
    for (const overlapMm of [0, 10]) {
      for (const { drawing, windows } of fullPieceSheets(project.pieces, project, {
        ...options,
        overlapMm,
      })) {
        const marks = flatItems(drawing).flatMap((item) =>
          item.kind === 'text' ? [[item.x, item.y] as const] : item.role === 'page' ? [] : item.lines.flat(),
        );
        for (const [x, y] of marks) {
          expect(Math.min(x, y, drawing.widthMm - x, drawing.heightMm - y)).toBeGreaterThanOrEqual(10 - 1e-9);
        }
        for (const { clip } of windows ?? []) {
          expect(Math.min(clip.x, clip.y)).toBeGreaterThanOrEqual(9);
        }
      }
    }
  });

  it('show the same at the same place on neighbouring sheets', () => {
    const [, first, second] = fullPieceSheets([project.pieces[0]!], project, { ...options, overlapMm: 10 });
    const [one, other] = [first!.windows![0]!, second!.windows![0]!];
    expect(one.drawing).toBe(other.drawing);
    // The second sheet begins where the first ends, less the overlap.
    expect(one.x - other.x).toBeCloseTo(277 - 10, 9);
    expect(one.y).toBeCloseTo(other.y, 9);
  });

  it('are opened out about the fold when that is asked for: twice the area', () => {
    const half = project.pieces.find(({ foldEdge }) => foldEdge !== null)!;
    const shown = (unfold: boolean) =>
      fullPieceSheets([half], project, { ...options, paper: 'one', unfold })[0]!.windows![0]!.drawing;
    const cut = (unfold: boolean) => {
      const edge = flatItems(shown(unfold)).find((item) => item.role === 'piece-edge');
      return edge?.kind === 'path' ? area(edge.lines[0]!) : 0;
    };
    expect(cut(true)).toBeCloseTo(2 * cut(false), 3);
    expect(shown(true).widthMm).toBeCloseTo(2 * shown(false).widthMm, 6);
    expect(flatItems(shown(false)).some((item) => item.role === 'fold-edge')).toBe(true);
    expect(flatItems(shown(true)).some((item) => item.role === 'fold-edge')).toBe(false);
  });

  it('are not called cut on the fold where they are drawn opened out', () => {
    const half = project.pieces.find(({ foldEdge }) => foldEdge !== null)!;
    const said = (unfold: boolean): string =>
      fullPieceSheets([half], project, { ...options, paper: 'one', unfold })
        .flatMap(({ windows = [] }) => windows.flatMap(({ drawing }) => flatItems(drawing)))
        .flatMap((item) => (item.kind === 'text' ? [item.text] : []))
        .join(' ');
    expect(said(false)).toMatch(/cut 2 on the fold/);
    expect(said(true)).toMatch(/cut 2 opened out, from a single layer/);
    expect(said(true)).not.toMatch(/on the fold/);
  });

  it('name at the foot of every sheet the page of the file to print it again by', () => {
    const sheets = fullPieceSheets(project.pieces, project, options);
    const pages = sheets.map(({ drawing, windows }) => {
      const foot = flatItems(drawing).flatMap((item) =>
        item.kind === 'text' ? (/page (\d+) of the file/.exec(item.text)?.[1] ?? []) : [],
      );
      return windows ? Number(foot[0]) : null;
    });
    expect(pages).toEqual(sheets.map(({ windows }, i) => (windows ? i + 1 : null)));
  });

  it('lie on one sheet of their own size where that is asked for', () => {
    const [sheet] = fullPieceSheets([project.pieces[0]!], project, { ...options, paper: 'one' });
    expect(sheet!.drawing.widthMm).toBeCloseTo(460 + 20, 6);
    expect(sheet!.windows![0]!.drawing.heightMm).toBeCloseTo(310, 6);
  });

  it('are refused in words where they would take thousands of sheets', () => {
    const huge = { ...project.pieces[0]!, outline: rect(90_000, 50_000), marks: [], holes: [] };
    expect(fullPiecesFault([huge], options)).toMatch(/^That would be up to \d+ sheets of A4; at most 1000/);
    expect(fullPiecesFault(project.pieces, options)).toBeNull();
    expect(fullPiecesFault([huge], { ...options, paper: 'one' })).toBeNull();
  });
});

describe('lays in full size', () => {
  const options = { paper: 'one', marginMm: 10, overlapMm: 0, units: 'cm' } as const;

  it('show every placed piece where it lies, one drawing for each part', () => {
    const { lay, project } = twoSegments();
    const sheets = fullLaySheets([lay], project, options);
    expect(sheets).toHaveLength(2);
    sheets.forEach(({ windows }, i) => {
      const { drawing } = windows![0]!;
      const edges = flatItems(drawing).filter((item) => item.role === 'piece-edge');
      const { placed, lengthMm } = lay.segments[i]!;
      expect(edges).toHaveLength(placed.length);
      edges.forEach((edge, n) => {
        const ring = edge.kind === 'path' ? edge.lines[0]! : [];
        expect(area(ring)).toBeCloseTo(area(placed[n]!.outline), 3);
        const up = (points: readonly (readonly [number, number])[], axis: 0 | 1) =>
          points[1]![axis] - points[0]![axis];
        // The page's y runs down, the cloth's up.
        expect(up(ring, 0)).toBeCloseTo(up(placed[n]!.outline, 0), 6);
        expect(up(ring, 1)).toBeCloseTo(-up(placed[n]!.outline, 1), 6);
      });
      expect(drawing.widthMm).toBeGreaterThanOrEqual(lengthMm);
    });
  });

  it('are divided over sheets like a piece, and leave out sheets without one', () => {
    const { lay, project } = singleLayer();
    const [cover, ...sheets] = fullLaySheets([lay], project, { ...options, paper: 'a3' });
    expect(cover!.bookmark).toBe('How to print, and maps');
    // 125.6 × 145 cm of cloth in frames of 27.7 × 40 cm.
    expect(sheets.length).toBeGreaterThan(12);
    expect(sheets.length).toBeLessThanOrEqual(20);
  });

  it('are refused in words where there is nothing to show or far too much', () => {
    const { lay, project } = nothingFits();
    expect(fullLaysFault([lay], project, options)).toBe('No piece lies on the cloth yet.');
    const long = elevenMetres();
    expect(fullLaysFault(Array(5).fill(long.lay), long.project, { ...options, paper: 'a4' })).toMatch(
      /^That would be up to \d+ sheets of A4/,
    );
    expect(fullLaysFault([long.lay], long.project, options)).toBeNull();
  });
});
