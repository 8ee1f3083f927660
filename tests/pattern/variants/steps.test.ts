import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { emptyProject } from '../../../pattern/exchange/emptyProject.ts';
import type { Piece, Project, VariantStep } from '../../../pattern/exchange/project.ts';
import { checkPiece, cutShape, pieceSize, shapeSize, wholeShape } from '../../../pattern/pieces/index.ts';
import {
  comesFrom,
  type FoldLine,
  foldLines,
  followVariants,
  largerSide,
  takeSteps,
  toSewLine,
  variantFault,
} from '../../../pattern/variants/index.ts';
import { areaOf, convexOutline, halfOutline, pieceOf, rectangle, starOutline } from '../pieces/shapes.ts';

function made(piece: Piece, ...steps: VariantStep[]): Piece {
  const result = takeSteps(piece, steps);
  if (!result.ok) throw new Error(result.say('en'));
  return result.piece;
}

const refusal = (piece: Piece, ...steps: VariantStep[]): string => {
  const result = takeSteps(piece, steps);
  return result.ok ? 'no refusal' : result.say('en');
};

const allowance = (mm: number, edges: { edge: number; mm: number }[] = []): VariantStep => ({
  kind: 'allowance',
  mm,
  edges,
  corners: 'mitred',
});
const sizeOf = (piece: Piece): [number, number] => {
  const { widthMm, heightMm } = shapeSize(cutShape(piece), piece.grainDeg);
  return [widthMm, heightMm];
};

