/** Prints, stripes and plaids: places on the repeat, matched seams, what a repeat costs. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layRequestSchema } from '../../pattern/exchange/lay.ts';
import { type ClothLay, type Placed, type Project, projectSchema } from '../../pattern/exchange/project.ts';
import { anchorsOf } from '../../pattern/lay/anchors.ts';
import { piecesWithoutPlace } from '../../pattern/lay/noPlace.ts';
import { runLay } from '../../pattern/lay/runLay.ts';
import { box, INCH, layOf, smallProject, solveChecked } from '../support/layOf.ts';

/** Pieces drawn with their height along y, so that it lies along the cloth. */
const project = (
  cloth: object,
  pieces: Parameters<typeof smallProject>[0]['pieces'],
  matches: object[] = [],
): Project =>
  projectSchema.parse({
    ...smallProject({
      cloth: { kind: 'roll', shopStepMm: 1, foldable: false, nap: 'oneWay', ...cloth },
      pieces,
    }),
    matches,
  });

/** Where a point of the piece lies on the cloth, in the axes of its segment. */
function pointOf(placed: Placed, [px, py]: readonly [number, number]): [number, number] {
  const angle = (placed.rotation * Math.PI) / 180;
  const x = placed.mirrored ? -px : px;
  return [
    x * Math.cos(angle) - py * Math.sin(angle) + placed.x,
    x * Math.sin(angle) + py * Math.cos(angle) + placed.y,
  ];
}

/** How far a length is from a whole number of steps. */
const offStep = (length: number, step: number): number => Math.abs(length - Math.round(length / step) * step);

const inches = ({ usedMm }: ClothLay): number => usedMm / INCH;

describe('stacked pieces that start at the same phase', () => {
  // Arithmetic: n equal pieces of height h one after the other, each at the same phase of repeat r, take
  // (n − 1) · ceil(h / r) · r + h.
  it.each([
    [11, 4, 3, 35],
    [12, 4, 3, 36],
    [12.25, 4, 3, 44.25],
  ])('%d in high, repeat %d in, %d pieces: %d in', async (h, r, n, expected) => {
    const { results } = await layOf(
      project({ widthMm: 10 * INCH, repeat: { alongMm: r * INCH, look: 'even' } }, [
        {
          name: 'panel',
          outline: box(9 * INCH, h * INCH),
          plain: n,
          piece: { motif: { at: [0, 0] } },
        },
      ]),
      { maxSteps: 100 },
    );
    expect(results[0]!.verdict).toBe('fits');
    expect(inches(results[0]!)).toBeCloseTo(expected, 3);
  });

  it('tells how much more the repeat takes, by a second layout without it', async () => {
    const laid = project({ widthMm: 10 * INCH, repeat: { alongMm: 4 * INCH, look: 'even' } }, [
      { name: 'panel', outline: box(9 * INCH, 11 * INCH), plain: 3, piece: { motif: { at: [0, 0] } } },
    ]);
    const request = layRequestSchema.parse({
      project: laid,
      choices: [{ materialId: 'cloth', spread: 'single', withoutRepeat: true }],
      maxSteps: 50,
    });
    const { results } = await runLay(request, solveChecked, () => {}, new AbortController().signal);
    expect(inches(results[0]!)).toBeCloseTo(35, 3);
    expect(results[0]!.withoutRepeatMm! / INCH).toBeCloseTo(33, 3);
  });
});

