import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signedArea } from '../../../nesting/geometry/rings.ts';
import {
  checkProject,
  handWarnings,
  mergeRows,
  needsNoHands,
  totalCopies,
  totals,
} from '../../../pattern/cutList/index.ts';
import { frontPocket, liningBodyHalf, sideGusset } from '../../../pattern/demo/shapes.ts';
import { emptyProject } from '../../../pattern/exchange/emptyProject.ts';
import {
  type Cloth,
  type CutRow,
  clothSchema,
  LIMITS,
  type Piece,
  type Project,
} from '../../../pattern/exchange/project.ts';
import { pieceOf, rectangle } from '../pieces/shapes.ts';

const row = (pieceId: string, counts: Partial<CutRow> = {}, materialId = 'main'): CutRow => ({
  pieceId,
  materialId,
  plain: 0,
  mirrored: 0,
  onFold: 0,
  ...counts,
});

const piece = (id: string, outline: Piece['outline'], more: Partial<Piece> = {}): Piece =>
  pieceOf(outline, { id, name: id, ...more });

const roll = (more: object = {}): Cloth =>
  clothSchema.parse({ kind: 'roll', id: 'roll', name: 'Twill', materialId: 'main', widthMm: 1400, ...more });

function projectOf(
  pieces: readonly Piece[],
  cutList: readonly CutRow[],
  more: Partial<Project> = {},
): Project {
  return {
    ...emptyProject('Trial'),
    pieces,
    cutList,
    materials: [
      { id: 'main', name: 'Twill', role: 'main' },
      { id: 'lining', name: 'Lining', role: 'lining' },
    ],
    cloths: [roll()],
    ...more,
  };
}

const gusset = piece('gusset', sideGusset());
const base = piece('base', rectangle(300, 200));
const half = piece('half', liningBodyHalf(), { foldEdge: 0 });

describe('totals', () => {
  it('counts by material and hand, half pieces on the fold as wholes', () => {
    const project = projectOf(
      [gusset, base, half],
      [
        row('gusset', { plain: 2, mirrored: 2 }),
        row('base', { plain: 3 }),
        row('half', { onFold: 2 }, 'lining'),
        row('gone', { plain: 9 }),
      ],
    );
    expect(totals(project)).toEqual([
      {
        materialId: 'main',
        plain: 5,
        mirrored: 2,
        onFold: 0,
        copies: 7,
        areaMm2: expect.closeTo(4 * signedArea(sideGusset()) + 3 * 60_000, 6),
      },
      {
        materialId: 'lining',
        plain: 0,
        mirrored: 0,
        onFold: 2,
        copies: 2,
        areaMm2: expect.closeTo(4 * signedArea(liningBodyHalf()), 6),
      },
    ]);
    expect(totalCopies(project)).toBe(18);
  });

  it('adds up to the copies asked for, whatever the rows', () => {
    const count = fc.integer({ min: 0, max: 50 });
    const rows = fc.array(
      fc.tuple(fc.constantFrom('base', 'gusset'), fc.constantFrom('main', 'lining'), count, count),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(rows, (list) => {
        const cutList = list.map(([id, material, plain, mirrored]) => row(id, { plain, mirrored }, material));
        const project = projectOf([gusset, base], cutList);
        const sum = totals(project).reduce((all, total) => all + total.copies, 0);
        expect(sum).toBe(totalCopies(project));
        const merged = mergeRows(cutList);
        expect(totalCopies({ cutList: merged })).toBe(sum);
        expect(new Set(merged.map((r) => `${r.pieceId} ${r.materialId}`)).size).toBe(merged.length);
      }),
    );
  });
});

