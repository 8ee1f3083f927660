/** A pinhole camera of the test's own (Hartley & Zisserman 2004, section 6.1), with known truth on the table. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../nesting/packing/types.ts';
import { type Corners, homographyOf, throughHomography } from '../../pattern/photo/homography.ts';
import { CLICK_PX, measurePhoto } from '../../pattern/photo/photo.ts';

/** A4, ISO 216. */
const [WIDTH, HEIGHT] = [210, 297];

interface Camera {
  readonly tilt: number;
  readonly turn: number;
  readonly distance: number;
  readonly focal: number;
}

const camera = fc.record({
  tilt: fc.double({ min: -0.6, max: 0.6, noNaN: true }),
  turn: fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
  distance: fc.double({ min: 900, max: 2_500, noNaN: true }),
  focal: fc.double({ min: 2_000, max: 4_000, noNaN: true }),
});

/** The picture of a point on the table, in pixels, y down. */
const seen = ({ tilt, turn, distance, focal }: Camera, [x, y]: Point): Point => {
  const u = (x - 200) * Math.cos(turn) - (y - 200) * Math.sin(turn);
  const v = (x - 200) * Math.sin(turn) + (y - 200) * Math.cos(turn);
  const depth = distance + v * Math.sin(tilt);
  return [2_000 + (focal * u) / depth, 1_500 - (focal * v * Math.cos(tilt)) / depth];
};

const SHEET: readonly Point[] = [
  [0, HEIGHT],
  [WIDTH, HEIGHT],
  [WIDTH, 0],
  [0, 0],
];
/** A gusset beside the sheet. */
const PIECE: readonly Point[] = [
  [230, 20],
  [400, 40],
  [420, 260],
  [310, 330],
  [240, 250],
];
const area = (ring: readonly Point[]): number =>
  ring.reduce((sum, [x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length] as Point;
    return sum + (x * ny - nx * y) / 2;
  }, 0);

const photo = (from: Camera) => ({
  corners: SHEET.map((point) => seen(from, point)) as unknown as Corners,
  widthMm: WIDTH,
  heightMm: HEIGHT,
  outline: PIECE.map((point) => seen(from, point)),
});

describe('a photo', () => {
  it('is squared up to the truth from wherever it was taken', () => {
    fc.assert(
      fc.property(camera, (from) => {
        const measured = measurePhoto(photo(from));
        expect(measured.widthMm).toBeCloseTo(190, 6);
        expect(measured.heightMm).toBeCloseTo(310, 6);
        expect(area(measured.ring)).toBeCloseTo(area(PIECE), 3);
      }),
    );
  });

  it('is off by no more than it says when every click is off', () => {
    const slip = fc.double({ min: -CLICK_PX, max: CLICK_PX, noNaN: true });
    fc.assert(
      fc.property(camera, fc.array(fc.tuple(slip, slip), { minLength: 9, maxLength: 9 }), (from, slips) => {
        const exact = photo(from);
        const moved = (points: readonly Point[], first: number) =>
          points.map(
            ([x, y], i): Point => [x + (slips[first + i]?.[0] ?? 0), y + (slips[first + i]?.[1] ?? 0)],
          );
        const clicked = measurePhoto({
          ...exact,
          corners: moved(exact.corners, 0) as unknown as Corners,
          outline: moved(exact.outline, 4),
        });
        // Width and height each hang on two points. A tenth is left for what isn't linear.
        expect(Math.abs(clicked.widthMm - 190)).toBeLessThan(2.2 * clicked.errorMm);
        expect(Math.abs(clicked.heightMm - 310)).toBeLessThan(2.2 * clicked.errorMm);
      }),
    );
  });

  it('maps the four corners themselves exactly', () => {
    fc.assert(
      fc.property(camera, (from) => {
        const corners = photo(from).corners;
        const h = homographyOf(corners, SHEET as unknown as Corners);
        corners.forEach((corner, i) => {
          const [x, y] = throughHomography(h, corner);
          expect(Math.hypot(x - SHEET[i]![0], y - SHEET[i]![1])).toBeLessThan(1e-6);
        });
      }),
    );
  });

  it('refuses what can’t be squared up, in a sentence', () => {
    const good = photo({ tilt: 0.3, turn: 0, distance: 1_500, focal: 3_000 });
    const [a, b, c, d] = good.corners;
    expect(() => measurePhoto({ ...good, corners: [a, c, b, d] })).toThrow(/cross/);
    expect(() => measurePhoto({ ...good, outline: good.outline.slice(0, 2) })).toThrow(/three corners/);
    expect(() => measurePhoto({ ...good, widthMm: 0 })).toThrow(/how large/);
    expect(() =>
      homographyOf(
        [
          [0, 0],
          [1, 1],
          [2, 2],
          [0, 5],
        ],
        good.corners,
      ),
    ).toThrow(/in line/);
  });
});
