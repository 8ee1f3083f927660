import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ClothLay, type Project, SPREADS } from '../../pattern/exchange/project.ts';
import {
  blockCuts,
  type CutPiece,
  type CutStep,
  cuttingOrder,
  cuttingTable,
  freeRectangles,
  layPositions,
  orderSheets,
  stepWords,
  tablePlaces,
} from '../../pattern/output/index.ts';
import { flatItems } from '../../pattern/plan/index.ts';
import { type Bounds, bounds } from '../../pattern/plan/intervals.ts';
import { singleLayer } from '../plan/sampleLays.ts';
import { GUSSET, rect } from '../support/handmadeLays.ts';
import { layOf, smallProject } from '../support/layOf.ts';
import { SAMPLES } from './samples.ts';

const INCH = 25.4;

function block(
  tag: string,
  x: number,
  y: number,
  width: number,
  height: number,
  more: Partial<CutPiece> = {},
): CutPiece {
  const outline = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ] as const;
  return { tag, key: tag, pieceId: tag, hand: 'plain', held: false, outline, ...more };
}

/** A sheet cut straight through again and again: what straight cuts alone can take apart. */
const guillotine = fc
  .tuple(
    fc.array(fc.tuple(fc.boolean(), fc.integer({ min: 20, max: 80 }), fc.nat(40)), { maxLength: 14 }),
    fc.constantFrom(0, 2, 8),
  )
  .map(([splits, gap]) => {
    let cells: Bounds[] = [{ minX: 0, maxX: 2000, minY: 0, maxY: 1400 }];
    for (const [across, percent, pick] of splits) {
      const at = pick % cells.length;
      const cell = cells[at]!;
      const [low, high] = across ? [cell.minX, cell.maxX] : [cell.minY, cell.maxY];
      if (high - low < 120) continue;
      const middle = Math.round(low + ((high - low) * percent) / 100);
      const halves = across
        ? [
            { ...cell, maxX: middle },
            { ...cell, minX: middle },
          ]
        : [
            { ...cell, maxY: middle },
            { ...cell, minY: middle },
          ];
      cells = [...cells.slice(0, at), ...halves, ...cells.slice(at + 1)];
    }
    return cells.map((cell, i) =>
      block(
        `P${i}`,
        cell.minX + gap / 2,
        cell.minY + gap / 2,
        cell.maxX - cell.minX - gap,
        cell.maxY - cell.minY - gap,
      ),
    );
  });

/** Rectangles anywhere that don't overlap. */
const scattered = fc
  .array(
    fc.tuple(fc.nat(1500), fc.nat(900), fc.integer({ min: 30, max: 500 }), fc.integer({ min: 30, max: 400 })),
    {
      minLength: 1,
      maxLength: 25,
    },
  )
  .map((boxes) => {
    const kept: CutPiece[] = [];
    for (const [x, y, width, height] of boxes) {
      const clear = kept.every(({ outline }) => {
        const b = bounds(outline);
        return b.maxX <= x || b.minX >= x + width || b.maxY <= y || b.minY >= y + height;
      });
      if (clear) kept.push(block(`P${kept.length}`, x, y, width, height));
    }
    return kept;
  });

const SHEET = { minX: 0, maxX: 2000, minY: 0, maxY: 1400, onFold: false };

/** No ruler line runs through a piece: what a blade would do to it. */
function expectNoPieceCut(pieces: readonly CutPiece[], cuts: ReturnType<typeof blockCuts>): void {
  for (const cut of cuts) {
    if (cut.kind !== 'straight') continue;
    for (const { at, from, to } of cut.lines) {
      for (const { outline, tag } of pieces) {
        const b = bounds(outline);
        const [low, high, sideLow, sideHigh] = cut.across
          ? [b.minX, b.maxX, b.minY, b.maxY]
          : [b.minY, b.maxY, b.minX, b.maxX];
        const isCrossed = at > low + 0.6 && at < high - 0.6 && from < sideHigh - 0.6 && to > sideLow + 0.6;
        expect(isCrossed ? `${tag} cut at ${at}` : '').toBe('');
      }
    }
  }
}

function freedBy(cuts: ReturnType<typeof blockCuts>): string[] {
  return cuts.flatMap((cut) =>
    cut.kind === 'outline'
      ? [...cut.tags]
      : cut.parts.flatMap((part) => (part.kind === 'piece' ? [part.tag] : [])),
  );
}