describe('steps from a piece to its variant', () => {
  // A panel with a centre seam (its left side): outer in two mirrored pairs with allowance, lining on the fold without.
  const sewn = pieceOf(rectangle(150, 200), { line: 'sew', allowanceMm: 10 });
  const cut = pieceOf(rectangle(170, 220), { line: 'cut', allowanceMm: 10 });

  it('folds a panel back at its centre seam and leaves its allowance out, from either line', () => {
    expect(sizeOf(sewn)).toEqual([170, 220]);
    const lining = made(sewn, { kind: 'foldBack', edge: 3, insideMm: 0 }, allowance(0));
    const same = made(cut, { kind: 'foldBack', edge: 3, insideMm: 10 }, allowance(0));
    for (const piece of [lining, same]) {
      expect(checkPiece(piece)).toEqual([]);
      expect(piece.foldEdge).not.toBeNull();
      expect(sizeOf(piece)).toEqual([150, 200]);
      expect(areaOf(wholeShape(piece))).toBeCloseTo(300 * 200, 6);
    }
  });

  it('folds back at a line drawn on the piece, either side of it', () => {
    // The trade's example as a pattern draws it: a cut line, the sew line in it, and a line to fold at.
    const drawn: Piece = {
      ...cut,
      marks: [
        { kind: 'sewLine', points: rectangle(150, 200, 10, 10), closed: true },
        {
          kind: 'internal',
          points: [
            [60, 0],
            [60, 100],
            [60, 220],
          ],
          closed: false,
        },
        { kind: 'notch', points: [[4, 110]], closed: false },
        { kind: 'notch', points: [[170, 110]], closed: false },
      ],
    };
    const lines = foldLines(drawn);
    expect(lines.map(({ kind, lengthMm }) => [kind, lengthMm])).toEqual([
      ['internal', 220],
      ['sewLine', 200],
      ['sewLine', 200],
      ['sewLine', 150],
      ['sewLine', 150],
    ]);
    const seam = lines.find(({ kind, ends }) => kind === 'sewLine' && ends.every(([x]) => x === 10))!;
    const at = (line: FoldLine, keep: 'left' | 'right'): VariantStep => ({
      kind: 'foldBack',
      edge: 0,
      insideMm: 0,
      line: { mark: line.mark, from: line.from, keep },
    });
    // Two pairs from the outer, with its allowance; the lining on the fold at the seam, without it.
    const lining = made(drawn, at(seam, largerSide(drawn.outline, seam.ends)), allowance(0));
    expect(sizeOf(lining)).toEqual([150, 200]);
    expect(areaOf(wholeShape(lining))).toBeCloseTo(300 * 200, 6);
    // The notch beyond the fold is gone, the one at the other side came along with its edge.
    expect(lining.marks.filter(({ kind }) => kind === 'notch').map(({ points }) => points[0])).toEqual([
      [160, 110],
    ]);
    const inner = lines.find(({ kind }) => kind === 'internal')!;
    const areas = (['left', 'right'] as const).map((keep) => areaOf(cutShape(made(drawn, at(inner, keep)))));
    expect(areas.toSorted((a, b) => a - b)).toEqual([60 * 220, 110 * 220]);
    expect(areaOf(cutShape(made(drawn, at(inner, largerSide(drawn.outline, inner.ends)))))).toBe(110 * 220);
    expect(
      refusal(drawn, { kind: 'foldBack', edge: 0, insideMm: 0, line: { mark: 9, from: 0, keep: 'left' } }),
    ).toContain('no longer there');
  });

  it('offers no stretch of a curve to fold at', () => {
    const arc = Array.from({ length: 40 }, (_, i): [number, number] => [
      80 + 60 * Math.cos(i / 20),
      80 + 60 * Math.sin(i / 20),
    ]);
    expect(foldLines({ ...cut, marks: [{ kind: 'internal', points: arc, closed: false }] })).toEqual([]);
  });

  it('never gives a fold edge an allowance', () => {
    const half = made(cut, { kind: 'foldBack', edge: 3, insideMm: 10 }, allowance(4));
    // 4 mm at three sides, none at the fold: 150 + 4 across, 200 + 2 × 4 along.
    expect(sizeOf(half)).toEqual([154, 208]);
    expect(areaOf(wholeShape(half))).toBeCloseTo(308 * 208, 6);
  });

  it('opens a half out: twice the area, marks on both sides', () => {
    fc.assert(
      fc.property(halfOutline, ({ outline }) => {
        const foldEdge = 0;
        const half = pieceOf(outline, {
          foldEdge,
          grainDeg: 90,
          marks: [{ kind: 'notch', points: [outline[(foldEdge + 2) % outline.length]!], closed: false }],
        });
        fc.pre(!checkPiece(half).some((problem) => problem.level === 'error'));
        const whole = made(half, { kind: 'unfold' });
        expect(areaOf(cutShape(whole)) / areaOf(cutShape(half))).toBeCloseTo(2, 9);
        expect(whole.marks).toHaveLength(2);
        expect(whole.foldEdge).toBeNull();
      }),
    );
  });

  it('comes back to itself when opened out and folded at the same line', () => {
    const half = pieceOf(rectangle(100, 200), { foldEdge: 3 });
    const whole = made(half, { kind: 'unfold' });
    expect(pieceSize(whole).widthMm).toBeCloseTo(200, 9);
    const right = whole.outline.findIndex(
      (p, i) => p[0] > 99 && whole.outline[(i + 1) % whole.outline.length]![0] > 99,
    );
    const again = made(whole, { kind: 'foldBack', edge: right, insideMm: 100 });
    expect(areaOf(cutShape(again))).toBeCloseTo(areaOf(cutShape(half)), 6);
    expect(areaOf(wholeShape(again))).toBeCloseTo(areaOf(cutShape(whole)), 6);
  });

  it('gives edges allowances of their own, and takes an allowance in as it was put on', () => {
    const piece = made(pieceOf(rectangle(100, 60), { line: 'sew' }), allowance(10, [{ edge: 0, mm: 25 }]));
    // 25 mm hem below, 10 mm elsewhere.
    expect(sizeOf(piece)).toEqual([120, 95]);
    const asCut: Piece = { ...piece, outline: cutShape(piece).outline, line: 'cut' };
    expect(areaOf(toSewLine(asCut))).toBeCloseTo(100 * 60, 6);
    // A side made of two edges: the allowance has a step where it changes.
    const stepped = made(
      pieceOf(
        [
          [0, 0],
          [50, 0],
          [100, 0],
          [100, 60],
          [0, 60],
        ],
        { line: 'sew' },
      ),
      allowance(0, [{ edge: 0, mm: 8 }]),
    );
    expect(areaOf(cutShape(stepped))).toBeCloseTo(100 * 60 + 50 * 8, 6);
  });

  it('adds and removes an allowance without loss on convex pieces', () => {
    fc.assert(
      fc.property(convexOutline, fc.integer({ min: 1, max: 15 }), (outline, mm) => {
        const piece = pieceOf(outline, { line: 'sew', allowanceMm: mm });
        const drawn = cutShape(piece);
        // Sharp tips are cut off square, and then the way back is another.
        fc.pre(drawn.outline.length === outline.length);
        const back = made(pieceOf(drawn.outline, { line: 'cut', allowanceMm: mm }), allowance(0));
        expect(areaOf(cutShape(back)) / areaOf({ outline, holes: [] })).toBeCloseTo(1, 6);
      }),
    );
  });

  it('rounds or squares corners on request', () => {
    const corner = (corners: 'mitred' | 'squared' | 'rounded'): number =>
      areaOf(cutShape(pieceOf(rectangle(100, 100), { line: 'sew', allowanceMm: 10, corners }))) -
      10_000 -
      4_000;
    expect(corner('mitred')).toBeCloseTo(400, 6);
    // Four quarter circles, drawn at most 2 % outside.
    expect(corner('rounded')).toBeGreaterThanOrEqual(Math.PI * 100 - 1e-6);
    expect(corner('rounded')).toBeLessThan(Math.PI * 100 * 1.02);
    // Each square corner less a triangle of height (√2 − 1)·d.
    expect(corner('squared')).toBeCloseTo(4 * (100 - (Math.SQRT2 - 1) ** 2 * 100), 6);
  });

  it('exchanges left and right, and back', () => {
    const flap = pieceOf(
      [
        [0, 0],
        [80, 0],
        [80, 50],
        [20, 90],
        [0, 60],
      ],
      {
        foldEdge: null,
        grainDeg: 60,
        topDeg: 80,
        edgeAllowances: [{ edge: 1, mm: 5 }],
        line: 'sew',
        allowanceMm: 10,
      },
    );
    const mirrored = made(flap, { kind: 'mirror' });
    expect(mirrored.grainDeg).toBe(120);
    expect(areaOf(cutShape(mirrored))).toBeCloseTo(areaOf(cutShape(flap)), 6);
    const back = made(mirrored, { kind: 'mirror' });
    expect(back.edgeAllowances).toEqual(flap.edgeAllowances);
    expect(back.topDeg).toBe(80);
    expect(areaOf(cutShape(back))).toBeCloseTo(areaOf(cutShape(flap)), 9);
  });

  it('is made longer or shorter at a line by exactly so much, marks beyond it included', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 20, max: 300 }),
        fc.integer({ min: 100, max: 900 }),
        fc.integer({ min: -40, max: 200 }),
        (across, along, by) => {
          const strap = pieceOf(rectangle(across, along), {
            marks: [{ kind: 'notch', points: [[0, along]], closed: false }],
          });
          const longer = made(strap, { kind: 'lengthen', direction: 'along', atMm: along / 2, byMm: by });
          expect(sizeOf(longer)).toEqual([across, along + by]);
          expect(longer.marks[0]!.points[0]).toEqual([0, along + by]);
        },
      ),
    );
    const strap = pieceOf(rectangle(40, 100));
    expect(refusal(strap, { kind: 'lengthen', direction: 'along', atMm: 100, byMm: 5 })).toContain(
      'does not cross',
    );
    expect(refusal(strap, { kind: 'lengthen', direction: 'along', atMm: 50, byMm: -60 })).toContain(
      'shortened',
    );
  });

  it('scales the sew line and keeps the allowance', () => {
    const smaller = made(cut, { kind: 'scale', alongPercent: 50, acrossPercent: 200 });
    // Sew line 150 × 200 becomes 300 × 100, and 10 mm on each side stay.
    expect(sizeOf(smaller)[0]).toBeCloseTo(320, 9);
    expect(sizeOf(smaller)[1]).toBeCloseTo(120, 9);
  });

  it('refuses steps that make no sense, in words', () => {
    expect(refusal(cut, { kind: 'unfold' })).toContain('no fold edge');
    expect(refusal(cut, { kind: 'foldBack', edge: 9, insideMm: 0 })).toContain('no edge 10');
    expect(refusal(cut, { kind: 'foldBack', edge: 3, insideMm: 900 })).toContain('nothing of it');
    expect(refusal(pieceOf(rectangle(10, 10), { allowanceMm: 6 }), allowance(0))).toContain(
      'nothing is left',
    );
  });
});

