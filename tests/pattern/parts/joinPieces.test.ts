/** Parts joined: areas add up, what is drawn on them goes along, and edges that don't fit are refused. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundingBox, distance, signedArea } from '../../../nesting/geometry/rings.ts';
import { placePoint, turnBy } from '../../../nesting/geometry/transforms.ts';
import type { Outline, Point } from '../../../nesting/packing/types.ts';
import { type Piece, pieceSchema, type Stretch } from '../../../pattern/exchange/project.ts';
import {
  JointFault,
  joinPieces,
  lengthAlong,
  putTogether,
  rejoined,
  sidesOf,
  stretchPoints,
  takenApart,
} from '../../../pattern/parts/index.ts';
import { jointLines } from '../../../pattern/parts/madeOf.ts';
import { checkPiece } from '../../../pattern/pieces/index.ts';
import { starPolygon } from '../../support/generators.ts';

const piece = (name: string, outline: Outline, more: Partial<Piece> = {}): Piece =>
  pieceSchema.parse({ id: name, name, outline, ...more });

const placed = (ring: readonly Point[], degrees: number, x: number, y: number): Point[] =>
  ring.map((point) => placePoint(point, turnBy(degrees), false, x, y));

const rectangle = (width: number, height: number): Outline => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
];
const BUTT = { way: 'butt', lapMm: 0 } as const;
const edge = (at: number, edges = 1): Stretch => ({ edge: at, edges });

/** A figure cut in two by a line through it, the second part turned and shifted as a printed sheet would have it. */
const cutFigure = fc
  .tuple(
    starPolygon(200),
    fc.double({ min: 0.3, max: 0.7, noNaN: true }),
    fc.integer({ min: 0, max: 359 }),
    fc.double({ min: -500, max: 500, noNaN: true }),
  )
  .map(([star, share, turn, shift]) => {
    // Convex hull by angle is not at hand: the star's own vertices on an ellipse are convex.
    const ring = star.map(([x, y]): Point => {
      const angle = Math.atan2(y, x);
      return [200 * Math.cos(angle), 140 * Math.sin(angle)];
    });
    const { minY, maxY } = boundingBox(ring);
    const level = minY + share * (maxY - minY);
    const [below, above] = [halfPlane(ring, level, -1), halfPlane(ring, level, 1)];
    return { ring, below, above: { ...above, ring: placed(above.ring, turn, shift, -shift) }, level };
  })
  .filter(({ below, above }) => below.ring.length >= 3 && above.ring.length >= 3 && below.long > 5);

/** What of a convex ring lies below (−1) or above (1) a level, its cut edge last. */
function halfPlane(ring: readonly Point[], level: number, sign: 1 | -1): { ring: Point[]; long: number } {
  const kept: Point[] = [];
  ring.forEach(([x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length] as Point;
    if (sign * (y - level) > 0) kept.push([x, y]);
    if (sign * (y - level) > 0 !== sign * (v - level) > 0)
      kept.push([x + ((level - y) / (v - y)) * (u - x), level]);
  });
  const isCut = (i: number): boolean =>
    Math.abs((kept[i] as Point)[1] - level) < 1e-9 &&
    Math.abs((kept[(i + 1) % kept.length] as Point)[1] - level) < 1e-9;
  const at = kept.findIndex((_, i) => isCut(i));
  const turned = [...kept.slice(at + 1), ...kept.slice(0, at + 1)];
  return { ring: turned, long: distance(turned.at(-1) ?? [0, 0], turned[0] ?? [0, 0]) };
}