/** Freed by straight cuts: each side lies on a line that runs along all of it, or on the sheet's own edge. */
function expectFreedAllRound(
  pieces: readonly CutPiece[],
  cuts: ReturnType<typeof blockCuts>,
  sheet: Bounds,
): void {
  const straight = cuts.flatMap((cut) => (cut.kind === 'straight' ? [cut] : []));
  const lines = straight.flatMap((cut) => cut.lines.map((line) => ({ ...line, across: cut.across })));
  for (const cut of straight) {
    for (const part of cut.parts) {
      if (part.kind !== 'piece') continue;
      const box = bounds(pieces.find(({ tag }) => tag === part.tag)!.outline);
      const has = (across: boolean, at: number, from: number, to: number, edge: readonly number[]) =>
        edge.some((value) => Math.abs(value - at) < 0.6) ||
        lines.some(
          (line) =>
            line.across === across &&
            Math.abs(line.at - at) < 0.6 &&
            line.from < from + 0.6 &&
            line.to > to - 0.6,
        );
      const sides = [
        has(true, box.minX, box.minY, box.maxY, [sheet.minX]),
        has(true, box.maxX, box.minY, box.maxY, [sheet.maxX]),
        has(false, box.minY, box.minX, box.maxX, [sheet.minY]),
        has(false, box.maxY, box.minX, box.maxX, [sheet.maxY]),
      ];
      expect([part.tag, ...sides]).toEqual([part.tag, true, true, true, true]);
    }
  }
}

describe('straight cuts', () => {
  it('take apart whatever was put together by straight cuts, without touching a piece', () => {
    fc.assert(
      fc.property(guillotine, (pieces) => {
        const cuts = blockCuts(pieces, SHEET);
        expectNoPieceCut(pieces, cuts);
        expectFreedAllRound(pieces, cuts, SHEET);
        if (pieces.length > 1) expect(cuts.filter(({ kind }) => kind === 'outline')).toEqual([]);
        expect(freedBy(cuts).sort()).toEqual(pieces.map(({ tag }) => tag).sort());
      }),
    );
  });

  it('free every piece once and cut none, however they lie', () => {
    fc.assert(
      fc.property(scattered, fc.boolean(), fc.boolean(), (pieces, onFold, onFoldHigh) => {
        const cuts = blockCuts(pieces, { ...SHEET, onFold, onFoldHigh });
        expectNoPieceCut(pieces, cuts);
        expectFreedAllRound(pieces, cuts, onFold ? { ...SHEET, minY: Number.NaN } : SHEET);
        expect(freedBy(cuts).sort()).toEqual(pieces.map(({ tag }) => tag).sort());
      }),
    );
  });

  it('are two strips of eight for twelve squares of 4½ in on 40 in', () => {
    // Counting of strips as in trade practice: Patchwork Times, “Calculating yardage” (2011),
    // https://patchworktimes.com/2011/11/12/calculating-yardage
    const side = 4.5 * INCH;
    const squares = Array.from({ length: 12 }, (_, i) =>
      block(`A${i + 1}`, Math.floor(i / 8) * side, (i % 8) * side, side, side),
    );
    const [first, ...rest] = blockCuts(squares, {
      minX: 0,
      maxX: 9 * INCH,
      minY: 0,
      maxY: 40 * INCH,
      onFold: false,
    });
    expect(first).toMatchObject({
      kind: 'straight',
      across: true,
      parts: [{ kind: 'block' }, { kind: 'block' }],
    });
    expect(first?.kind === 'straight' && first.lines.map(({ at }) => at / INCH)).toEqual([4.5]);
    expect(rest.map((cut) => (cut.kind === 'straight' ? cut.lines.length : 0))).toEqual([8, 4]);
    expect(rest.every((cut) => cut.kind === 'straight' && !cut.across)).toBe(true);
  });

  it('leave the fold whole where a half piece lies on it, and open it for a pair', () => {
    const half = block('A1', 0, 0, 300, 200, { hand: 'fold' });
    const pair = block('B1', 300, 0, 200, 200, { hand: 'pair' });
    const box = { minX: 0, maxX: 500, minY: 0, maxY: 500, onFold: true };
    const folds = (pieces: CutPiece[]) =>
      blockCuts(pieces, box).flatMap((cut) =>
        cut.kind === 'straight' ? cut.lines.filter(({ fold }) => fold).map(({ from, to }) => [from, to]) : [],
      );
    expect(folds([half])).toEqual([]);
    expect(folds([half, pair])).toEqual([[300, 500]]);
    expect(folds([pair])).toEqual([[300, 500]]);
  });
});