describe('hands', () => {
  const codes = (rows: readonly CutRow[], more: Partial<Project> = {}): string[] =>
    handWarnings(projectOf([gusset, base, half, piece('pocket', frontPocket())], rows, more)).map(
      ({ level, code, pieceId }) => `${level} ${code} ${pieceId}`,
    );

  it('warns where a piece with two hands is cut twice the same', () => {
    expect(codes([row('gusset', { plain: 2 })])).toEqual(['warning handsUnpaired gusset']);
    expect(codes([row('gusset', { mirrored: 4 })])).toEqual(['warning handsUnpaired gusset']);
    expect(codes([row('gusset', { plain: 2, mirrored: 1 })])).toEqual(['warning handsUnpaired gusset']);
    expect(codes([row('gusset', { plain: 3 })])).toEqual(['info handsUnpaired gusset']);
  });

  it('is silent on pairs, on a single one, and on an outside with a lining of the other hand', () => {
    expect(codes([row('gusset', { plain: 2, mirrored: 2 })])).toEqual([]);
    expect(codes([row('gusset', { plain: 1 })])).toEqual([]);
    expect(codes([row('pocket', { plain: 2 }), row('pocket', { mirrored: 2 }, 'lining')])).toEqual([]);
  });

  it('says that a symmetric piece needs no hands', () => {
    expect(codes([row('base', { plain: 5 })])).toEqual([]);
    expect(codes([row('base', { plain: 2, mirrored: 1 })])).toEqual(['info handsNotNeeded base']);
  });

  it('knows what grain and nap leave of a symmetry', () => {
    // Symmetric about a level axis only: as good as handless by its grain, but with a nap the mirror image is upside down.
    const level = piece('level', [
      [0, 0],
      [300, 60],
      [0, 120],
    ]);
    expect(needsNoHands(level, false)).toBe(true);
    expect(needsNoHands(level, true)).toBe(false);
    const upright = piece('upright', [
      [0, 0],
      [120, 0],
      [60, 300],
    ]);
    expect(needsNoHands(upright, true)).toBe(true);
    // Symmetric about its diagonal only: mirrored, its grain would lie across.
    const diagonal = piece('diagonal', [
      [0, 0],
      [250, 0],
      [250, 60],
      [60, 60],
      [60, 250],
      [0, 250],
    ]);
    expect(needsNoHands(diagonal, false)).toBe(false);
    expect(needsNoHands({ ...diagonal, grainDeg: 45 }, false)).toBe(true);
    const rows = [row('level', { plain: 2 })];
    const napped = projectOf([level], rows, { cloths: [roll({ nap: 'oneWay' })] });
    expect(handWarnings(projectOf([level], rows))).toEqual([]);
    expect(handWarnings(napped).map(({ code }) => code)).toEqual(['handsUnpaired']);
  });

  it('half pieces belong on the fold, whole ones don’t', () => {
    expect(codes([row('half', { onFold: 2 })])).toEqual([]);
    expect(codes([row('half', { plain: 2 })])).toEqual(['warning halfWithoutFold half']);
    expect(codes([row('base', { onFold: 1 })])).toEqual(['error onFoldWithoutFold base']);
  });
});

describe('checkProject', () => {
  const codes = (project: Project): string[] =>
    checkProject(project).map(({ level, code }) => `${level} ${code}`);
  const sound = projectOf([base], [row('base', { plain: 2 })]);

  it('finds nothing in a sound project', () => {
    expect(codes(sound)).toEqual([]);
  });

  it.each<[string, Partial<Project>, string]>([
    ['an empty cut list', { cutList: [] }, 'error cutListEmpty'],
    ['only zeros', { cutList: [row('base')] }, 'error cutListEmpty'],
    [
      'too many copies',
      { cutList: [row('base', { plain: LIMITS.copies, mirrored: 1 })] },
      'error tooManyCopies',
    ],
    ['a row twice', { cutList: [row('base', { plain: 1 }), row('base', { plain: 1 })] }, 'error rowTwice'],
    [
      'a piece that is gone',
      { cutList: [row('base', { plain: 1 }), row('gone', { plain: 1 })] },
      'error danglingId',
    ],
    ['a material that is gone', { cutList: [row('base', { plain: 1 }, 'gone')] }, 'error danglingId'],
    ['a cloth for no material', { cloths: [roll({ materialId: 'gone' })] }, 'error danglingId'],
    [
      'a choice of a cloth that is gone',
      { layChoices: [{ materialId: 'main', clothIds: ['gone'], spread: 'single' }] },
      'error danglingId',
    ],
    ['two pieces with one id', { pieces: [base, { ...base, name: 'other' }] }, 'error duplicateId'],
    ['no cloth', { cloths: [] }, 'warning materialWithoutCloth'],
    [
      'no cloth chosen',
      { layChoices: [{ materialId: 'main', clothIds: [], spread: 'single' }] },
      'warning noClothChosen',
    ],
    ['a piece that is not cut', { pieces: [base, gusset] }, 'info pieceNotCut'],
    [
      'a piece that crosses itself',
      {
        pieces: [
          piece('base', [
            [0, 0],
            [100, 100],
            [110, 0],
            [0, 90],
          ]),
        ],
      },
      'error crossesItself',
    ],
    [
      'selvedges wider than the cloth',
      { cloths: [roll({ widthMm: 90, selvedgeMm: 40, edgeMarginMm: 5 })] },
      'error noUsableWidth',
    ],
    [
      'a remnant that crosses itself',
      {
        cloths: [
          clothSchema.parse({
            kind: 'remnant',
            id: 'r',
            name: 'Scrap',
            materialId: 'main',
            outline: [
              [0, 0],
              [100, 100],
              [110, 0],
              [0, 90],
            ],
          }),
        ],
      },
      'error clothFaulty',
    ],
  ])('%s', (_, change, code) => {
    expect(codes({ ...sound, ...change })).toContain(code);
  });

  it('puts errors first and names things by their names', () => {
    const project = projectOf(
      [base, gusset],
      [row('base', { plain: 1 }), row('gusset', { plain: 2 }), row('gone', { plain: 1 })],
      { cloths: [] },
    );
    const notices = checkProject(project);
    expect(notices.map(({ level }) => level)).toEqual(['error', 'warning', 'warning']);
    expect(notices[0]!.text).toBe(
      'Row 3 of the cut list calls for the piece “gone”, which is not in the project.',
    );
  });
});
