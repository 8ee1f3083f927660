import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance } from '../../nesting/geometry/rings.ts';
import type { Outline } from '../../nesting/packing/types.ts';
import type { Piece } from '../../pattern/exchange/project.ts';
import { cutShape } from '../../pattern/pieces/index.ts';
import { drawnAllowance } from '../../pattern/proposals/drawnAllowance.ts';
import { toSewLine } from '../../pattern/variants/index.ts';
import { pieceOf, rectangle, starOutline } from '../pattern/pieces/shapes.ts';

const drawn = (outline: Outline, sewLine: Outline, more: Partial<Piece> = {}): Piece =>
  pieceOf(outline, { marks: [{ kind: 'sewLine', points: sewLine, closed: true }], ...more });

describe('the allowance between a cut line and the sew line drawn in it', () => {
  it('is what the sew line was given, on any shape', () => {
    fc.assert(
      fc.property(starOutline, fc.integer({ min: 3, max: 20 }), (sewLine, mm) => {
        const cut = cutShape(pieceOf(sewLine, { line: 'sew', allowanceMm: mm }));
        // A tip or an inner corner cut off square, or a mouth grown together, is no longer that line moved; and an edge shorter
        // than what its corners take has no middle of its own.
        fc.pre(cut.outline.length === sewLine.length && cut.holes.length === 0);
        const back = toSewLine(pieceOf(cut.outline, { allowanceMm: mm }));
        fc.pre(back.outline.length === sewLine.length);
        fc.pre(sewLine.every((p, i) => distance(p, sewLine[(i + 1) % sewLine.length]!) > 10 * mm));
        expect(drawnAllowance(drawn(cut.outline, sewLine))).toEqual({ allowanceMm: expect.closeTo(mm, 2) });
      }),
    );
  });

  it('tells a hem from the other edges, and gives the fold edge none', () => {
    // 10 mm above and at the right, a hem of 40 mm below, the fold at the left.
    const piece = drawn(rectangle(160, 250), rectangle(150, 200, 0, 40), { foldEdge: 3 });
    expect(drawnAllowance(piece)).toEqual({ allowanceMm: 10, edgeAllowances: [{ edge: 0, mm: 40 }] });
  });

  it('is not guessed from a line that is something else', () => {
    // A pocket placement, marked by mistake; a line that is not parallel; two lines; none.
    expect(drawnAllowance(drawn(rectangle(400, 400), rectangle(150, 150, 125, 125)))).toBeNull();
    const skew: Outline = [
      [10, 10],
      [180, 40],
      [190, 190],
      [10, 190],
    ];
    expect(drawnAllowance(drawn(rectangle(200, 200), skew))).toBeNull();
    const two = drawn(rectangle(200, 200), rectangle(180, 180, 10, 10));
    expect(drawnAllowance(two)).toEqual({ allowanceMm: 10 });
    expect(drawnAllowance({ ...two, marks: [...two.marks, ...two.marks] })).toBeNull();
    expect(drawnAllowance(pieceOf(rectangle(200, 200)))).toBeNull();
  });
});
