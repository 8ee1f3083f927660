import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flawsOn, lanesOf, lengthsOfCloth, type StretchSpread } from '../../nesting/cloth/layers.ts';
import type { RollCloth } from '../../nesting/cloth/types.ts';
import { type ClothLay, rollSchema } from '../../pattern/exchange/project.ts';
import { clothFrame } from '../../pattern/plan/clothFrame.ts';
import { openedOut } from '../../pattern/plan/openedOut.ts';
import { rules } from '../cloth/rules.ts';
import { SAMPLES } from './sampleLays.ts';

const WIDTH = 1400;
const EDGE = 20;
const LENGTH = 900;
const DEPTH = 300;
const SPREADS = ['single', 'folded', 'crosswise', 'turned', 'middle', 'partial'] as const;

const ENGINE_ROLL: RollCloth = {
  kind: 'roll',
  id: 'r',
  wholeWidth: WIDTH,
  edge: EDGE,
  foldable: true,
  faded: [],
  flaws: [],
  look: { bars: 'none', hasMotif: false, isMatched: false },
  rules: rules(),
};
const ROLL = rollSchema.parse({
  kind: 'roll',
  id: 'r',
  name: 'Roll',
  materialId: 'm',
  widthMm: WIDTH,
  selvedgeMm: EDGE,
});

/** A lay with stretches of `LENGTH` one behind the other. */
function layOf(spreads: readonly StretchSpread[]): ClothLay {
  const lanesIn = (spread: StretchSpread) => lanesOf(ENGINE_ROLL, spread, DEPTH);
  return {
    ...SAMPLES.singleLayer().lay,
    spread: spreads[0]!,
    segments: spreads.map((spread) => ({
      spread,
      widthMm: Math.max(...lanesIn(spread).map(({ to }) => to)),
      lengthMm: LENGTH,
      placed: [],
    })),
    usedMm: spreads.reduce((sum, spread) => sum + LENGTH * lengthsOfCloth(spread), 0),
  };
}

function opened(spreads: readonly StretchSpread[], index = 0) {
  const frame = clothFrame(layOf(spreads), ROLL);
  return openedOut(frame, frame.stretches[index]!);
}

describe('doubled cloth opened out', () => {
  it('has a flaw of the roll where the engine found it in the layers', () => {
    const spreads = ['single', 'folded', 'middle', 'partial'] as const;
    const flaw = fc.record({ x: fc.integer({ min: 0, max: 890 }), y: fc.integer({ min: 25, max: 1370 }) });
    fc.assert(
      fc.property(fc.constantFrom(...spreads), flaw, (spread, { x, y }) => {
        const spot = [
          [x, y],
          [x + 5, y],
          [x + 5, y + 3],
        ] as const;
        const roll = { ...ENGINE_ROLL, flaws: [spot] };
        const { layers } = opened([spread]);
        for (const lane of lanesOf(roll, spread, DEPTH)) {
          for (const ring of flawsOn(roll, spread, lane, 0, DEPTH)) {
            // Packed as seen from a high fold, y runs down from it.
            const across = (v: number) => (lane.fold === 'high' ? lane.to - v : lane.from + v);
            const corners = ring.map(([u, v]) => [u, across(v)] as const);
            const isThere = layers.some(
              ({ toCloth, covers }) =>
                covers(corners[0]!) &&
                spot.every((corner) =>
                  corners.some((at) => {
                    const [a, b] = toCloth(at);
                    return Math.hypot(a - corner[0], b - corner[1]) < 1e-6;
                  }),
                ),
            );
            expect(isThere).toBe(true);
          }
        }
      }),
    );
  });

  it('has all of the cloth just once', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...SPREADS),
        fc.double({ min: 1, max: LENGTH - 1, noNaN: true }),
        fc.double({ min: EDGE, max: WIDTH - EDGE, noNaN: true }),
        (spread, x, y) => {
          const { layers, fromMm, toMm, lowMm, highMm } = opened([spread]);
          expect([fromMm, toMm, lowMm, highMm]).toEqual([0, LENGTH * lengthsOfCloth(spread), 0, WIDTH]);
          const lanes = lanesOf(ENGINE_ROLL, spread, DEPTH);
          const lane = lanes.find(({ from, to }) => y > from && y < to);
          if (!lane) return;
          const under = layers.filter(({ covers }) => covers([x, y]));
          expect(under).toHaveLength(lane.layers);
          const places = under.map(({ toCloth }) => toCloth([x, y]));
          for (const [a, b] of places) {
            expect(a).toBeGreaterThan(fromMm);
            expect(a).toBeLessThan(toMm);
            expect(b).toBeGreaterThan(lowMm);
            expect(b).toBeLessThan(highMm);
          }
          if (places.length === 2) {
            expect(Math.hypot(places[0]![0] - places[1]![0], places[0]![1] - places[1]![1])).toBeGreaterThan(
              0,
            );
          }
        },
      ),
    );
  });

  it('goes over the fold without a gap, and keeps lengths; what lies face down is mirrored', () => {
    const folds = {
      folded: [5, 0],
      partial: [5, 0],
      middle: [5, WIDTH / 2],
      crosswise: [LENGTH, 5],
    } as const;
    for (const [spread, at] of Object.entries(folds)) {
      const { layers } = opened([spread as StretchSpread]);
      const places = layers.filter(({ covers }) => covers(at)).map(({ toCloth }) => toCloth(at));
      expect(places, spread).toHaveLength(2);
      expect(places[0]).toEqual(places[1]);
    }
    for (const spread of SPREADS) {
      for (const { toCloth, toClothDeg, isFaceDown } of opened([spread]).layers) {
        const [[ax, ay], [bx, by], [cx, cy]] = [toCloth([100, 50]), toCloth([104, 50]), toCloth([100, 53])];
        const cross = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
        expect(cross).toBeCloseTo(isFaceDown ? -12 : 12, 9);
        const along = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
        expect(Math.cos(((along - toClothDeg(0)) * Math.PI) / 180)).toBeCloseTo(1, 9);
        const across = (Math.atan2(cy - ay, cx - ax) * 180) / Math.PI;
        expect(Math.cos(((across - toClothDeg(90)) * Math.PI) / 180)).toBeCloseTo(1, 9);
      }
    }
  });

  it('comes after all the cloth of the stretch before it', () => {
    for (const spread of ['folded', 'crosswise', 'turned'] as const) {
      const { fromMm, layers } = opened([spread, 'single'], 1);
      expect(fromMm).toBe(LENGTH * lengthsOfCloth(spread));
      expect(layers[0]!.toCloth([7, 0])).toEqual([fromMm + 7, EDGE]);
    }
  });
});