describe('pieces placed on motifs', () => {
  const motifs = (count: number): Project =>
    project(
      {
        widthMm: 42 * INCH,
        availableMm: 18 * INCH,
        // The first motif far enough in that a square may be centred on it.
        repeat: { alongMm: 8 * INCH, acrossMm: 6 * INCH, fromEndMm: 4 * INCH, fromSelvedgeMm: 3 * INCH },
      },
      [
        {
          name: 'square',
          outline: box(4.5 * INCH, 4.5 * INCH),
          plain: count,
          piece: { motif: { at: [2.25 * INCH, 2.25 * INCH] } },
        },
      ],
    );

  // Arithmetic: a motif every 8 in along and 6 in across gives 7 × 2 squares of 4½ in from 42 × 18 in, where plain
  // cloth gives 36.
  it('14 squares of 4½ in come from 42 × 18 in with a motif every 8 × 6 in, 15 do not', async () => {
    const fourteen = await layOf(motifs(14), { maxSteps: 200 });
    expect(fourteen.results[0]!.verdict).toBe('fits');
    const fifteen = await layOf(motifs(15), { maxSteps: 200 });
    expect(fifteen.results[0]!.verdict).not.toBe('fits');
  });

  it('each square is centred on a motif', async () => {
    const { results } = await layOf(motifs(5), { maxSteps: 50 });
    for (const placed of results[0]!.segments[0]!.placed) {
      const [x, y] = pointOf(placed, [2.25 * INCH, 2.25 * INCH]);
      expect(offStep(x - 4 * INCH, 8 * INCH)).toBeLessThan(1e-3);
      expect(offStep(y - 3 * INCH, 6 * INCH)).toBeLessThan(1e-3);
    }
  });

  it('keeps to the motif through squaring, selvedge and washing-free margins', async () => {
    const { results } = await layOf(
      project(
        {
          widthMm: 900,
          selvedgeMm: 15,
          squaringMm: 20,
          repeat: { alongMm: 160, acrossMm: 120, fromEndMm: 100, fromSelvedgeMm: 90 },
        },
        [{ name: 'p', outline: box(100, 110), plain: 3, piece: { motif: { at: [50, 55] } } }],
      ),
    );
    const [segment] = results[0]!.segments;
    for (const placed of segment!.placed) {
      const [x, y] = pointOf(placed, [50, 55]);
      // The segment begins where the end is squared, and where the selvedge ends.
      expect(offStep(x + 20 - 100, 160)).toBeLessThan(1e-3);
      expect(offStep(y + 15 - 90, 120)).toBeLessThan(1e-3);
    }
  });

  it('a half drop offers the motifs of both columns', async () => {
    const lay = async (kind: string): Promise<number> => {
      const { results } = await layOf(
        project(
          {
            widthMm: 400,
            repeat: { alongMm: 300, acrossMm: 200, kind, fromEndMm: 100, fromSelvedgeMm: 100 },
          },
          [{ name: 'p', outline: box(150, 150), plain: 2, piece: { motif: { at: [75, 75] } } }],
        ),
        { maxSteps: 50 },
      );
      return results[0]!.usedMm;
    };
    expect(await lay('straight')).toBeCloseTo(175, 3);
    // The motif beside the first lies half a repeat further along.
    expect(await lay('halfDrop')).toBeCloseTo(325, 3);
  });

  it('says so when a piece can nowhere lie on its motif', async () => {
    const { results, notices } = await layOf(
      project({ widthMm: 300, repeat: { alongMm: 100, acrossMm: 300, fromSelvedgeMm: 20 } }, [
        { name: 'p', outline: box(150, 100), plain: 1, piece: { motif: { at: [75, 50] } } },
      ]),
    );
    expect(results[0]!.verdict).toBe('cannot fit');
    expect(notices.map(({ code }) => code)).toContain('offRepeat');
  });

  it('is never cut from two layers', async () => {
    const { results, notices } = await layOf(
      project({ widthMm: 900, foldable: true, nap: 'none', repeat: { alongMm: 100, acrossMm: 100 } }, [
        { name: 'p', outline: box(150, 100), plain: 2, piece: { motif: { at: [75, 50] } } },
      ]),
      { spread: 'folded' },
    );
    expect(results.map(({ spread }) => spread)).toEqual(['single']);
    expect(notices.map(({ code }) => code)).toEqual(['spread.motifHidden']);
  });

  it('refuses a repeat larger than the cloth before any packing', async () => {
    const { results, notices } = await layOf(
      project({ widthMm: 300, repeat: { alongMm: 100, acrossMm: 400 } }, [
        { name: 'p', outline: box(150, 100), plain: 1 },
      ]),
    );
    expect(results).toEqual([]);
    expect(notices.map(({ code }) => code)).toEqual(['repeatTooLarge']);
  });
});