describe.each(SAMPLES)('the order of cutting of %s', (_name, make) => {
  const { lay, project } = make();
  const { stretches } = cuttingOrder(lay, project);

  it('frees every placed piece once, with steps numbered through', () => {
    const freed = stretches.flatMap(({ steps }) => steps.flatMap(({ frees }) => frees));
    expect(freed).toHaveLength(lay.segments.flatMap(({ placed }) => placed).length);
    expect(new Set(freed).size).toBe(freed.length);
    const numbers = stretches.flatMap(({ steps }) => steps.map(({ number }) => number));
    expect(numbers).toEqual(numbers.map((_, i) => i + 1));
  });

  it('cuts no piece', () => {
    for (const { pieces, steps } of stretches) {
      expectNoPieceCut(
        pieces,
        steps.flatMap(({ work }) => (work.kind === 'straight' ? [work] : [])),
      );
    }
  });

  it('tells of remainders in which nothing lies', () => {
    for (const { left, pieces } of stretches) {
      for (const box of left) {
        for (const { outline } of pieces) {
          const b = bounds(outline);
          // By boxes, so that only pieces that fill theirs can be held against it.
          if (outline.length !== 4) continue;
          const apart =
            b.maxX <= box.minX + 0.1 ||
            b.minX >= box.maxX - 0.1 ||
            b.maxY <= box.minY + 0.1 ||
            b.minY >= box.maxY - 0.1;
          expect(apart).toBe(true);
        }
      }
    }
  });

  it('is said on sheets: every step with its number', () => {
    lay.segments.forEach((_, segment) => {
      const sheets = orderSheets(lay, project, segment, { page: 'a4', units: 'cm' });
      const words = sheets
        .flatMap(({ drawing }) => flatItems(drawing))
        .flatMap((item) => (item.kind === 'text' ? [item.text] : []));
      for (const { number } of stretches[segment]?.steps ?? []) expect(words).toContain(String(number));
    });
  });
});

describe('what is held back', () => {
  const { lay, project } = singleLayer();
  const [first] = project.cutList;
  const held: Project = {
    ...project,
    cutList: project.cutList.map((row) => (row === first ? { ...row, heldBack: true } : row)),
  };

  it('comes last and is freed by no cut before', () => {
    const { stretches } = cuttingOrder(lay, held);
    const steps: CutStep[] = stretches.flatMap((stretch) => [...stretch.steps]);
    const last = steps.at(-1);
    expect(last?.work.kind).toBe('held');
    const placements = lay.segments
      .flatMap(({ placed }) => placed)
      .filter(({ pieceId }) => pieceId === first?.pieceId);
    expect(last?.frees).toHaveLength(placements.length);
    const before = steps.slice(0, -1).flatMap(({ frees }) => frees);
    expect(before.some((tag) => last?.frees.includes(tag))).toBe(false);
  });
});

describe('a table shorter than the cloth', () => {
  it('has each piece whole on one place, or hanging over where it is longer than the table', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(8000), fc.integer({ min: 20, max: 2500 })), { minLength: 1, maxLength: 30 }),
        fc.integer({ min: 600, max: 3000 }),
        (spans, tableMm) => {
          const pieces = spans.map(([from, length], i) => ({
            tag: `P${i}`,
            fromMm: from,
            toMm: from + length,
          }));
          const end = Math.max(...pieces.map(({ toMm }) => toMm));
          const places = tablePlaces(pieces, 0, end, tableMm);
          if (end <= tableMm) {
            expect(places).toEqual([]);
            return;
          }
          const told = places.flatMap(({ tags, hanging }) => [...tags, ...hanging]);
          expect([...told].sort()).toEqual(pieces.map(({ tag }) => tag).sort());
          for (const { fromMm, toMm, tags, hanging } of places) {
            expect(toMm - fromMm).toBeLessThanOrEqual(tableMm);
            for (const { tag, fromMm: a, toMm: b } of pieces) {
              if (tags.includes(tag)) expect(a >= fromMm - 1 && b <= toMm + 1).toBe(true);
              if (hanging.includes(tag)) expect(b - a).toBeGreaterThan(tableMm - 1);
            }
          }
        },
      ),
    );
  });
});