describe('any steps in any order', () => {
  const step: fc.Arbitrary<VariantStep> = fc.oneof(
    fc.constant<VariantStep>({ kind: 'unfold' }),
    fc.constant<VariantStep>({ kind: 'mirror' }),
    fc.record({ kind: fc.constant('foldBack' as const), edge: fc.nat(12), insideMm: fc.nat(120) }),
    fc.record({
      kind: fc.constant('foldBack' as const),
      edge: fc.constant(0),
      insideMm: fc.constant(0),
      line: fc.record({
        mark: fc.nat(2),
        from: fc.nat(6),
        keep: fc.constantFrom('left' as const, 'right' as const),
      }),
    }),
    fc.record({
      kind: fc.constant('allowance' as const),
      mm: fc.nat(40),
      edges: fc.array(fc.record({ edge: fc.nat(9), mm: fc.nat(60) }), { maxLength: 3 }),
      corners: fc.constantFrom('mitred' as const, 'squared' as const, 'rounded' as const),
    }),
    fc.record({
      kind: fc.constant('lengthen' as const),
      direction: fc.constantFrom('along' as const, 'across' as const),
      atMm: fc.nat(400),
      byMm: fc.integer({ min: -150, max: 300 }),
    }),
    fc.record({
      kind: fc.constant('scale' as const),
      alongPercent: fc.integer({ min: 1, max: 400 }),
      acrossPercent: fc.integer({ min: 1, max: 400 }),
    }),
  );

  it('give a piece of finite measures or a sentence, never a fault of ours', () => {
    fc.assert(
      fc.property(
        fc.oneof(convexOutline, starOutline),
        fc.array(step, { minLength: 1, maxLength: 5 }),
        fc.record({
          allowanceMm: fc.nat(20),
          grainDeg: fc.constantFrom(0, 45, 90, 133.7),
          isSewn: fc.boolean(),
        }),
        (outline, steps, { isSewn, ...more }) => {
          const piece = pieceOf(outline, {
            ...more,
            line: isSewn ? 'sew' : 'cut',
            marks: [
              { kind: 'notch', points: [outline[0]!], closed: false },
              {
                kind: 'sewLine',
                points: outline.map(([x, y]): [number, number] => [0.8 * x, 0.8 * y]),
                closed: true,
              },
            ],
          });
          const result = takeSteps(piece, steps);
          if (!result.ok) {
            expect(result.say('en').length).toBeGreaterThan(5);
            return;
          }
          const all = [
            result.piece.outline,
            ...result.piece.holes,
            ...result.piece.marks.map(({ points }) => points),
          ];
          expect(all.flat(2).every(Number.isFinite)).toBe(true);
          if (!checkPiece(result.piece).some(({ level }) => level === 'error')) cutShape(result.piece);
        },
      ),
      { numRuns: 400 },
    );
  });
});