describe('edge against edge', () => {
  it('gives back the figure that was cut: areas add up, the seam is gone', () => {
    fc.assert(
      fc.property(cutFigure, ({ ring, below, above }) => {
        const [first, second] = [piece('lower', below.ring), piece('upper', above.ring)];
        const { shape } = joinPieces(
          first,
          second,
          { ...BUTT, first: edge(below.ring.length - 1), second: edge(above.ring.length - 1) },
          'cm',
        );
        // The clipper's grid rounds to some 1e-8 of the size.
        const whole = signedArea(ring);
        expect(signedArea(shape.outline) / (signedArea(below.ring) + signedArea(above.ring))).toBeCloseTo(
          1,
          7,
        );
        expect(signedArea(shape.outline) / whole).toBeCloseTo(1, 7);
        const [box, drawn] = [boundingBox(shape.outline), boundingBox(ring)];
        for (const side of ['minX', 'minY', 'maxX', 'maxY'] as const)
          expect(box[side]).toBeCloseTo(drawn[side], 5);
        // No vertex is left where a side runs straight past the joint.
        expect(shape.outline.length).toBeLessThanOrEqual(ring.length + 2);
      }),
    );
  });

  it('refuses edges of different length, and says by how much', () => {
    const join = (): unknown =>
      joinPieces(
        piece('Front', rectangle(200, 100)),
        piece('Back', rectangle(203.2, 100)),
        { ...BUTT, first: edge(2), second: edge(0) },
        'mm',
      );
    expect(join).toThrow(JointFault);
    expect(join).toThrow(/differ by 3[.,]2 mm.*Front.*200 mm.*Back.*203[.,]2 mm/);
  });

  it('refuses curves of one length that run differently, and takes those that match', () => {
    const bow = (sag: number): Point[] =>
      Array.from({ length: 21 }, (_, i): Point => {
        const t = i / 20;
        return [200 * (1 - t), 100 + 4 * sag * t * (1 - t)];
      });
    const first = piece('first', [[0, 0], [200, 0], ...bow(20)] as Outline);
    // Its lower side runs as the upper one of the first does, from left to right.
    const second = (sag: number): Piece =>
      piece('second', [...bow(sag).reverse(), [200, 250], [0, 250]] as Outline);
    const at = { ...BUTT, first: edge(2, 20), second: edge(0, 20) };
    const { shape } = joinPieces(first, second(20), at, 'cm');
    expect(signedArea(shape.outline)).toBeCloseTo(200 * 250, 3);
    expect(shape.outline).toHaveLength(4);
    expect(() => joinPieces(first, second(-20), at, 'cm')).toThrow(/run differently/);
  });

  it('refuses parts that would lie over each other', () => {
    // A hook whose arm reaches over the edge to be joined.
    const hook = piece('hook', [
      [0, 0],
      [300, 0],
      [300, 200],
      [250, 200],
      [250, 100],
      [0, 100],
    ]);
    const board = piece('board', rectangle(250, 400));
    expect(joinPieces(hook, board, { ...BUTT, first: edge(4), second: edge(0) }, 'cm').shape.holes).toEqual(
      [],
    );
    const broad = piece('broad', [
      [0, 0],
      [250, 0],
      [400, 60],
      [400, 400],
      [0, 400],
    ]);
    expect(() => joinPieces(hook, broad, { ...BUTT, first: edge(4), second: edge(0) }, 'cm')).toThrow(
      /over each other/,
    );
  });

  it('carries notches, marks, holes, allowances of edges, fold and other letters along', () => {
    const lower = piece('lower', rectangle(200, 100), {
      foldEdge: 3,
      line: 'sew',
      allowanceMm: 10,
      marks: [
        { kind: 'notch', points: [[200, 40]], closed: false },
        { kind: 'notch', points: [[120, 100]], closed: false },
        {
          kind: 'internal',
          points: [
            [60, 20],
            [60, 100],
          ],
          closed: false,
        },
      ],
      openJoints: [
        { letter: 'A', edge: 2, edges: 1 },
        { letter: 'B', edge: 1, edges: 1 },
      ],
    });
    // Drawn upside down: turned by 180° it lies above.
    const upper = piece('upper', placed(rectangle(200, 150), 180, 200, 150), {
      foldEdge: 3,
      line: 'sew',
      allowanceMm: 15,
      grainDeg: 90,
      marks: [
        { kind: 'notch', points: [[80, 150]], closed: false },
        {
          kind: 'internal',
          points: [
            [140, 150],
            [140, 90],
          ],
          closed: false,
        },
      ],
      holes: [
        [
          [100, 60],
          [100, 50],
          [90, 50],
          [90, 60],
        ],
      ],
      openJoints: [{ letter: 'A', edge: 0, edges: 1 }],
    });
    // The upper part's outline begins at (200, 150) and runs to (0, 150): that is the edge A.
    const { shape, line } = joinPieces(lower, upper, { ...BUTT, first: edge(2), second: edge(0) }, 'cm');
    expect(boundingBox(shape.outline)).toEqual({ minX: 0, minY: 0, maxX: 200, maxY: 250 });
    expect(shape.outline).toHaveLength(4);
    expect(line).toHaveLength(2);
    const fold = [shape.outline[shape.foldEdge ?? 0], shape.outline[((shape.foldEdge ?? 0) + 1) % 4]];
    expect(fold.map((point) => point?.[0])).toEqual([0, 0]);
    // The joint's own notches told only how the parts fit; the line runs on.
    expect(shape.marks.map(({ kind }) => kind)).toEqual(['notch', 'internal']);
    expect(shape.marks[1]?.points).toEqual([
      [60, 20],
      [60, 100],
      [60, 160],
    ]);
    expect(shape.holes[0]?.map(([x, y]) => [Math.round(x), Math.round(y)])).toContainEqual([100, 190]);
    // The right side lies on one edge now, and that belongs to both parts: the upper one's comes last.
    const top = shape.outline.findIndex(([, y], i) => y === 250 && shape.outline[(i + 1) % 4]?.[1] === 250);
    expect(shape.edgeAllowances).toContainEqual({ edge: top, mm: 15 });
    expect(shape.openJoints?.map(({ letter }) => letter)).toEqual(['B']);
  });
});

