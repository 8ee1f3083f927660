import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference } from '../../../nesting/geometry/boolean.ts';
import { perimeter, signedArea } from '../../../nesting/geometry/rings.ts';
import { ringProblems } from '../../../nesting/geometry/validity.ts';
import type { Outline, Point } from '../../../nesting/packing/types.ts';
import { addAllowance, cutShape, pieceSize, unfold, wholeShape } from '../../../pattern/pieces/index.ts';
import { MITRE_LIMIT } from '../../../pattern/pieces/tolerances.ts';
import { toMm } from '../../../pattern/units/index.ts';
import {
  areaOf,
  convexOutline,
  halfOutline,
  NOTCHED_AT_FOLD,
  pieceOf,
  rectangle,
  SLIT_FRAME,
  starOutline,
} from './shapes.ts';

/** tan of half the exterior angle at each corner. */
function halfTurns(ring: Outline): number[] {
  return ring.map((b, i) => {
    const a = ring[(i + ring.length - 1) % ring.length]!;
    const c = ring[(i + 1) % ring.length]!;
    const turn = Math.atan2(c[1] - b[1], c[0] - b[0]) - Math.atan2(b[1] - a[1], b[0] - a[0]);
    return Math.tan((((turn % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)) / 2);
  });
}

function distanceToRing(ring: Outline, [px, py]: Point): number {
  return Math.min(
    ...ring.map(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length]!;
      const dx = bx - ax;
      const dy = by - ay;
      const t = Math.max(0, Math.min(1, ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy)));
      return Math.hypot(ax + t * dx - px, ay + t * dy - py);
    }),
  );
}

const outside = (inner: Outline, outer: Outline): number =>
  difference([inner], [outer]).reduce((sum, part) => sum + signedArea(part.outer), 0);

