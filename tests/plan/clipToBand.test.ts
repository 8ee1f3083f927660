import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signedArea } from '../../nesting/geometry/rings.ts';
import { bandRanges } from '../../pattern/plan/bands.ts';
import { clipEdges, clipRing } from '../../pattern/plan/clipToBand.ts';
import { clothFrame } from '../../pattern/plan/clothFrame.ts';
import { GUSSET } from '../support/handmadeLays.ts';
import { elevenMetres, longStrap } from './extremeLays.ts';
import { SAMPLES } from './sampleLays.ts';

const horseshoe: readonly (readonly [number, number])[] = [
  [0, 0],
  [100, 0],
  [100, 10],
  [10, 10],
  [10, 40],
  [100, 40],
  [100, 50],
  [0, 50],
];

const edgeLength = (lines: readonly (readonly (readonly [number, number])[])[]) =>
  lines.reduce(
    (sum, line) =>
      sum + line.slice(1).reduce((s, [x, y], i) => s + Math.hypot(x - line[i]![0], y - line[i]![1]), 0),
    0,
  );

describe('cutting a piece at the end of a row', () => {
  it('shares its area and its outline among the rows, wherever the cuts are', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(horseshoe, GUSSET),
        fc.double({ min: -20, max: 340, noNaN: true }),
        fc.double({ min: 0, max: 200, noNaN: true }),
        (ring, first, width) => {
          const cuts = [-1000, first, first + width, 1000];
          const parts = cuts.slice(1).map((to, i) => [cuts[i]!, to] as const);
          const areas = parts.map(([a, b]) => Math.abs(signedArea(clipRing(ring, a, b))));
          expect(areas.reduce((s, a) => s + a, 0)).toBeCloseTo(Math.abs(signedArea(ring)), 6);
          // An edge exactly on a cut may belong to both sides.
          const cutOnEdge = ring.some(([x]) => x === first || x === first + width);
          const around = edgeLength([[...ring, ring[0]!]]);
          if (!cutOnEdge) {
            const lengths = parts.map(([a, b]) => edgeLength(clipEdges(ring, a, b)));
            expect(lengths.reduce((s, l) => s + l, 0)).toBeCloseTo(around, 6);
          }
        },
      ),
    );
  });

  it('draws no edge along the cut', () => {
    for (const line of clipEdges(horseshoe, -10, 50)) {
      for (let i = 1; i < line.length; i++) {
        expect(line[i]![0] === 50 && line[i - 1]![0] === 50).toBe(false);
      }
    }
  });
});

describe('bandRanges', () => {
  it('covers the cloth from end to end without gap', () => {
    for (const make of Object.values(SAMPLES)) {
      const { lay, project } = make();
      const frame = clothFrame(lay, project.cloths[0]);
      for (const most of [200, 777, 5_000, 20_000]) {
        const ranges = bandRanges(frame, most);
        expect(ranges[0]!.fromMm).toBe(frame.fromMm);
        expect(ranges.at(-1)!.toMm).toBe(frame.toMm);
        for (const [i, range] of ranges.entries()) {
          expect(range.toMm - range.fromMm).toBeLessThanOrEqual(most + 0.011);
          if (i > 0) expect(range.fromMm).toBe(ranges[i - 1]!.toMm);
        }
      }
    }
  });

  it('breaks between pieces where it can', () => {
    const { lay, project } = elevenMetres();
    const frame = clothFrame(lay, project.cloths[0]);
    const breaks = bandRanges(frame, 5_000)
      .slice(0, -1)
      .map((r) => r.toMm);
    const panels = lay.segments[0]!.placed.filter((p) => p.pieceId === 'panel');
    for (const at of breaks) {
      const crossed = panels.filter((p) => {
        const xs = p.outline.map(([x]) => x + frame.stretches[0]!.originMm[0]);
        return Math.min(...xs) < at - 0.1 && Math.max(...xs) > at + 0.1;
      });
      expect(crossed).toEqual([]);
    }
  });

  it('breaks all the same where something lies across everywhere', () => {
    const { lay, project } = longStrap();
    expect(bandRanges(clothFrame(lay, project.cloths[0]), 1_000).length).toBeGreaterThanOrEqual(5);
  });
});
