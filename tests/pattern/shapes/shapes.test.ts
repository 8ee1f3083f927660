import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundingBox, signedArea } from '../../../nesting/geometry/rings.ts';
import { checkPiece } from '../../../pattern/pieces/index.ts';
import {
  biasStrips,
  continuousBiasSquare,
  cutSizeOf,
  measureFault,
  missingMeasure,
  pieceFromShape,
  reshaped,
  SHAPE_MEASURES,
  SHAPE_NAMES,
  type ShapeName,
  shapeOutline,
} from '../../../pattern/shapes/index.ts';

const INCH = 25.4;

describe('shapes by their measures', () => {
  // School geometry; the arcs are chords, at most 0.05 mm inside.
  const areas: Record<ShapeName, (m: Record<string, number>) => number> = {
    roundedRectangle: ({ width, height, radius }) => width! * height! - (4 - Math.PI) * radius! ** 2,
    trapezoid: ({ top, bottom, height }) => ((top! + bottom!) / 2) * height!,
    circle: ({ diameter }) => (Math.PI * diameter! ** 2) / 4,
    semicircle: ({ diameter }) => (Math.PI * diameter! ** 2) / 8,
    boxedCorner: ({ width, height, corner }) => width! * height! - 2 * corner! ** 2,
    curvedBottom: ({ width, height, radius }) => width! * height! - (2 - Math.PI / 2) * radius! ** 2,
  };

  it('have the area of their formula and are sound pieces, for all measures that make sense', () => {
    const measure = fc.integer({ min: 10, max: 900 });
    fc.assert(
      fc.property(
        fc.constantFrom(...SHAPE_NAMES),
        fc.record({
          width: measure,
          height: measure,
          radius: measure,
          corner: measure,
          top: measure,
          bottom: measure,
          diameter: measure,
        }),
        (name, measures) => {
          fc.pre(measureFault(name, measures) === null);
          const outline = shapeOutline(name, measures);
          const expected = areas[name](measures);
          const round = Math.PI * (measures.diameter + 2 * measures.radius);
          expect(Math.abs(signedArea(outline) - expected)).toBeLessThanOrEqual(0.05 * round + 1e-6);
          const piece = pieceFromShape('p', name, { shape: name, measures, line: 'cut', allowanceMm: 0 });
          expect(checkPiece(piece).filter(({ level }) => level === 'error')).toEqual([]);
          const box = boundingBox(outline);
          expect(Math.hypot(box.minX, box.minY)).toBeLessThan(0.1);
        },
      ),
    );
  });

  it('name the measure that does not fit, and how large it may be', () => {
    expect(measureFault('roundedRectangle', { width: 100, height: 60, radius: 31 })).toEqual({
      measure: 'radius',
      mostMm: 30,
    });
    expect(measureFault('boxedCorner', { width: 100, height: 90, corner: 50 })).toEqual({
      measure: 'corner',
      mostMm: 50,
    });
    expect(measureFault('circle', { diameter: 0 })).toEqual({ measure: 'diameter', mostMm: null });
    expect(measureFault('curvedBottom', { width: 80, height: 100, radius: 40 })).toBeNull();
    expect(() => shapeOutline('circle', {})).toThrow(RangeError);
    for (const name of SHAPE_NAMES) expect(measureFault(name, {})?.measure).toBe(SHAPE_MEASURES[name][0]);
  });
});

