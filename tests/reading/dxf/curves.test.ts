/** Curves of DXF drawings of our own, each with sizes known by arithmetic. */
import { describe, expect, test } from 'vitest';
import { bulged, type Rec, spline } from '../dxfText.ts';
import { codes, expectSize, only } from '../readings.ts';
import { readEntities } from './readParts.ts';

describe('curves of a DXF', () => {
  test('a circle', () => {
    const circle = only(readEntities(['CIRCLE', 8, 'a', 10, 500, 20, 0, 40, 250]));
    expectSize(circle, 500, 500, 1e-6);
    expect(circle.areaMm2).toBeGreaterThan(Math.PI * 250 ** 2 - 2 * Math.PI * 250 * 0.05);
    expect(circle.layer).toBe('a');
  });

  test('an arc runs counter-clockwise from its first angle to its second', () => {
    const drawing = readEntities(['ARC', 8, '0', 10, 0, 20, 0, 40, 100, 50, 350, 51, 80]);
    expect(drawing.openLines[0]!.lengthMm).toBeCloseTo((100 * Math.PI) / 2, 1);
    // From 350° to 80° over 0°: x from 100·cos 80° to 100, y from −100·sin 10° to 100·sin 80°.
    expect(drawing.page.widthMm).toBeCloseTo(100 - 100 * Math.cos((80 * Math.PI) / 180), 9);
    expect(drawing.page.heightMm).toBeCloseTo(
      100 * Math.sin((80 * Math.PI) / 180) + 100 * Math.sin((10 * Math.PI) / 180),
      9,
    );
  });

  test('an ellipse, whole and in half, its axes turned', () => {
    const whole = only(
      readEntities(['ELLIPSE', 8, '0', 10, 5, 20, 5, 11, 0, 21, 60, 40, 0.5, 41, 0, 42, 2 * Math.PI]),
    );
    expectSize(whole, 60, 120, 1e-6);
    const half = readEntities(['ELLIPSE', 8, '0', 10, 0, 20, 0, 11, 60, 21, 0, 40, 0.5, 41, 0, 42, Math.PI]);
    expect(half.page.widthMm).toBeCloseTo(120, 6);
    expect(half.page.heightMm).toBeCloseTo(30, 6);
  });

  test('bulges: a slot of two straight lines and two half circles; a bulge beyond 1 is the long way round', () => {
    const slot = only(readEntities(bulged(true, [0, 0], [100, 0, 1], [100, 40], [0, 40, 1])));
    expectSize(slot, 140, 40, 1e-6);
    expect(slot.areaMm2).toBeCloseTo(100 * 40 + Math.PI * 20 ** 2, -1);
    // Three quarters of a circle: tan(270°/4).
    const long = readEntities(bulged(false, [0, 0, Math.tan((270 / 4) * (Math.PI / 180))], [100, 0]));
    const radius = 50 * Math.SQRT2;
    expect(long.openLines[0]!.lengthMm).toBeCloseTo(1.5 * Math.PI * radius, 0);
    expect(long.page.widthMm).toBeCloseTo(2 * radius, 6);
  });

  test('a POLYLINE with vertices of its own, closed by its flag; the frame of a fitted one is not drawn', () => {
    const vertex = (x: number, y: number, flags = 0): Rec => ['VERTEX', 8, '0', 10, x, 20, y, 70, flags];
    const fitted = only(
      readEntities(
        ['POLYLINE', 8, '0', 66, 1, 70, 5],
        vertex(0, 0, 16),
        vertex(900, 900, 16),
        vertex(0, 0, 8),
        vertex(50, 0, 8),
        vertex(50, 30, 8),
        ['SEQEND', 8, '0'],
      ),
    );
    expectSize(fitted, 50, 30, 1e-9);
  });

  test('a spline with weights is an exact circle (The NURBS Book, ex. 7.3: nine points, weights √½)', () => {
    const s = Math.SQRT1_2;
    const r = 300;
    const controls = [
      [1, 0, 1],
      [1, 1, s],
      [0, 1, 1],
      [-1, 1, s],
      [-1, 0, 1],
      [-1, -1, s],
      [0, -1, 1],
      [1, -1, s],
      [1, 0, 1],
    ] as const;
    const circle = only(
      readEntities(
        spline({
          degree: 2,
          knots: [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4],
          controls: controls.map(([x, y, weight]) => [x * r, y * r, weight]),
        }),
      ),
    );
    const [cx, cy] = [circle.box.minX + r, circle.box.minY + r];
    for (const [x, y] of circle.ring) expect(Math.abs(Math.hypot(x - cx, y - cy) - r)).toBeLessThan(0.05);
    expectSize(circle, 600, 600, 0.05);
    expect(circle.areaMm2).toBeCloseTo(Math.PI * r * r, -3);
  });

  test('a cubic B-spline agrees with de Boor–Cox evaluated densely', () => {
    const knots = [0, 0, 0, 0, 1, 2.5, 3, 3, 3, 3];
    const controls = [
      [0, 0],
      [100, 300],
      [250, -50],
      [400, 200],
      [500, 0],
      [620, 90],
    ] as const;
    const drawing = readEntities(spline({ degree: 3, knots, controls }));
    const basis = (i: number, p: number, t: number): number => {
      if (p === 0) return knots[i]! <= t && t < knots[i + 1]! ? 1 : 0;
      const left = knots[i + p]! - knots[i]!;
      const right = knots[i + p + 1]! - knots[i + 1]!;
      return (
        (left > 0 ? ((t - knots[i]!) / left) * basis(i, p - 1, t) : 0) +
        (right > 0 ? ((knots[i + p + 1]! - t) / right) * basis(i + 1, p - 1, t) : 0)
      );
    };
    const chords = drawing.openLines[0]!.points;
    // The drawing begins at its box's corner: found from the curve's first point, which is (0, 0).
    const [x0, y0] = chords[0]!;
    let farthest = 0;
    for (let t = 0; t < 3; t += 0.01) {
      const x = controls.reduce((sum, [px], i) => sum + px * basis(i, 3, t), 0) + x0;
      const y = controls.reduce((sum, [, py], i) => sum + py * basis(i, 3, t), 0) + y0;
      farthest = Math.max(farthest, distanceToLine([x, y], chords));
    }
    expect(farthest).toBeLessThan(0.05);
  });

  test('a spline stored by fit points goes through them, and that is said', () => {
    const fits = [
      [0, 0],
      [100, 50],
      [200, 0],
      [300, 50],
    ] as const;
    const drawing = readEntities(spline({ degree: 3, fits }));
    expect(codes(drawing)).toContain('approximated');
    const points = drawing.openLines[0]!.points;
    const [x0, y0] = points[0]!;
    for (const [x, y] of fits) expect(distanceToLine([x + x0, y + y0], points)).toBeLessThan(0.05);
  });

  test('a part whose extrusion points down is turned over', () => {
    const triangle = ['LWPOLYLINE', 8, '0', 70, 1, 10, 0, 20, 0, 10, 60, 20, 0, 10, 60, 20, 20] as const;
    const { ring } = only(readEntities([...triangle, 230, -1]));
    // The right angle stood at the right (x = 60), now at the left.
    expect(ring).toContainEqual([0, 20]);
    expect(ring).toContainEqual([0, 0]);
    expect(ring).toContainEqual([60, 0]);
  });
});

function distanceToLine(
  [x, y]: readonly [number, number],
  points: readonly (readonly [number, number])[],
): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < points.length; i++) {
    const [ax, ay] = points[i - 1]!;
    const [bx, by] = points[i]!;
    const squared = (bx - ax) ** 2 + (by - ay) ** 2;
    const t =
      squared === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / squared));
    least = Math.min(least, Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)));
  }
  return least;
}