describe('remainders', () => {
  it('are as large as can be where everything lies on the grid', () => {
    // 400 × 300 with a corner of 100 × 100 taken: 300 × 300 or 400 × 200 are left, the first is larger.
    const corner = block('A', 0, 0, 100, 100).outline;
    const options = { leastSideMm: 50, leastAreaMm2: 100, most: 3 };
    const [largest, ...others] = freeRectangles(
      { minX: 0, maxX: 400, minY: 0, maxY: 300 },
      [corner],
      options,
    );
    expect(largest).toEqual({ minX: 100, maxX: 400, minY: 0, maxY: 300 });
    expect(others).toEqual([{ minX: 0, maxX: 100, minY: 100, maxY: 300 }]);
  });

  it('never reach into a piece or beyond the cloth', () => {
    fc.assert(
      fc.property(scattered, (pieces) => {
        const found = freeRectangles(
          SHEET,
          pieces.map(({ outline }) => outline),
          {
            leastSideMm: 20,
            leastAreaMm2: 400,
            most: 6,
          },
        );
        const boxes = [...pieces.map(({ outline }) => bounds(outline))];
        for (const box of found) {
          expect(box.minX >= 0 && box.minY >= 0 && box.maxX <= 2000.001 && box.maxY <= 1400.001).toBe(true);
          for (const b of boxes) {
            expect(
              b.maxX <= box.minX + 0.03 ||
                b.minX >= box.maxX - 0.03 ||
                b.maxY <= box.minY + 0.03 ||
                b.minY >= box.maxY - 0.03,
            ).toBe(true);
          }
          boxes.push(box);
        }
      }),
    );
  });
});

describe('words of a step', () => {
  it('give running lengths to a millimetre or a sixteenth, from the block’s own edge', () => {
    const lay: ClothLay = singleLayer().lay;
    expect(lay.segments).toHaveLength(1);
    const step: CutStep = {
      number: 3,
      frees: ['A1', 'A2'],
      work: {
        kind: 'straight',
        block: 2,
        inside: ['A1', 'A2'],
        across: false,
        from: 'blockLow',
        startMm: 100,
        lines: [
          { at: 100 + 6.5 * INCH, from: 0, to: 900, edges: ['A1'] },
          { at: 100 + 13 * INCH, from: 0, to: 900, edges: ['A2'] },
        ],
        parts: [
          { kind: 'piece', tag: 'A1', held: false },
          { kind: 'piece', tag: 'A2', held: false },
        ],
      },
    };
    expect(stepWords(step, 'in', 'no').at).toContain('6 1/2 · 13 in');
    expect(stepWords(step, 'mm', 'yes').at).toContain('165 · 330 mm');
    expect(stepWords(step, 'mm', 'yes').what).toContain('both layers');
  });
});

describe('every way to spread a roll', () => {
  const project = smallProject({
    pieces: [
      { name: 'Panel', outline: rect(420, 300), plain: 4, mirrored: 4 },
      { name: 'Gusset', outline: GUSSET, plain: 2, mirrored: 2 },
      { name: 'Strap', outline: rect(60, 500), plain: 3 },
      { name: 'Half', outline: rect(150, 320), onFold: 2, piece: { foldEdge: 3 } },
    ],
    cloth: { kind: 'roll', widthMm: 1400, selvedgeMm: 10, squaringMm: 15, squaringEndMm: 20, gapMm: 2 },
  });

  it.each(SPREADS)('%s: each placement is freed once and none is cut', async (spread) => {
    const { results } = await layOf(project, { spread, maxSteps: 10 });
    expect(results).toHaveLength(1);
    const lay = results[0]!;
    const { stretches } = cuttingOrder(lay, project);
    const freed = stretches.flatMap(({ steps }) => steps.flatMap(({ frees }) => frees));
    expect(freed).toHaveLength(lay.segments.flatMap(({ placed }) => placed).length);
    expect(new Set(freed).size).toBe(freed.length);
    for (const { pieces, steps, doubled, segment } of stretches) {
      expectNoPieceCut(
        pieces,
        steps.flatMap(({ work }) => (work.kind === 'straight' ? [work] : [])),
      );
      // A half piece is never cut along its fold.
      for (const { work } of steps) {
        if (work.kind !== 'straight') continue;
        const opened = work.lines.filter(({ fold }) => fold).flatMap(({ edges }) => edges);
        const halves = pieces.filter(({ hand }) => hand === 'fold').map(({ tag }) => tag);
        expect(opened.filter((tag) => halves.includes(tag))).toEqual([]);
      }
      const isSingle = lay.segments[segment]!.spread === 'single';
      expect(doubled === 'no').toBe(isSingle);
      const sheets = orderSheets(lay, project, segment, { page: 'letter', units: 'in' });
      expect(sheets.length > 0).toBe(steps.length > 0);
    }
  });
});

describe('the order of cutting as a table', () => {
  it.each(SAMPLES)('%s: frees each piece once, under the key it has in the positions', (_name, make) => {
    const { lay, project } = make();
    const { columns, rows } = cuttingTable([lay], project);
    const at = columns.indexOf('key');
    const freed = rows.flatMap((row) => (row[at] === null ? [] : [String(row[at])]));
    const keys = layPositions(lay, project).flatMap(({ pieces }) => pieces.map(({ tag }) => tag));
    expect(freed.sort()).toEqual(keys.sort());
    for (const row of rows) expect(row).toHaveLength(columns.length);
  });
});
