import { describe, expect, it } from 'vitest';
import type { Point } from '../../nesting/index.ts';
import { box, HOOKED, INCH, layOf, rollOf, smallProject } from '../support/layOf.ts';

const usedInches = async (
  project: ReturnType<typeof smallProject>,
  spread: 'single' | 'folded',
): Promise<{ inches: number; placements: number; spreads: string[] }> => {
  const { results } = await layOf(project, { spread });
  expect(results[0]!.verdict).toBe('fits');
  const { usedMm, piecesToTrace, segments } = results[0]!;
  return { inches: usedMm / INCH, placements: piecesToTrace, spreads: segments.map((s) => s.spread) };
};

describe('doubled against single', () => {
  // Arithmetic on the pair rule of https://www.cucicucicoo.com/2015/10/how-to-cut-mirrored-pattern-pieces/ and the
  // pattern guides' lengthwise fold (a placement away from the fold gives two mirror images).
  it('a 12 × 16 in piece, "cut 2", takes 16 in either way, with one placement on doubled cloth', async () => {
    const project = smallProject({
      cloth: rollOf(44),
      pieces: [{ name: 'panel', outline: box(12 * INCH, 16 * INCH), plain: 2 }],
    });
    expect(await usedInches(project, 'single')).toMatchObject({ placements: 2, spreads: ['single'] });
    expect((await usedInches(project, 'single')).inches).toBeCloseTo(16, 3);
    expect(await usedInches(project, 'folded')).toMatchObject({ placements: 1, spreads: ['folded'] });
    expect((await usedInches(project, 'folded')).inches).toBeCloseTo(16, 3);
  });

  it('"cut 3" takes 16 in singly and 32 in with the odd one opened out', async () => {
    const project = smallProject({
      cloth: rollOf(44),
      pieces: [{ name: 'panel', outline: box(12 * INCH, 16 * INCH), plain: 3 }],
    });
    expect((await usedInches(project, 'single')).inches).toBeCloseTo(16, 3);
    const folded = await usedInches(project, 'folded');
    expect(folded.inches).toBeCloseTo(32, 3);
    expect(folded.spreads).toEqual(['folded', 'single']);
    expect(folded.placements).toBe(2);
  });

  it('two pieces 20 in wide on the fold have but one fold edge to share: 28 in', async () => {
    // The whole is 20 in wide and 14 in high; its half lies with the long side on the fold.
    const project = smallProject({
      cloth: rollOf(44),
      pieces: [{ name: 'body', outline: box(10 * INCH, 14 * INCH), onFold: 2, piece: { foldEdge: 3 } }],
    });
    const folded = await usedInches(project, 'folded');
    expect(folded.inches).toBeCloseTo(28, 3);
    expect(folded.placements).toBe(2);
    // Unfolded, the two whole pieces lie side by side: 2 × 20 in ≤ 44 in.
    expect((await usedInches(project, 'single')).inches).toBeCloseTo(14, 3);
  });

  it('three left and three right come from three placements; with two right one lies singly', async () => {
    const lay = async (plain: number, mirrored: number): Promise<{ placements: number; spreads: string[] }> =>
      usedInches(
        smallProject({ cloth: rollOf(44), pieces: [{ name: 'side', outline: HOOKED, plain, mirrored }] }),
        'folded',
      );
    expect(await lay(3, 3)).toMatchObject({ placements: 3, spreads: ['folded'] });
    expect(await lay(3, 2)).toMatchObject({ placements: 3, spreads: ['folded', 'single'] });
  });
});

describe('nap', () => {
  // two halves of a 10 × 20 in rectangle cut along its diagonal, by the marker modes of apparel textbooks
  // (https://www.scribd.com/document/75148051/Marker-Modes):
  // turned by 180° they make the rectangle again, all one way they can't interlock.
  const triangle: Point[] = [
    [0, 0],
    [10 * INCH, 0],
    [0, 20 * INCH],
  ];
  const length = async (nap: 'none' | 'oneWay', widthIn: number): Promise<number> =>
    (
      await usedInches(
        smallProject({
          cloth: rollOf(widthIn, { nap, foldable: false }),
          pieces: [{ name: 'tri', outline: triangle, plain: 2 }],
        }),
        'single',
      )
    ).inches;

  it('two-way cloth interlocks the triangles in 10 × 20 in, one-way cloth cannot', async () => {
    expect(await length('none', 10)).toBeCloseTo(20, 3);
    expect(await length('oneWay', 10)).toBeCloseTo(40, 3);
    expect(await length('oneWay', 20)).toBeCloseTo(20, 3);
  });

  it('a print with an up keeps every top up, mirrored or not', async () => {
    const project = smallProject({
      cloth: rollOf(44, { printUp: 'back' }),
      pieces: [{ name: 'tri', outline: triangle, plain: 2, mirrored: 2 }],
    });
    const { results } = await layOf(project);
    for (const { placed } of results[0]!.segments) for (const piece of placed) expect(piece.topDeg).toBe(180);
  });
});

describe('counts and hands', () => {
  it('what is placed and what is not adds up to the cut list, hand by hand', async () => {
    const project = smallProject({
      cloth: rollOf(30),
      pieces: [
        { name: 'side', outline: HOOKED, plain: 3, mirrored: 4 },
        { name: 'wide', outline: box(31 * INCH, 200), plain: 2 },
      ],
    });
    const { results, notices } = await layOf(project);
    const [lay] = results;
    const placed = lay!.segments.flatMap((segment) => segment.placed);
    expect(placed.filter((p) => p.hand === 'plain')).toHaveLength(3);
    expect(placed.filter((p) => p.hand === 'mirrored')).toHaveLength(4);
    expect(lay!.unplaced).toEqual([{ pieceId: 'wide', plain: 2, mirrored: 0, onFold: 0 }]);
    expect(lay!.verdict).toBe('cannot fit');
    // One inch too wide, said with the piece's name and what would help.
    expect(notices.find((notice) => notice.code === 'tooWide')!.text).toMatch(
      /wide needs .*2\.54 cm too wide.*join/,
    );
    expect(placed.map((p) => `${p.hand} ${p.copy}/${p.of}`).sort()).toEqual([
      'mirrored 1/4',
      'mirrored 2/4',
      'mirrored 3/4',
      'mirrored 4/4',
      'plain 1/3',
      'plain 2/3',
      'plain 3/3',
    ]);
  });
});
