import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signedArea } from '../../../nesting/geometry/rings.ts';
import { ringProblems } from '../../../nesting/geometry/validity.ts';
import type { Outline } from '../../../nesting/packing/types.ts';
import type { Piece } from '../../../pattern/exchange/project.ts';
import { checkPiece, cutShape, mendPiece, turnGrain } from '../../../pattern/pieces/index.ts';
import { areaOf, pieceOf, rectangle, SLIT_FRAME } from './shapes.ts';

const codes = (outline: Outline, more: Partial<Piece> = {}): string[] =>
  checkPiece(pieceOf(outline, more)).map((problem) => `${problem.level} ${problem.code}`);

const hole = (width: number, height: number, x: number, y: number): Outline =>
  [...rectangle(width, height, x, y)].reverse();

const bowTie: Outline = [
  [0, 0],
  [100, 100],
  [100, 0],
  [0, 100],
];
/** A rectangle whose drawn line overshoots at one corner and makes a loop of 2 × 2 mm there. */
const overshot: Outline = [
  [0, 0],
  [200, 0],
  [200, 152],
  [198, 152],
  [198, 150],
  [202, 150],
  [202, 148],
  [200, 148],
  [200, 151],
  [0, 150],
];

describe('checkPiece', () => {
  it('finds nothing wrong with a sound piece', () => {
    expect(codes(rectangle(100, 60))).toEqual([]);
    expect(codes(rectangle(100, 60), { foldEdge: 3, line: 'sew', allowanceMm: 10 })).toEqual([]);
    expect(codes(rectangle(100, 60), { holes: [hole(20, 20, 10, 10), hole(20, 20, 30, 10)] })).toEqual([]);
    expect(
      codes([
        [0, 0],
        [0, 0],
        [100, 0],
        [100, 60],
        [0, 60],
        [0, 0],
      ]),
    ).toEqual([]);
  });

  it.each<[string, Outline, Partial<Piece>, string]>([
    ['no points', [], {}, 'error tooFewPoints'],
    [
      'two points',
      [
        [0, 0],
        [5, 5],
      ],
      {},
      'error tooFewPoints',
    ],
    [
      'a line',
      [
        [0, 0],
        [50, 0],
        [100, 0],
      ],
      {},
      'error noSize',
    ],
    ['a hair', rectangle(200, 0.05), {}, 'error noSize'],
    [
      'not a number',
      [
        [0, 0],
        [Number.NaN, 0],
        [5, 5],
      ],
      {},
      'error notFinite',
    ],
    ['a bow tie', bowTie, {}, 'error noSize'],
    [
      'a slanted bow tie',
      [
        [0, 0],
        [100, 100],
        [110, 0],
        [0, 90],
      ],
      {},
      'error crossesItself',
    ],
    ['clockwise', [...rectangle(50, 50)].reverse(), {}, 'info clockwise'],
    ['tiny', rectangle(3, 2), {}, 'warning tiny'],
    ['huge', rectangle(6000, 2000), {}, 'warning huge'],
    ['a hole outside', rectangle(100, 60), { holes: [hole(20, 20, 90, 10)] }, 'error holeOutside'],
    [
      'holes that overlap',
      rectangle(100, 60),
      { holes: [hole(20, 20, 10, 10), hole(20, 20, 20, 15)] },
      'error holesOverlap',
    ],
    ['no such fold edge', rectangle(100, 60), { foldEdge: 4 }, 'error noSuchFoldEdge'],
    [
      'a fold edge without length',
      [
        [0, 0],
        [100, 0],
        [100, 0],
        [100, 60],
      ],
      { foldEdge: 1 },
      'error noSuchFoldEdge',
    ],
    [
      'both sides of the fold',
      [
        [0, 0],
        [100, 0],
        [100, 60],
        [150, 60],
        [150, -20],
        [160, -20],
        [160, 80],
        [0, 80],
      ],
      { foldEdge: 0 },
      'error acrossFold',
    ],
    ['a fold across the grain', rectangle(100, 60), { foldEdge: 0 }, 'warning foldOffGrain'],
    ['a negative allowance', rectangle(100, 60), { line: 'sew', allowanceMm: -5 }, 'error allowanceNegative'],
    [
      'a hole that closes',
      rectangle(100, 60),
      { line: 'sew', allowanceMm: 12, holes: [hole(20, 20, 40, 20)] },
      'info holeCloses',
    ],
  ])('%s', (_, outline, more, code) => {
    expect(codes(outline, more)).toContain(code);
  });

  it('says by how much a piece reaches across its fold, in the units asked for', () => {
    const piece = pieceOf(
      [
        [0, 0],
        [100, 0],
        [100, 60],
        [-12.7, 60],
      ],
      { foldEdge: 3 },
    );
    const tilted = {
      ...piece,
      outline: [
        [0, 0],
        [100, 0],
        [100, 60],
        [0, 60],
        [0, 55],
        [-12.7, 20],
        [0, 15],
      ] as Outline,
      foldEdge: 3,
    };
    expect(checkPiece(tilted, 'in')[0]!.text).toContain('1/2 in reach beyond it');
    expect(checkPiece(tilted, 'cm')[0]!.text).toContain('1.27 cm reach beyond it');
  });

  it('warns where an allowance runs into itself', () => {
    expect(codes(SLIT_FRAME, { line: 'sew', allowanceMm: 5 })).toEqual(['warning allowanceMeetsItself']);
    expect(codes(SLIT_FRAME, { line: 'sew', allowanceMm: 2 })).toEqual([]);
  });

  it('never throws, and what it lets pass can be cut', () => {
    const point = fc.tuple(fc.integer({ min: -30, max: 30 }), fc.integer({ min: -30, max: 30 }));
    const ring = fc.array(point, { minLength: 0, maxLength: 7 });
    fc.assert(
      fc.property(
        ring,
        fc.array(ring, { maxLength: 2 }),
        fc.option(fc.integer({ min: 0, max: 8 })),
        fc.integer({ min: -2, max: 12 }),
        (outline, holes, foldEdge, allowanceMm) => {
          const piece = pieceOf(outline, { holes, foldEdge, line: 'sew', allowanceMm });
          const problems = checkPiece(piece);
          if (problems.some((problem) => problem.level === 'error')) return;
          const cut = cutShape(piece);
          expect(areaOf(cut)).toBeGreaterThan(0);
          expect(ringProblems(cut.outline).filter((p) => p.kind !== 'repeated-point')).toEqual([]);
        },
      ),
      { numRuns: 1500 },
    );
  });
});

