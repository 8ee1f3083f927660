import { describe, expect, it } from 'vitest';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { box, layOf, smallProject, solveChecked } from '../support/layOf.ts';

const remnant = (over: object = {}): object => ({ kind: 'remnant', outline: box(500, 400), ...over });
const panel = (width: number, height: number, plain: number): object[] => [
  { name: 'panel', outline: box(width, height), plain },
];
const judge = async (cloth: object, pieces: object[]) =>
  (await layOf(smallProject({ cloth, pieces: pieces as never }), { maxSteps: 30 })).results[0]!;

describe('does it fit this remnant?', () => {
  it('says fits with the layout', async () => {
    const lay = await judge(remnant(), panel(190, 240, 4));
    expect(lay.verdict).toBe('fits');
    expect(lay.segments[0]!.placed).toHaveLength(4);
    expect(lay.unplaced).toEqual([]);
    expect(lay.usePercent).toBeCloseTo((100 * 4 * 190 * 240) / (500 * 400), 6);
  });

  it('proves a lack of area, and still shows how many there is room for', async () => {
    const lay = await judge(remnant(), panel(180, 240, 5));
    expect(lay.verdict).toBe('cannot fit');
    expect(lay.reason).toMatch(/^The pieces together have 160 cm² more area than the cloth\.$/);
    expect(lay.segments[0]!.placed).toHaveLength(4);
    expect(lay.unplaced).toEqual([{ pieceId: 'panel', plain: 1, mirrored: 0, onFold: 0 }]);
  });

  it('proves that a piece is too long for it, by name and amount', async () => {
    const lay = await judge(remnant(), panel(50, 512, 1));
    expect(lay.verdict).toBe('cannot fit');
    expect(lay.reason).toMatch(/panel is longer than the cloth in every allowed direction, by 1\.2 cm/);
  });

  it('proves that a flaw leaves no place', async () => {
    const burn = [
      [240, 190],
      [260, 190],
      [260, 210],
      [240, 210],
    ];
    const lay = await judge(remnant({ flaws: [burn] }), panel(210, 260, 1));
    expect(lay.verdict).toBe('cannot fit');
    expect(lay.reason).toMatch(/no place on this cloth where panel could lie/);
  });

  it('keeps a margin along the edge', async () => {
    const cloth = (edgeMarginMm: number): object => remnant({ edgeMarginMm });
    expect((await judge(cloth(0), panel(400, 500, 1))).verdict).toBe('fits');
    expect((await judge(cloth(5), panel(400, 500, 1))).verdict).toBe('cannot fit');
    expect((await judge(cloth(5), panel(390, 490, 1))).verdict).toBe('fits');
  });
});

describe('remnants before new cloth', () => {
  const project = smallProject({
    cloth: { id: 'scrap', name: 'scrap', ...remnant() },
    pieces: [{ name: 'panel', outline: box(190, 240), plain: 6 }],
  });
  const roll = {
    kind: 'roll' as const,
    id: 'roll',
    name: 'roll',
    materialId: 'cloth',
    widthMm: 1000,
  };

  it('gives the roll only what the remnant has no room for', async () => {
    const request = layRequestSchema.parse({
      project: { ...project, cloths: [...project.cloths, roll] },
      choices: [{ materialId: 'cloth', clothIds: ['scrap', 'roll'], spread: 'compare' }],
      maxSteps: 30,
    });
    const { results } = await runLay(request, solveChecked, () => {}, new AbortController().signal);
    expect(results.map(({ clothId, spread, verdict }) => `${clothId} ${spread} ${verdict}`)).toEqual([
      'scrap single cannot fit',
      'roll single fits',
      'roll folded fits',
      'roll sequence fits',
      'roll partial fits',
      'roll middle fits',
      'roll crosswise fits',
    ]);
    const placed = results.map((lay) => lay.segments.flatMap((segment) => segment.placed).length);
    expect(placed.slice(0, 3)).toEqual([4, 2, 1]);
    // Two panels beside each other, or one placement on doubled cloth: 24 cm, bought in steps of 10 cm.
    expect(results.slice(1).map((lay) => lay.buyMm)).toEqual([300, 300, 300, 300, 300, 500]);
  });

  it('says what is short when the shop has too little left', async () => {
    const request = layRequestSchema.parse({
      project: { ...project, cloths: [{ ...roll, availableMm: 200 }] },
      maxSteps: 30,
    });
    const { results } = await runLay(request, solveChecked, () => {}, new AbortController().signal);
    expect(results[0]!.verdict).toBe('not found');
    expect(results[0]!.reason).toMatch(/needs 48 cm; there are 20 cm: 28 cm short/);
  });
});

describe('bad cloth and empty lists', () => {
  it('speaks of selvedges that leave nothing', async () => {
    const { results, notices } = await layOf(
      smallProject({
        cloth: { kind: 'roll', widthMm: 100, selvedgeMm: 60 },
        pieces: panel(10, 10, 1) as never,
      }),
    );
    expect(results).toEqual([]);
    expect(notices.map((notice) => notice.code)).toEqual(['noUsableCloth']);
  });

  it('speaks of a margin that eats the remnant', async () => {
    const { notices } = await layOf(
      smallProject({ cloth: remnant({ edgeMarginMm: 250 }), pieces: panel(10, 10, 1) as never }),
    );
    expect(notices.map((notice) => notice.code)).toEqual(['noUsableCloth']);
  });

  it('speaks of a material with nothing to cut', async () => {
    const { results, notices } = await layOf(
      smallProject({ cloth: remnant(), pieces: panel(10, 10, 0) as never }),
    );
    expect(results).toEqual([]);
    expect(notices.map((notice) => notice.code)).toEqual(['nothingToCut']);
  });

  it('lays a vinyl in a single layer when doubled was asked for, and says why', async () => {
    const { results, notices } = await layOf(
      smallProject({
        cloth: { kind: 'roll', widthMm: 1400, foldable: false },
        pieces: panel(100, 100, 2) as never,
      }),
      { spread: 'folded' },
    );
    expect(results.map((lay) => lay.spread)).toEqual(['single']);
    expect(notices.map((notice) => notice.code)).toEqual(['spread.notFoldable']);
  });
});