describe('addAllowance', () => {
  // Steiner's formula for mitred corners: A + P·d + d²·Σ tan(θ/2), θ the exterior angles (Steiner 1840 for round
  // corners; the corner kite of a mitre has the area d²·tan(θ/2)).
  it('grows convex shapes by the formula of Steiner, corners mitred', () => {
    fc.assert(
      fc.property(convexOutline, fc.integer({ min: 1, max: 40 }), (ring, d) => {
        const tangents = halfTurns(ring);
        fc.pre(tangents.every((t) => Math.hypot(1, t) < MITRE_LIMIT));
        const grown = addAllowance(ring, d);
        expect(grown).toHaveLength(1);
        const corners = tangents.reduce((sum, t) => sum + t, 0);
        const expected = signedArea(ring) + perimeter(ring) * d + d * d * corners;
        expect(signedArea(grown[0]!.outer) / expected).toBeCloseTo(1, 9);
        expect(grown[0]!.outer).toHaveLength(ring.length);
      }),
    );
  });

  it('keeps the distance everywhere, at sharp corners and in notches too', () => {
    fc.assert(
      fc.property(fc.oneof(starOutline, convexOutline), fc.integer({ min: 1, max: 25 }), (ring, d) => {
        fc.pre(ringProblems(ring).length === 0);
        const grown = addAllowance(ring, d);
        expect(grown).toHaveLength(1);
        const { outer, holes } = grown[0]!;
        expect(ringProblems(outer)).toEqual([]);
        expect(outside(ring, outer)).toBeLessThan(1e-3);
        for (const line of [outer, ...holes]) {
          for (const p of line) {
            const away = distanceToRing(ring, p);
            expect(away).toBeGreaterThan(d - 1e-3);
            // The corner of a mitre at its limit, cut off square, lies farther than the limit by at most d.
            expect(away).toBeLessThan(d * (MITRE_LIMIT + 1) + 1e-3);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  it('takes off what it has put on, where corners are wide', () => {
    fc.assert(
      fc.property(convexOutline, fc.integer({ min: 1, max: 40 }), (ring, d) => {
        fc.pre(halfTurns(ring).every((t) => Math.hypot(1, t) < MITRE_LIMIT));
        const back = addAllowance(addAllowance(ring, d)[0]!.outer, -d);
        expect(signedArea(back[0]!.outer) / signedArea(ring)).toBeCloseTo(1, 6);
      }),
    );
  });

  it('a rectangle grows to exact measures', () => {
    const [grown] = addAllowance(rectangle(310, 145), 9.5);
    expect(grown!.outer).toEqual([
      [-9.5, -9.5],
      [319.5, -9.5],
      [319.5, 154.5],
      [-9.5, 154.5],
    ]);
  });

  it('cuts a needle off square at the mitre limit', () => {
    const needle: Outline = [
      [0, -5],
      [200, 0],
      [0, 5],
    ];
    const { outer } = addAllowance(needle, 10)[0]!;
    const tip = Math.max(...outer.map((p) => p[0]));
    expect(tip).toBeCloseTo(200 + MITRE_LIMIT * 10, 9);
    expect(outer.filter((p) => p[0] > tip - 1e-9)).toHaveLength(2);
  });

  it('says where an allowance closes a narrow mouth, and vanishes where nothing is left', () => {
    // With 5 mm all round the slit of 6 mm closes and a hole stays.
    const [closed] = addAllowance(SLIT_FRAME, 5);
    expect(closed!.holes).toHaveLength(1);
    expect(signedArea(closed!.outer)).toBeCloseTo(110 * 110, 3);
    expect(Math.abs(signedArea(closed!.holes[0]!))).toBeCloseTo(50 * 50, 3);
    expect(addAllowance(rectangle(8, 50), -5)).toEqual([]);
    expect(addAllowance([], 5)).toEqual([]);
  });
});

describe('cutShape', () => {
  it('leaves a cut line as it is', () => {
    const outline = rectangle(100, 60, 3, 4);
    expect(cutShape(pieceOf(outline, { allowanceMm: 10 }))).toEqual({ outline, holes: [], fold: null });
  });

  it('adds the allowance outside a sew line and inside a hole', () => {
    const hole = [...rectangle(40, 30, 30, 20)].reverse();
    const piece = pieceOf(rectangle(100, 70), { line: 'sew', allowanceMm: 10, holes: [hole] });
    const cut = cutShape(piece);
    expect(areaOf(cut)).toBeCloseTo(120 * 90 - 20 * 10, 9);
    expect(signedArea(cut.holes[0]!)).toBeCloseTo(-20 * 10, 9);
    expect(pieceSize(piece)).toMatchObject({ widthMm: 120, heightMm: 90, alongMm: 90, acrossMm: 120 });
    const closed = cutShape(pieceOf(rectangle(100, 70), { line: 'sew', allowanceMm: 16, holes: [hole] }));
    expect(closed.holes).toEqual([]);
  });

  // Seam allowance and foam: https://getasquiltingstudio.com/2021/07/tips-for-sewing-with-foam-heavyweight-interfacing.html
  // (foam trimmed out of the seams); the figures are arithmetic on its example panel of 13 × 15 in with 3/8 in.
  it('a foam of 12 1/4 × 14 1/4 in is a panel of 13 × 15 in less 3/8 in all round, and back', () => {
    const foam = rectangle(toMm(12.25, 'in'), toMm(14.25, 'in'));
    const panel = pieceSize(pieceOf(foam, { line: 'sew', allowanceMm: toMm(3 / 8, 'in') }));
    expect(panel.widthMm).toBeCloseTo(toMm(13, 'in'), 9);
    expect(panel.heightMm).toBeCloseTo(toMm(15, 'in'), 9);
    const [inset] = addAllowance(rectangle(toMm(13, 'in'), toMm(15, 'in')), -toMm(3 / 8, 'in'));
    expect(signedArea(inset!.outer)).toBeCloseTo(signedArea(foam), 6);
    // With 1/8 in left in the seam: 12 1/2 × 14 1/2 in.
    const [left] = addAllowance(rectangle(toMm(13, 'in'), toMm(15, 'in')), -toMm(2 / 8, 'in'));
    expect(signedArea(left!.outer)).toBeCloseTo(toMm(12.5, 'in') * toMm(14.5, 'in'), 6);
  });

  it('gives the fold edge no allowance and cuts its neighbours’ off at the fold', () => {
    const outline = rectangle(115, 310);
    const cut = cutShape(pieceOf(outline, { line: 'sew', allowanceMm: 10, foldEdge: 3 }));
    expect(cut.fold).toEqual([
      [0, 320],
      [0, -10],
    ]);
    expect(areaOf(cut)).toBeCloseTo(125 * 330, 9);
    expect(cut.outline.every(([x]) => x >= 0)).toBe(true);
  });

  it('keeps a notch on the fold line and mitres the corner at the fold as the whole piece has it', () => {
    // A kite's half: the unfolded corners lie on the fold.
    const half: Outline = [
      [0, 0],
      [200, 0],
      [100, 60],
    ];
    const piece = pieceOf(half, { line: 'sew', allowanceMm: 8, foldEdge: 0 });
    const whole = unfold({ outline: half, holes: [], fold: [half[0]!, half[1]!] });
    expect(areaOf(wholeShape(piece))).toBeCloseTo(signedArea(addAllowance(whole.outline, 8)[0]!.outer), 6);
    const cut = cutShape(pieceOf(NOTCHED_AT_FOLD, { line: 'sew', allowanceMm: 5, foldEdge: 0 }));
    expect(cut.fold![0]).toEqual([-5, 0]);
    expect(cut.fold![1]![1]).toBe(0);
    expect(cut.fold![1]![0]).toBeGreaterThan(100);
  });

  it('half and whole agree for any half piece: unfolded after the allowance or before', () => {
    fc.assert(
      fc.property(halfOutline, fc.integer({ min: 0, max: 20 }), (half, d) => {
        fc.pre(ringProblems(half.outline).length === 0);
        const piece = pieceOf(half.outline, { line: 'sew', allowanceMm: d, foldEdge: 0 });
        const cut = cutShape(piece);
        expect(ringProblems(cut.outline)).toEqual([]);
        const whole = unfold({ outline: half.outline, holes: [], fold: half.fold });
        const [grown] = addAllowance(whole.outline, d);
        const net = areaOf({ outline: grown!.outer, holes: grown!.holes });
        expect(areaOf(wholeShape(piece)) / net).toBeCloseTo(1, 6);
        // The fold edge is one edge of the outline, along its own direction, as straight as it was drawn.
        const [from, to] = cut.fold!;
        const at = cut.outline.indexOf(from);
        expect(cut.outline[(at + 1) % cut.outline.length]).toBe(to);
        const [a, b] = half.fold;
        const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
        for (const p of [from, to]) {
          const off = ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length;
          expect(Math.abs(off)).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 300 },
    );
  });
});