describe('seams at which a plaid meets', () => {
  const half = INCH / 2;
  const sewLine = (w: number, h: number) => ({
    kind: 'sewLine',
    closed: true,
    points: [
      [half, half],
      [w - half, half],
      [w - half, h - half],
      [half, h - half],
    ],
  });
  const panel = (name: string, w: number, h: number) => ({
    name,
    outline: box(w, h),
    plain: 1,
    piece: { marks: [sewLine(w, h)] },
  });

  // Two panels joined at an upright seam, allowance ½ in, a bar every 4 in: the phases must agree at the sew line.
  it('the bars of two panels agree at the sew line, along and across', async () => {
    const repeat = 4 * INCH;
    const { results } = await layOf(
      project(
        { widthMm: 44 * INCH, repeat: { alongMm: repeat, acrossMm: repeat, look: 'uneven' } },
        [panel('a', 10 * INCH, 15 * INCH), panel('b', 13 * INCH, 15 * INCH)],
        // The right edge of a (its second) to the left edge of b (its fourth).
        [{ id: 'm', a: { pieceId: 'a', edge: 1 }, b: { pieceId: 'b', edge: 3 } }],
      ),
      { maxSteps: 100 },
    );
    expect(results[0]!.verdict).toBe('fits');
    const placed = results[0]!.segments[0]!.placed;
    const a = pointOf(placed.find(({ pieceId }) => pieceId === 'a')!, [10 * INCH - half, 7.5 * INCH]);
    const b = pointOf(placed.find(({ pieceId }) => pieceId === 'b')!, [half, 7.5 * INCH]);
    expect(offStep(a[0] - b[0], repeat)).toBeLessThan(1e-3);
    expect(offStep(a[1] - b[1], repeat)).toBeLessThan(1e-3);
  });

  it('a chain of seams carries the phase on, and a ring that cannot close is told', () => {
    const three = project(
      { widthMm: 1000 },
      [panel('a', 200, 300), panel('b', 150, 300), panel('c', 130, 280)],
      [
        { id: 'ab', a: { pieceId: 'a', edge: 1 }, b: { pieceId: 'b', edge: 3 } },
        { id: 'bc', a: { pieceId: 'b', edge: 1 }, b: { pieceId: 'c', edge: 3 } },
        { id: 'ca', a: { pieceId: 'c', edge: 1 }, b: { pieceId: 'a', edge: 3 } },
        { id: 'gone', a: { pieceId: 'c', edge: 1 }, b: { pieceId: 'nobody', edge: 3 } },
      ],
    );
    const { anchors, faults } = anchorsOf(three);
    // From the seam of a and b to that of b and c it is the width of b without its allowances.
    expect(anchors.get('b')!.at[0]).toBeCloseTo(half, 6);
    expect(anchors.get('c')!.at[0]).toBeCloseTo(half - (150 - 2 * half), 6);
    expect(faults.map(({ kind }) => kind).sort()).toEqual(['gone', 'lengths', 'lengths', 'ring']);
  });
});