describe('mendPiece', () => {
  it('leaves a sound piece alone', () => {
    const piece = pieceOf(rectangle(100, 60));
    expect(mendPiece(piece)).toEqual({ piece, mended: [], problems: [] });
    expect(mendPiece(piece).piece).toBe(piece);
  });

  it('turns rings round and keeps the fold edge on its edge', () => {
    const piece = pieceOf([...rectangle(100, 60)].reverse(), {
      foldEdge: 0,
      grainDeg: 0,
      holes: [rectangle(20, 20, 40, 20)],
    });
    const { piece: mended, mended: said, problems } = mendPiece(piece);
    expect(signedArea(mended.outline)).toBe(6000);
    expect(signedArea(mended.holes[0]!)).toBe(-400);
    expect(said).toHaveLength(2);
    expect(problems).toEqual([]);
    // The fold edge ran from (0, 60) to (100, 60).
    expect(mended.outline[mended.foldEdge!]![1]).toBe(60);
    expect(mended.outline[(mended.foldEdge! + 1) % 4]![1]).toBe(60);
  });

  it('takes off spikes and small loops and says so', () => {
    const spiked = mendPiece(
      pieceOf([
        [0, 0],
        [100, 0],
        [130, 0],
        [100, 0],
        [100, 60],
        [0, 60],
      ]),
    );
    expect(spiked.mended).toEqual(['Spikes that enclosed nothing were taken off the outline.']);
    expect(signedArea(spiked.piece.outline)).toBe(6000);
    expect(codes(overshot)).toContain('error crossesItself');
    const looped = mendPiece(pieceOf(overshot));
    expect(looped.mended).toEqual(['Where the outline crossed itself, a small loop was cut off.']);
    expect(looped.problems).toEqual([]);
    expect(signedArea(looped.piece.outline)).toBeCloseTo(200 * 150, -3);
  });

  it('makes a hole of a cut-out drawn in one line with the outline', () => {
    const keyhole: Outline = [
      [0, 0],
      [50, 0],
      [50, 20],
      [40, 20],
      [40, 40],
      [60, 40],
      [60, 20],
      [50, 20],
      [50, 0],
      [100, 0],
      [100, 60],
      [0, 60],
    ];
    const { piece, mended, problems } = mendPiece(pieceOf(keyhole));
    expect(mended).toHaveLength(1);
    expect(problems).toEqual([]);
    expect(piece.holes).toHaveLength(1);
    expect(areaOf(piece)).toBeCloseTo(6000 - 400, 2);
  });

  it('leaves two halves joined by a crossing as they are, with the error', () => {
    const eight: Outline = [
      [0, 0],
      [100, 100],
      [110, 0],
      [0, 90],
    ];
    const { piece, mended, problems } = mendPiece(pieceOf(eight));
    expect(piece.outline).toBe(eight);
    expect(mended).toEqual([]);
    expect(problems[0]!.code).toBe('crossesItself');
  });
});

describe('turnGrain', () => {
  it('turns the line and keeps it between 0 and 180', () => {
    expect(turnGrain(pieceOf(rectangle(10, 20)), 90).grainDeg).toBe(0);
    expect(turnGrain(pieceOf(rectangle(10, 20), { grainDeg: 10 }), -45).grainDeg).toBe(145);
  });
});