describe('from the finished size to the cut size', () => {
  const cut = (name: Parameters<typeof cutSizeOf>[0], inches: Record<string, number>): [number, number] => {
    const mm = Object.fromEntries(Object.entries(inches).map(([key, value]) => [key, value * INCH]));
    const { across, along } = cutSizeOf(name, mm);
    return [across.mm / INCH, along.mm / INCH];
  };

  it('a strap is cut four times as wide as it is finished', () => {
    // 3 in cut gives 3/4 in finished (spencerogg.com, "Cross-body straps the easy way"); 1 in needs 4 in.
    expect(cut('strap', { width: 0.75, length: 50, seam: 0 })[0]).toBeCloseTo(3, 9);
    expect(cut('strap', { width: 1, length: 20, seam: 0.5 })).toEqual([4, 21]);
  });

  it('a tote body and a gusset add up as published', () => {
    // width = W + B + 1 in, length = 2T + B + 3 in (patchworkpie.blogspot.com, 2008).
    const [across, along] = cut('toteBody', { width: 14, height: 13, depth: 4, seam: 0.5, hem: 1.5 });
    expect(across).toBeCloseTo(14 + 4 + 1, 9);
    expect(along).toBeCloseTo(2 * 13 + 4 + 3, 9);
    // Panels of 13 × 15 in need 43 in of gusset, which a 45 in cloth gives; 14 × 16 need 46, which it never does
    // (peschelpress.com, "Cutting tote bag fabric").
    expect(cut('gusset', { width: 13, height: 15, depth: 8, seam: 0, hem: 0 })[1]).toBeCloseTo(43, 9);
    expect(cut('gusset', { width: 14, height: 16, depth: 8, seam: 0, hem: 0 })[1]).toBeCloseTo(46, 9);
    expect(missingMeasure('gusset', { width: 1, height: 1, depth: 1, seam: 0 })).toBe('hem');
    expect(missingMeasure('strap', { width: 1, length: 1, seam: 0 })).toBeNull();
  });

  it('a piece follows its measures when they are changed, and keeps the rest', () => {
    const strap = pieceFromShape('s', 'Strap', {
      shape: 'strap',
      measures: { width: 25, length: 1000, seam: 10 },
      line: 'cut',
      allowanceMm: 0,
    });
    const wider = reshaped({ ...strap, notes: 'webbing inside' }, { width: 30, length: 1000, seam: 10 });
    expect(boundingBox(wider.outline)).toEqual({ minX: 0, minY: 0, maxX: 120, maxY: 1020 });
    expect(wider.notes).toBe('webbing inside');
  });
});

describe('strips on the bias', () => {
  const strips = (width: number, length: number, strip: number, sewn: boolean) => {
    const { strips: count, eachMm, totalMm } = biasStrips(width * INCH, length * INCH, strip * INCH, sewn);
    return { count, each: eachMm / INCH, total: totalMm / INCH };
  };

  it('divide their width by cos 45°: a published 352 in from 31 × 20 in is 219', () => {
    // quiltingboard.com, post 8276918: a bias fold of 44 in and 20 / 2 1/2 = 8 strips, "352 in" against 272 needed.
    const published = 8 * 44;
    const true_ = strips(31, 20, 2.5, true);
    expect(true_.count).toBe(5);
    expect(true_.each).toBeCloseTo(43.8, 1);
    expect(Math.round(true_.total)).toBe(219);
    expect(true_.total).toBeLessThan(272);
    expect(published).toBeGreaterThan((31 * 20) / 2.5);
    // Without sewing the corner on there is no full strip in it at all.
    expect(strips(31, 20, 2.5, false).count).toBe(0);
  });

  it('the longest single strip of 54 in cloth is 76 in', () => {
    // forum.upholster.com, topic 10184.
    expect(strips(54, 54, 1.5, true).each).toBeCloseTo(76.4, 1);
  });

  it('an endless strip needs the square of the exact formula, not the round figure of 10 in', () => {
    // 98 in of 1 in: 7 turns, 10.4 in (thebuttonship.blogspot.com); a published 10 in square gave less than 100 in.
    expect(continuousBiasSquare(98 * INCH, INCH, INCH / 4) / INCH).toBeCloseTo(10.4, 1);
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 500 }), fc.integer({ min: 1, max: 5 }), (length, width) => {
        // No square is smaller than the area that is cut from it.
        expect(continuousBiasSquare(length, width, 0)).toBeGreaterThanOrEqual(
          Math.sqrt(length * width) - 1e-9,
        );
      }),
    );
  });
});