describe('seams whose line is not drawn', () => {
  const two = (allowances: readonly [number, number], piece: object = {}): Project =>
    project(
      { widthMm: 1000, repeat: { alongMm: 70, acrossMm: 90, look: 'uneven' } },
      [
        { name: 'a', outline: box(200, 300), plain: 1, piece: { allowanceMm: allowances[0], ...piece } },
        { name: 'b', outline: box(150, 300), plain: 1, piece: { allowanceMm: allowances[1], ...piece } },
      ],
      [{ id: 'm', a: { pieceId: 'a', edge: 1 }, b: { pieceId: 'b', edge: 3 } }],
    );

  it('lie as deep as the piece says that the allowance in its cut line is', async () => {
    const { anchors, faults } = anchorsOf(two([12, 15]));
    expect(anchors.get('a')!.at).toEqual([200 - 12, 150]);
    expect(anchors.get('b')!.at).toEqual([15, 150]);
    expect(faults).toEqual([]);
    const { results } = await layOf(two([12, 15]), { maxSteps: 100 });
    const placed = results[0]!.segments[0]!.placed;
    const a = pointOf(placed.find(({ pieceId }) => pieceId === 'a')!, [188, 150]);
    const b = pointOf(placed.find(({ pieceId }) => pieceId === 'b')!, [15, 150]);
    expect(offStep(a[0] - b[0], 70)).toBeLessThan(1e-3);
    expect(offStep(a[1] - b[1], 90)).toBeLessThan(1e-3);
  });

  it('count edge by edge where one has an allowance of its own', () => {
    const { anchors } = anchorsOf(two([12, 15], { edgeAllowances: [{ edge: 1, mm: 20 }] }));
    expect(anchors.get('a')!.at).toEqual([200 - 20, 150]);
  });

  it('are at the line itself where that is the line to sew', () => {
    const { anchors, faults } = anchorsOf(two([12, 15], { line: 'sew' }));
    expect(anchors.get('a')!.at).toEqual([200, 150]);
    expect(faults).toEqual([]);
  });

  it('begin behind a notch by the allowance of the edge it is on', () => {
    const notched = two([12, 15], { marks: [{ kind: 'notch', points: [[150, 100]] }] });
    const { anchors } = anchorsOf({
      ...notched,
      matches: [
        {
          id: 'm',
          a: { pieceId: 'a', edge: 1, notch: null },
          b: { pieceId: 'b', edge: null, notch: 0 },
        },
      ],
    });
    expect(anchors.get('b')!.at).toEqual([150 - 15, 100]);
  });

  it('are told where nobody knows them', () => {
    const { faults } = anchorsOf(two([12, 0]));
    expect(faults).toMatchObject([{ kind: 'seamUnknown', pieceIds: ['b'] }]);
  });
});

describe('pieces that can lie nowhere on the repeat, before anything is packed', () => {
  const motif = { at: [50, 50], onMotif: [0, 0], toleranceMm: 0 };
  const square = { name: 'pocket', outline: box(100, 100), plain: 1, piece: { motif } };
  const told = (cloth: object, pieces = [square]): string[] =>
    piecesWithoutPlace(project(cloth, pieces), 'cloth').map(({ text }) => text);
  const repeat = { alongMm: 90, acrossMm: 400, look: 'print' as const };

  it('are told by name on a roll whose motifs lie too near its edges, and only there', () => {
    const atEdge = { widthMm: 300, repeat: { ...repeat, fromSelvedgeMm: 20 } };
    expect(told(atEdge)).toHaveLength(1);
    expect(told(atEdge)[0]).toContain('pocket');
    expect(told({ widthMm: 300, repeat: { ...repeat, fromSelvedgeMm: 60 } })).toEqual([]);
  });

  it('are told on a remnant by its outline and flaws, not by its extent', () => {
    // An L: the only motif of its box lies in the part that is cut away.
    const outline = [
      [0, 0],
      [400, 0],
      [400, 120],
      [120, 120],
      [120, 400],
      [0, 400],
    ];
    const on = (fromEndMm: number, fromSelvedgeMm: number, flaws: object[] = []): string[] =>
      told({
        kind: 'remnant',
        outline,
        flaws,
        repeat: { alongMm: 1000, acrossMm: 1000, look: 'print', fromEndMm, fromSelvedgeMm },
      });
    expect(on(200, 200)).toHaveLength(1);
    expect(on(60, 60)).toEqual([]);
    const stain = [
      [90, 90],
      [95, 90],
      [95, 95],
      [90, 95],
    ];
    expect(on(60, 60, [stain])).toHaveLength(1);
  });

  it('are not told while another cloth of the material has a place for them', () => {
    const one = project({ widthMm: 300, repeat: { ...repeat, fromSelvedgeMm: 20 } }, [square]);
    const [cloth] = one.cloths;
    const wide = { ...cloth!, id: 'wide', repeat: { ...cloth!.repeat!, fromSelvedgeMm: 60 } };
    expect(piecesWithoutPlace({ ...one, cloths: [...one.cloths, wide] }, 'cloth')).toEqual([]);
  });

  it('property: what is told is refused when it is laid, and what is not told is laid', async () => {
    const sheet = (widthMm: number) => ({
      kind: 'remnant',
      outline: box(240, widthMm).map(([x, y], i) => (i === 2 ? [x - 60, y] : [x, y])),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.boolean(),
        fc.integer({ min: 120, max: 200 }),
        fc.integer({ min: 0, max: 119 }),
        fc.constantFrom('straight', 'halfDrop', 'brick'),
        async (isSheet, widthMm, fromSelvedgeMm, kind) => {
          const cloth = isSheet ? sheet(widthMm) : { widthMm };
          const here = { alongMm: 90, acrossMm: 120, look: 'print', kind, fromSelvedgeMm };
          const one = project({ ...cloth, repeat: here }, [square]);
          const { results } = await layOf(one, { maxSteps: 20 });
          const isTold = piecesWithoutPlace(one, 'cloth').length > 0;
          expect(results[0]!.verdict).toBe(isTold ? 'cannot fit' : 'fits');
        },
      ),
      { numRuns: 40 },
    );
  });
});

