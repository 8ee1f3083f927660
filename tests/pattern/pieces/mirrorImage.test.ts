import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference } from '../../../nesting/geometry/boolean.ts';
import { centroid, signedArea } from '../../../nesting/geometry/rings.ts';
import { placeRing } from '../../../nesting/geometry/transforms.ts';
import type { Outline, Point } from '../../../nesting/packing/types.ts';
import { bodyPanel, flap, frontPocket, liningBodyHalf, sideGusset } from '../../../pattern/demo/shapes.ts';
import { isOwnMirrorImage, mirror, mirrorTurns, unfold } from '../../../pattern/pieces/index.ts';
import { halfOutline, rectangle, starOutline } from './shapes.ts';

const TOLERANCE_MM = 0.2;
const turnsOf = (outline: Outline, holes: readonly Outline[] = []): number[] =>
  mirrorTurns({ outline, holes }, TOLERANCE_MM);

const regular = (corners: number, radius: number): Outline =>
  Array.from({ length: corners }, (_, i): Point => {
    const at = (2 * Math.PI * i) / corners;
    return [radius * Math.cos(at), radius * Math.sin(at)];
  });

/** Area by which the mirror image turned by t misses the shape, centres of gravity laid on each other. */
function missArea(outline: Outline, turn: number): number {
  const image = placeRing(outline, turn, true);
  const [x, y] = centroid(outline);
  const [ix, iy] = centroid(image);
  const moved = placeRing(image, 0, false, x - ix, y - iy);
  return [...difference([outline], [moved]), ...difference([moved], [outline])].reduce(
    (sum, part) => sum + signedArea(part.outer),
    0,
  );
}

describe('mirrorTurns', () => {
  it('lists the turns that bring the mirror image back', () => {
    expect(turnsOf(rectangle(300, 200))).toEqual([0, 180]);
    expect(turnsOf(rectangle(200, 200))).toEqual([0, 90, 180, 270]);
    // Upright axis, level axis, an axis on the diagonal.
    expect(
      turnsOf([
        [0, 0],
        [200, 0],
        [100, 300],
      ]),
    ).toEqual([0]);
    expect(
      turnsOf([
        [0, 0],
        [300, 100],
        [0, 200],
      ]),
    ).toEqual([180]);
    expect(
      turnsOf([
        [0, 0],
        [250, 0],
        [250, 60],
        [60, 60],
        [60, 250],
        [0, 250],
      ]),
    ).toEqual([270]);
    expect(turnsOf(regular(6, 120))).toEqual([0, 60, 120, 180, 240, 300]);
  });

  it('finds none for shapes with a left and a right hand, though some can be turned onto themselves', () => {
    const parallelogram: Outline = [
      [0, 0],
      [200, 0],
      [260, 100],
      [60, 100],
    ];
    expect(turnsOf(parallelogram)).toEqual([]);
    expect(
      turnsOf([
        [0, 0],
        [300, 0],
        [60, 170],
      ]),
    ).toEqual([]);
    expect(isOwnMirrorImage({ outline: parallelogram, holes: [] }, TOLERANCE_MM)).toEqual({
      symmetric: false,
      turnsDeg: [],
    });
  });

  it('takes a flattened circle as its own mirror image, and stops counting', () => {
    const turns = turnsOf(regular(180, 90));
    expect(turns.length).toBeGreaterThan(20);
    expect(turns).toContain(0);
  });

  it('looks at holes too', () => {
    const outline = rectangle(300, 200);
    const middle = [...rectangle(20, 20, 140, 50)].reverse();
    const aside = [...rectangle(20, 20, 30, 50)].reverse();
    expect(turnsOf(outline, [middle])).toEqual([0]);
    expect(turnsOf(outline, [aside])).toEqual([]);
  });

  it('respects the tolerance', () => {
    const trapezoid = (off: number): Outline => [
      [0, 0],
      [200, 0],
      [180 + off, 120],
      [20, 120],
    ];
    expect(turnsOf(trapezoid(0.1))).toEqual([0]);
    expect(turnsOf(trapezoid(1))).toEqual([]);
    expect(mirrorTurns({ outline: trapezoid(1), holes: [] }, 1)).toEqual([0]);
  });

  it('knows the demo pattern: body and flap need no hands, gusset and pocket do', () => {
    expect(turnsOf(bodyPanel())).toEqual([0]);
    expect(turnsOf(flap())).toEqual([0]);
    expect(turnsOf(sideGusset())).toEqual([]);
    expect(turnsOf(frontPocket())).toEqual([]);
    const half = liningBodyHalf();
    expect(turnsOf(half)).toEqual([]);
    expect(turnsOf(unfold({ outline: half, holes: [], fold: [half[0]!, half[1]!] }).outline)).toEqual([0]);
  });

  it('whatever was unfolded is its own mirror image, however it is turned, and each turn found is true', () => {
    fc.assert(
      fc.property(halfOutline, ({ outline, fold }) => {
        const whole = unfold({ outline, holes: [], fold });
        const turns = mirrorTurns(whole, TOLERANCE_MM);
        expect(turns.length).toBeGreaterThan(0);
        const round = whole.outline.reduce(
          (sum, p, i) =>
            sum + Math.hypot(p[0] - whole.outline.at(i - 1)![0], p[1] - whole.outline.at(i - 1)![1]),
          0,
        );
        for (const turn of turns) {
          expect(missArea(whole.outline, turn)).toBeLessThan(2 * TOLERANCE_MM * round);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('never claims a symmetry that is not there', () => {
    fc.assert(
      fc.property(starOutline, (outline) => {
        const round = outline.reduce(
          (sum, p, i) => sum + Math.hypot(p[0] - outline.at(i - 1)![0], p[1] - outline.at(i - 1)![1]),
          0,
        );
        for (const turn of turnsOf(outline)) {
          expect(missArea(outline, turn)).toBeLessThan(2 * TOLERANCE_MM * round);
        }
      }),
    );
  });

  it('is empty for a shape without an area', () => {
    expect(
      turnsOf([
        [0, 0],
        [10, 0],
        [20, 0],
      ]),
    ).toEqual([]);
  });
});

describe('mirror', () => {
  it('flips left and right, keeps the winding, and is undone by itself', () => {
    const shape = { outline: sideGusset(), holes: [[...rectangle(20, 20, 100, 60)].reverse()] };
    const image = mirror(shape);
    expect(signedArea(image.outline)).toBeCloseTo(signedArea(shape.outline), 9);
    expect(signedArea(image.holes[0]!)).toBeCloseTo(-400, 9);
    expect(mirror(image)).toEqual(shape);
  });
});
