import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../nesting/index.ts';
import { verify } from '../../nesting/verify/index.ts';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import type { ClothLay, Project, Spread } from '../../pattern/exchange/project.ts';
import { countHands } from '../../pattern/lay/countHands.ts';
import { demandsFor } from '../../pattern/lay/demands.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { spreadsOf } from '../../pattern/lay/spreadsOf.ts';
import { box, HOOKED, INCH, layOf, rollOf, smallProject, solveChecked } from '../support/layOf.ts';

async function laid(project: Project, spread: Spread): Promise<ClothLay> {
  const { results } = await layOf(project, { spread });
  expect(results).toHaveLength(1);
  return results[0]!;
}

const inches = ({ usedMm }: ClothLay): number => usedMm / INCH;
const stretches = ({ segments }: ClothLay): string[] => segments.map(({ spread }) => spread);

describe('both selvedges to the middle', () => {
  // Two on-fold pieces side by side on a double fold: the figure list of a sewing handbook on pattern layouts; the
  // lengths are arithmetic (44 in cloth, two folds, layers 11 in deep).
  const bodies = (count: number): Project =>
    smallProject({
      cloth: rollOf(44),
      pieces: [{ name: 'body', outline: box(10 * INCH, 14 * INCH), onFold: count, piece: { foldEdge: 3 } }],
    });

  it('two bodies 20 in wide need 28 in on one fold, 14 in on two', async () => {
    expect(inches(await laid(bodies(2), 'folded'))).toBeCloseTo(28, 3);
    const middle = await laid(bodies(2), 'middle');
    expect(inches(middle)).toBeCloseTo(14, 3);
    expect(middle.segments[0]!.lanes!.map(({ fold, layers }) => [fold, layers])).toEqual([
      ['low', 2],
      ['high', 2],
    ]);
    // Each half lies against its own fold.
    const [lower, upper] = middle.segments[0]!.placed.map(({ outline }) => outline.map(([, y]) => y));
    const edges = [Math.min(...lower!, ...upper!), Math.max(...lower!, ...upper!)];
    expect(edges[0]).toBeCloseTo(0, 6);
    expect(edges[1]).toBeCloseTo(22 * INCH, 6);
  });

  it('nothing lies across the middle, where the upper layer is open', async () => {
    const lay = await laid(
      smallProject({
        cloth: rollOf(44, { selvedgeMm: 10 }),
        pieces: [
          { name: 'body', outline: box(9 * INCH, 14 * INCH), onFold: 3, piece: { foldEdge: 3 } },
          { name: 'side', outline: HOOKED, plain: 4, mirrored: 4 },
        ],
      }),
      'middle',
    );
    const middle = 11 * INCH;
    for (const { outline } of lay.segments[0]!.placed) {
      const ys = outline.map(([, y]) => y);
      expect(Math.max(...ys) <= middle - 10 + 1e-6 || Math.min(...ys) >= middle + 10 - 1e-6).toBe(true);
    }
  });
});

describe('a partial fold', () => {
  it('is only as deep as the halves need, with single cloth beside it', async () => {
    const lay = await laid(
      smallProject({
        cloth: rollOf(44),
        pieces: [
          { name: 'body', outline: box(8 * INCH, 20 * INCH), onFold: 1, piece: { foldEdge: 3 } },
          { name: 'panel', outline: box(14 * INCH, 20 * INCH), plain: 2 },
        ],
      }),
      'partial',
    );
    // 8 in doubled take 16 of the 44; the 28 in beside them hold both panels: one length of 20 in.
    expect(inches(lay)).toBeCloseTo(20, 3);
    expect(stretches(lay)).toEqual(['partial']);
    expect(lay.arrangement!.depthMm).toBeCloseTo(8 * INCH, 6);
    expect(lay.segments[0]!.lanes!.map(({ layers }) => layers)).toEqual([2, 1]);
    // Folded in half there is no room beside the body.
    expect(inches(await laid(project44(), 'folded'))).toBeGreaterThan(inches(lay));
  });
  const project44 = (): Project =>
    smallProject({
      cloth: rollOf(44),
      pieces: [
        { name: 'body', outline: box(8 * INCH, 20 * INCH), onFold: 1, piece: { foldEdge: 3 } },
        { name: 'panel', outline: box(15 * INCH, 20 * INCH), plain: 2 },
      ],
    });
});