describe('one over the other', () => {
  it('laps by the strip to glue, also where the sides slant', () => {
    // A trapezoid 300 → 200 wide over 400, cut at 250; the lower part has 20 mm more to glue.
    const widthAt = (y: number): number => 300 - y / 4;
    const band = (from: number, to: number): Outline => [
      [-widthAt(from) / 2, from],
      [widthAt(from) / 2, from],
      [widthAt(to) / 2, to],
      [-widthAt(to) / 2, to],
    ];
    const at = { way: 'lap', first: edge(2), second: edge(0) } as const;
    const { shape } = joinPieces(
      piece('lower', band(0, 270)),
      piece('upper', placed(band(250, 400), 37, 12, 80)),
      { ...at, lapMm: 20 },
      'cm',
    );
    expect(signedArea(shape.outline)).toBeCloseTo((400 * (300 + 200)) / 2, 3);
    expect(shape.outline).toHaveLength(4);
    expect(() =>
      joinPieces(piece('lower', band(0, 270)), piece('upper', band(250, 400)), { ...at, lapMm: 35 }, 'mm'),
    ).toThrow(/differ by 3[.,]75 mm|differ by 3[.,]8 mm/);
    expect(() =>
      joinPieces(piece('lower', band(0, 270)), piece('upper', band(250, 400)), { ...at, lapMm: 0 }, 'mm'),
    ).toThrow(JointFault);
  });
});