describe('variants follow the piece they come from', () => {
  const panel = pieceOf(rectangle(170, 220), { id: 'panel', name: 'Panel', allowanceMm: 10 });
  const lining: Piece = {
    ...panel,
    id: 'lining',
    name: 'Panel, lining',
    notes: 'mine',
    variant: { from: 'panel', steps: [{ kind: 'foldBack', edge: 3, insideMm: 10 }, allowance(0)] },
  };
  const small: Piece = {
    ...panel,
    id: 'small',
    name: 'Small lining',
    variant: { from: 'lining', steps: [{ kind: 'scale', alongPercent: 50, acrossPercent: 50 }] },
  };
  const project: Project = {
    ...emptyProject('Test', 'cm'),
    pieces: [small, panel, lining],
    materials: [{ id: 'm', name: 'Lining', role: 'lining' }],
    cutList: [{ pieceId: 'lining', materialId: 'm', plain: 2, mirrored: 0, onFold: 0 }],
  };
  const named = (from: Project, id: string): Piece => from.pieces.find((piece) => piece.id === id)!;

  it('works out chains in any order, keeps name and notes, and puts counts on the new fold', () => {
    const settled = followVariants(project);
    expect(sizeOf(named(settled, 'lining'))).toEqual([150, 200]);
    expect(sizeOf(named(settled, 'small'))).toEqual([75, 100]);
    expect(named(settled, 'lining').notes).toBe('mine');
    expect(settled.cutList[0]).toMatchObject({ plain: 0, onFold: 2 });
    expect(followVariants(settled)).toBe(settled);
    const wider = followVariants({
      ...settled,
      pieces: settled.pieces.map((piece) =>
        piece.id === 'panel' ? { ...piece, outline: rectangle(190, 220) } : piece,
      ),
    });
    expect(sizeOf(named(wider, 'lining'))).toEqual([170, 200]);
    expect(sizeOf(named(wider, 'small'))).toEqual([85, 100]);
  });

  it('keeps the last shape and says why when a step no longer fits, and never runs in a circle', () => {
    const settled = followVariants(project);
    const gone = { ...settled, pieces: settled.pieces.filter((piece) => piece.id !== 'panel') };
    expect(followVariants(gone)).toBe(gone);
    expect(variantFault(gone, named(gone, 'lining'))).toContain('no longer there');
    const round: Project = {
      ...project,
      pieces: [
        { ...panel, variant: { from: 'lining', steps: [] } },
        { ...lining, variant: { from: 'panel', steps: [] } },
      ],
    };
    expect(comesFrom(round.pieces, round.pieces[0]!, 'panel')).toBe(true);
    expect(followVariants(round).pieces).toHaveLength(2);
    expect(variantFault(round, round.pieces[0]!)).not.toBeNull();
    expect(variantFault(settled, named(settled, 'small'))).toBeNull();
  });
});