describe('folded crosswise', () => {
  const wide = (over: object = {}): Project =>
    smallProject({
      cloth: rollOf(44, over),
      pieces: [{ name: 'side', outline: box(30 * INCH, 20 * INCH), plain: 1, mirrored: 1 }],
    });

  it('doubles what is too wide for half the width; its length is taken twice', async () => {
    const lay = await laid(wide(), 'crosswise');
    expect(stretches(lay)).toEqual(['crosswise']);
    expect(lay.piecesToTrace).toBe(1);
    expect(lay.segments[0]!.lengthMm).toBeCloseTo(20 * INCH, 6);
    expect(inches(lay)).toBeCloseTo(40, 3);
    // Too wide for half the cloth, so folded lengthwise both lie singly.
    expect(stretches(await laid(wide(), 'folded'))).toEqual(['single']);
  });

  // The upper layer runs the other way; cut the fold and turn one layer: a sewing handbook's chapter on layouts, and
  // http://sewaholic.net/cutting-fabric-using-a-crosswise-fold-layout/
  it.each([
    ['nap', { nap: 'oneWay' }, 'spread.napTurned'],
    ['a print that stands along the cloth', { printUp: 'away' }, 'spread.printTurned'],
  ])('is refused with %s, and laid with the fold cut and one layer turned instead', async (_, over, code) => {
    const { results, notices } = await layOf(wide(over), { spread: 'crosswise' });
    expect(results.map(({ spread }) => spread)).toEqual(['turned']);
    expect(notices.map((notice) => notice.code)).toEqual([code]);
    expect(notices[0]!.text).toMatch(/turned end for end/);
  });

  it('is refused on an uneven plaid, and where pieces lie on motifs; the single layer is left', async () => {
    const uneven = wide({ repeat: { alongMm: 100, acrossMm: 100, look: 'uneven' } });
    const { results, notices } = await layOf(uneven, { spread: 'crosswise' });
    expect(results.map(({ spread }) => spread)).toEqual(['single']);
    expect(notices.map((notice) => notice.code)).toEqual(['spread.unevenBars']);
  });

  it('takes half pieces whose fold edge lies across the grain, as many as the fold is long', async () => {
    // A bag body 30 in wide, 20 in from its bottom fold to the rim: the whole is 40 in, grain upright.
    const body = (onFold: number): Project =>
      smallProject({
        cloth: rollOf(62),
        pieces: [{ name: 'body', outline: box(30 * INCH, 20 * INCH), onFold, piece: { foldEdge: 0 } }],
      });
    const two = await laid(body(2), 'crosswise');
    expect(two.segments.map(({ placed }) => placed.map(({ hand }) => hand))).toEqual([['fold', 'fold']]);
    expect(inches(two)).toBeCloseTo(40, 3);
    for (const { outline } of two.segments[0]!.placed) {
      // Each fold edge lies at the far end, where the cloth is folded.
      const atFold = outline.filter(([x]) => Math.abs(x - two.segments[0]!.lengthMm) < 1e-6);
      expect(atFold).toHaveLength(2);
    }
    // A third has no room on 60 in of fold.
    const three = await laid(body(3), 'crosswise');
    expect(three.verdict).toBe('fits');
    expect(three.segments.flatMap(({ placed }) => placed.filter(({ hand }) => hand === 'fold'))).toHaveLength(
      2,
    );
  });

  it('a print that stands across the cloth stands upright in both layers', async () => {
    const lay = await laid(wide({ printUp: 'left' }), 'crosswise');
    expect(lay.segments[0]!.placed.map(({ topDeg }) => topDeg)).toEqual([90]);
  });
});

describe('doubled only where it pays', () => {
  it('"cut 3" of 12 × 16 in takes 16 in, like a single layer, not 32', async () => {
    // Worked from the pair rule of https://www.cucicucicoo.com/2015/10/how-to-cut-mirrored-pattern-pieces/
    const project = smallProject({
      cloth: rollOf(44),
      pieces: [{ name: 'panel', outline: box(12 * INCH, 16 * INCH), plain: 3 }],
    });
    expect(inches(await laid(project, 'folded'))).toBeCloseTo(32, 3);
    expect(inches(await laid(project, 'sequence'))).toBeCloseTo(16, 3);
  });

  it('unfolds half pieces where there is not enough fold for all of them', async () => {
    // Two bodies on one fold need 28 in; one placement of the whole body on doubled cloth gives both in 14 in.
    const project = smallProject({
      cloth: rollOf(44),
      pieces: [{ name: 'body', outline: box(10 * INCH, 14 * INCH), onFold: 2, piece: { foldEdge: 3 } }],
    });
    const lay = await laid(project, 'sequence');
    expect(inches(lay)).toBeCloseTo(14, 3);
    expect(lay.unplaced).toEqual([]);
  });

  it('says that there is not enough fold, and shows the lay that unfolds', async () => {
    const project = smallProject({
      cloth: rollOf(44, { availableMm: 20 * INCH }),
      pieces: [{ name: 'body', outline: box(10 * INCH, 14 * INCH), onFold: 2, piece: { foldEdge: 3 } }],
    });
    const { results, notices } = await layOf(project, { spread: 'folded' });
    expect(results.map(({ spread, verdict }) => [spread, verdict])).toEqual([
      ['folded', 'not found'],
      ['sequence', 'fits'],
    ]);
    expect(notices.find(({ code }) => code === 'foldShort')!.text).toMatch(/71\.12 cm of fold.*50\.8 cm/);
  });
});