describe('the sides of an outline', () => {
  const arc = (cx: number, cy: number, r: number, from: number, steps: number): Point[] =>
    Array.from({ length: steps + 1 }, (_, i): Point => {
      const angle = ((from + (90 * i) / steps) * Math.PI) / 180;
      return [cx + r * Math.cos(angle), cy + r * Math.sin(angle)];
    });

  it('end at corners, and where a straight line runs into a rounded one', () => {
    const ring: Outline = [[0, 0], ...arc(170, 60, 60, 270, 12), [230, 310], [0, 310]];
    const lengths = sidesOf(ring).map((side) => Math.round(lengthAlong(stretchPoints(ring, side) ?? [])));
    expect(lengths).toEqual([310, 250, 230, 170, 94]);
  });

  it('run on over points on a straight line, and over the whole of a curve', () => {
    const ring: Outline = [
      [0, 0],
      [40, 0],
      [43, 0],
      [200, 0],
      ...arc(100, 0, 100, 0, 18).slice(1),
      ...arc(100, 0, 100, 90, 18).slice(1, -1),
    ];
    expect(
      sidesOf(ring)
        .map(({ edges }) => edges)
        .sort(),
    ).toEqual([3, 36]);
  });
});

describe('a piece put together', () => {
  const quarters = (['sw', 'se', 'nw', 'ne'] as const).map((name) => piece(name, rectangle(100, 80)));
  const [sw, se, nw, ne] = quarters as [Piece, Piece, Piece, Piece];
  const at = (first: number, second: number) => ({ ...BUTT, first: edge(first), second: edge(second) });

  it('remembers its parts, and comes apart again joint by joint', () => {
    const low = putTogether(sw, se, at(1, 3), 'A', 'cm');
    const high = putTogether(nw, ne, at(1, 3), 'B', 'cm');
    const whole = putTogether(low, high, at(2, 0), 'C', 'cm');
    expect(pieceSchema.parse(whole)).toEqual(whole);
    expect(whole.madeOf?.parts.map(({ name }) => name)).toEqual(['sw', 'se', 'nw', 'ne']);
    expect(boundingBox(whole.outline)).toEqual({ minX: 0, minY: 0, maxX: 200, maxY: 160 });
    expect(checkPiece(whole)).toEqual([]);
    expect(jointLines(whole).map(({ letter }) => letter)).toEqual(['A', 'B', 'C']);
    const [first, second] = takenApart(whole, 'cm') ?? [];
    expect(first).toEqual({ ...low, madeOf: first?.madeOf });
    expect(second?.outline).toEqual(high.outline);
    expect(second?.id).toBe('nw');
    const [left, right] = takenApart(first as Piece, 'cm') ?? [];
    expect([left, right]).toEqual([sw, se]);
  });

  it('keeps open only the letters that are still open', () => {
    const first = { ...sw, openJoints: [{ letter: 'A', edge: 1, edges: 1 }] };
    const second = {
      ...se,
      openJoints: [
        { letter: 'A', edge: 3, edges: 1 },
        { letter: 'C', edge: 2, edges: 1 },
      ],
    };
    const low = putTogether(first, second, at(1, 3), 'A', 'cm');
    expect(low.openJoints?.map(({ letter }) => letter)).toEqual(['C']);
    expect(putTogether(first, se, at(1, 3), 'A', 'cm').openJoints).toBeUndefined();
    expect(takenApart(low, 'cm')).toEqual([first, second]);
  });

  it('is made anew where a joint is made another way', () => {
    const low = putTogether(sw, se, at(1, 3), 'A', 'cm');
    const lapped = rejoined({ ...low, grainDeg: 0 }, 0, { way: 'lap', lapMm: 15 }, 'cm');
    expect(boundingBox(lapped.outline).maxX).toBeCloseTo(185, 9);
    expect(lapped.grainDeg).toBe(0);
    expect(rejoined(lapped, 0, { way: 'butt', lapMm: 0 }, 'cm').outline).toEqual(low.outline);
  });

  it('refuses documents whose joints do not make one piece', () => {
    const low = putTogether(sw, se, at(1, 3), 'A', 'cm');
    const broken = {
      ...low,
      madeOf: { ...low.madeOf, joints: [...(low.madeOf?.joints ?? []), low.madeOf?.joints[0]] },
    };
    expect(pieceSchema.safeParse(broken).success).toBe(false);
  });
});