describe('any repeat', () => {
  it('property: whatever the squaring, edges and kind, anchored pieces lie on the repeat and the rest is legal', async () => {
    const settings = fc.record({
      alongMm: fc.constantFrom(0, 70, 130),
      acrossMm: fc.constantFrom(0, 60, 110),
      kind: fc.constantFrom('straight', 'halfDrop', 'brick'),
      fromEndMm: fc.integer({ min: 0, max: 150 }),
      fromSelvedgeMm: fc.integer({ min: 0, max: 150 }),
    });
    await fc.assert(
      fc.asyncProperty(
        settings,
        fc.constantFrom(0, 10),
        fc.constantFrom('none', 'oneWay'),
        fc.boolean(),
        async (repeat, selvedgeMm, nap, mirrored) => {
          const at = [40, 30] as const;
          const { results } = await layOf(
            project({ widthMm: 600, selvedgeMm, squaringMm: 12, nap, repeat }, [
              {
                name: 'p',
                outline: box(90, 120),
                plain: 2,
                mirrored: mirrored ? 1 : 0,
                piece: { motif: { at } },
              },
              { name: 'q', outline: box(80, 60), plain: 3 },
            ]),
            { maxSteps: 3 },
          );
          const { alongMm, acrossMm, kind } = repeat;
          for (const placed of results[0]!.segments[0]!.placed.filter(({ pieceId }) => pieceId === 'p')) {
            const [x, y] = pointOf(placed, at);
            const along = x + 12 - repeat.fromEndMm;
            const across = y + selvedgeMm - repeat.fromSelvedgeMm;
            if (acrossMm === 0 || alongMm === 0) {
              if (alongMm > 0) expect(offStep(along, alongMm)).toBeLessThan(1e-3);
              if (acrossMm > 0) expect(offStep(across, acrossMm)).toBeLessThan(1e-3);
              continue;
            }
            const row = Math.round(across / acrossMm);
            const column = Math.round(along / alongMm);
            if (kind === 'straight') {
              expect(offStep(along, alongMm)).toBeLessThan(1e-3);
              expect(offStep(across, acrossMm)).toBeLessThan(1e-3);
            } else if (kind === 'halfDrop') {
              expect(offStep(across, acrossMm)).toBeLessThan(1e-3);
              expect(offStep(along - (row % 2 === 0 ? 0 : alongMm / 2), alongMm)).toBeLessThan(1e-3);
            } else {
              expect(offStep(along, alongMm)).toBeLessThan(1e-3);
              expect(offStep(across - (column % 2 === 0 ? 0 : acrossMm / 2), acrossMm)).toBeLessThan(1e-3);
            }
          }
        },
      ),
      { numRuns: 40 },
    );
  }, 60_000);
});