describe('which spreads a cloth may have', () => {
  const verdicts = (over: object): Record<string, string | null> => {
    const project = smallProject({
      cloth: rollOf(44, over),
      pieces: [{ name: 'side', outline: HOOKED, plain: 2, mirrored: 2 }],
    });
    const roll = project.cloths[0]!;
    if (roll.kind !== 'roll') throw new Error('a roll was made');
    const { demands } = demandsFor(project, 'cloth');
    return Object.fromEntries(spreadsOf(roll, demands).map(({ spread, why }) => [spread, why]));
  };

  it('a woven: all but the turned crosswise fold, which it does not need', () => {
    expect(verdicts({})).toEqual({
      single: null,
      folded: null,
      sequence: null,
      partial: null,
      middle: null,
      crosswise: null,
    });
  });

  it('a velvet: no crosswise fold unless it is cut open and turned', () => {
    expect(verdicts({ nap: 'oneWay' })).toMatchObject({ folded: null, crosswise: 'napTurned', turned: null });
  });

  it('a vinyl: a single layer', () => {
    const { single, ...others } = verdicts({ foldable: false });
    expect(single).toBeNull();
    expect(new Set(Object.values(others))).toEqual(new Set(['notFoldable']));
  });
});

describe('any demands, any spread', () => {
  it('property: every layout is legal, every hand is there, tops obey the nap', async () => {
    const size = fc.integer({ min: 40, max: 260 });
    const piece = fc.record({
      kind: fc.constantFrom('box', 'hook', 'half'),
      w: size,
      h: size,
      plain: fc.integer({ min: 0, max: 3 }),
      mirrored: fc.integer({ min: 0, max: 2 }),
    });
    const settings = fc.record({
      spread: fc.constantFrom('single', 'folded', 'sequence', 'partial', 'middle', 'crosswise', 'turned'),
      nap: fc.constantFrom('none', 'oneWay', 'twoWay', 'upAndDown'),
      turn: fc.constantFrom('grain', 'cross', 'bias', 'biasLeft', 'quarter'),
      selvedgeMm: fc.constantFrom(0, 8),
      gapMm: fc.constantFrom(0, 3),
      reversible: fc.boolean(),
      fadedLines: fc.constantFrom([], [{ fromMm: 395, toMm: 405 }]),
      flaws: fc.constantFrom([], [box(50, 40).map(([x, y]) => [x + 60, y + 100])]),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.array(piece, { minLength: 1, maxLength: 3 }),
        settings,
        async (pieces, { spread, ...over }) => {
          const project = smallProject({
            cloth: { kind: 'roll', widthMm: 800, ...over },
            pieces: pieces.map(({ kind, w, h, plain, mirrored }, i) => ({
              name: `p${i}`,
              outline:
                kind === 'hook' ? HOOKED.map(([x, y]) => [(x * w) / 200, (y * h) / 140] as Point) : box(w, h),
              ...(kind === 'half' ? { onFold: plain, piece: { foldEdge: 3 } } : { plain, mirrored }),
            })),
          });
          const request = layRequestSchema.parse({
            project,
            choices: [{ materialId: 'cloth', spread }],
            maxSteps: 2,
          });
          let packed = 0;
          const { results, notices } = await runLay(
            request,
            async (problem, options) => {
              const result = await solveChecked(problem, options);
              expect(verify(problem, result.layout)).toEqual([]);
              packed += 1;
              return result;
            },
            () => {},
            new AbortController().signal,
          );
          expect(notices.filter(({ code }) => code === 'handsMiscounted')).toEqual([]);
          const { demands } = demandsFor(project, 'cloth');
          if (demands.length > 0) expect(packed + notices.length).toBeGreaterThan(0);
          for (const lay of results) {
            expect(countHands(lay, demands, over.reversible)).toEqual([]);
            if (over.nap === 'oneWay') {
              for (const { topDeg } of lay.segments.flatMap(({ placed }) => placed)) {
                const off = Math.min(topDeg, 360 - topDeg);
                expect(off).toBeLessThan(90 + 1e-6);
              }
            }
          }
        },
      ),
      { numRuns: 60 },
    );
  }, 60_000);
});
