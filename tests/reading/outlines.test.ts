import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { needsMending } from '../../fixtures/patterns/draw.ts';
import { union } from '../../nesting/geometry/boolean.ts';
import { boundingBox, signedArea } from '../../nesting/geometry/rings.ts';
import type { Outline, Point } from '../../nesting/packing/types.ts';
import { readSvg, uniteOutlines } from '../../pattern/reading/index.ts';
import { joinLines } from '../../pattern/reading/joinLines.ts';
import { mendRing, selfContact } from '../../pattern/reading/selfCrossing.ts';
import { simplifyRing } from '../../pattern/reading/simplify.ts';
import { ROOT } from '../support/sharedFolder.ts';
import { codes, drawn, expectSize, outlineOf, read } from './readings.ts';

const noLimit = () => ({ left: Number.POSITIVE_INFINITY });
const square = (x: number, y: number, width: number, height = width): Outline => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];

describe('the fixture needs-mending.svg', () => {
  const text = readFileSync(`${ROOT}fixtures/patterns/needs-mending.svg`, 'utf8');
  const drawing = drawn(readSvg(text, 'needs-mending.svg'));

  test('is what the script draws', () => {
    expect(text).toBe(needsMending());
  });

  test.each([
    ['halves-100x80', 100, 80, 'halves joined', /2 open lines that touch/],
    ['gap-50x30', 50, 30, 'gap closed', /0\.08 mm apart/],
    ['little-loop-100x80', 100, 80, 'crossing mended', /crosses itself/],
    ['keyhole-80x80', 80, 80, 'crossing mended', /touches or doubles back/],
    ['keyhole-80x80.2', 40, 40, undefined, /./],
    ['filled-open-60x60', 60, 60, 'fill closed', /area is filled/],
  ])('%s is whole, and it is said what was done', (id, width, height, kind, words) => {
    const outline = outlineOf(drawing, id);
    expectSize(outline, width, height, 1e-4);
    expect(outline.areaMm2).toBeCloseTo(width * height, 2);
    expect(outline.mending?.kind).toBe(kind);
    expect(outline.mending?.text ?? 'nothing').toMatch(words);
  });

  test('lines of one group that meet end to end are one outline', () => {
    const joined = drawing.outlines.find(({ shape }) => shape === 'lines');
    expectSize(joined, 60, 40, 0.05);
    expect(joined?.mending?.text).toMatch(/4 open lines/);
  });

  test('what can only be guessed is refused in words, what is open stays open', () => {
    expect(drawing.refused.map(({ id, text: words }) => [id, words])).toEqual([
      [
        'figure-of-eight',
        expect.stringMatching(/crosses itself and falls into 2 parts \(50 × 80 mm, 50 × 80 mm\)/),
      ],
      ['no-area', expect.stringMatching(/encloses nothing/)],
    ]);
    expect(drawing.openLines.map(({ id }) => id)).toEqual([
      'open-slit',
      'three-meet',
      'three-meet.2',
      'three-meet.3',
    ]);
    expect(codes(drawing)).toEqual(
      expect.arrayContaining(['crossing', 'refused', 'open', 'tiny', 'invisible']),
    );
  });
});

describe('joining open lines', () => {
  test('a ring cut into pieces, shuffled and turned round, is joined again', () => {
    const corners = fc.integer({ min: 3, max: 12 });
    fc.assert(
      fc.property(
        corners,
        fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }),
        fc.nat(),
        (n, turned, seed) => {
          const ring: Point[] = Array.from({ length: n }, (_, i) => [
            100 * Math.cos((2 * Math.PI * i) / n),
            100 * Math.sin((2 * Math.PI * i) / n),
          ]);
          const edges = ring.map((point, i): Point[] => {
            const next = ring[(i + 1) % n] as Point;
            // Ends off by a few hundredths, as drawn by hand.
            const shifted: Point = [next[0] + 0.03, next[1] - 0.02];
            return turned[i] ? [shifted, point] : [point, shifted];
          });
          const order = edges
            .map((_, i) => i)
            .sort((i, j) => ((i * 31 + seed) % 17) - ((j * 31 + seed) % 17));
          const joined = joinLines(
            order.map((i) => edges[i] as Point[]),
            0.1,
          );
          expect(joined).toHaveLength(1);
          expect(joined[0]?.from).toHaveLength(n);
          expect(Math.abs(signedArea(joined[0]?.ring ?? []))).toBeCloseTo(Math.abs(signedArea(ring)), -2);
        },
      ),
    );
  });

  test('lines three to a point, chains with a loose end and strangers stay as they are', () => {
    const lines: Point[][] = [
      [
        [0, 0],
        [10, 0],
      ],
      [
        [10, 0],
        [10, 10],
      ],
      [
        [10, 10],
        [0, 0],
      ],
      [
        [0, 0],
        [-5, -5],
      ],
    ];
    expect(joinLines(lines, 0.1)).toEqual([]);
    expect(joinLines(lines.slice(0, 2), 0.1)).toEqual([]);
    expect(joinLines(lines.slice(0, 3), 0.1)).toHaveLength(1);
  });

  test('lines shorter than the reach join at the points they share, and dots join nothing', () => {
    const around: readonly (readonly Point[])[] = [
      [
        [0, 0],
        [50, 0],
      ],
      // What the border of a sheet cut off: all its ends lie within reach of each other.
      [
        [50, 0],
        [50, 0.06],
      ],
      [
        [50, 0.06],
        [0, 40],
      ],
      [
        [0, 40],
        [0, 0],
      ],
      [
        [50, 0],
        [50, 0],
      ],
    ];
    const [ring, ...others] = joinLines(around, 0.1);
    expect(others).toEqual([]);
    expect(ring?.ring).toHaveLength(4);
    expect(ring?.from).not.toContain(4);
  });

  test('lines of other groups, other colours or dashes are not joined', () => {
    const half = (style: string): string => `<path fill="none" d="M0 0 H40 V40" ${style}/>`;
    const other = (style: string): string => `<path fill="none" d="M40 40 H0 V0" ${style}/>`;
    const count = (content: string): number => read(content).outlines.length;
    expect(count(half('stroke="red"') + other('stroke="red"'))).toBe(1);
    expect(count(half('stroke="red"') + other('stroke="blue"'))).toBe(0);
    expect(count(half('stroke="red"') + other('stroke="red" stroke-dasharray="3"'))).toBe(0);
    expect(count(`<g>${half('stroke="red"')}</g><g>${other('stroke="red"')}</g>`)).toBe(0);
  });
});

describe('self-crossing rings', () => {
  test('contact is found exactly: none, touching, crossing', () => {
    expect(selfContact(square(0, 0, 10), noLimit())).toBe('none');
    expect(
      selfContact(
        [
          [0, 0],
          [10, 10],
          [10, 0],
          [0, 10],
        ],
        noLimit(),
      ),
    ).toBe('crossing');
    // A corner on an edge; an edge run twice; a spike.
    expect(
      selfContact(
        [
          [0, 0],
          [10, 0],
          [10, 10],
          [5, 0],
          [0, 10],
        ],
        noLimit(),
      ),
    ).toBe('touching');
    expect(
      selfContact(
        [
          [0, 0],
          [10, 0],
          [10, 10],
          [5, 10],
          [5, 20],
          [5, 10],
          [0, 10],
        ],
        noLimit(),
      ),
    ).toBe('touching');
    expect(selfContact(square(0, 0, 10), { left: 2 })).toBe('too much');
  });

  test('a random ring is either left alone, mended into a simple one of the largest part, or refused', () => {
    const coordinate = fc.integer({ min: 0, max: 60 });
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 9 }), (ring) => {
        const contact = selfContact(ring, noLimit());
        const mended = mendRing(ring);
        const parts = union([ring]);
        const areas = parts.map(
          ({ outer, holes }) => signedArea(outer) + holes.reduce((sum, hole) => sum + signedArea(hole), 0),
        );
        const total = areas.reduce((sum, area) => sum + area, 0);
        if (!mended.ok) return;
        expect(selfContact(mended.ring, noLimit())).not.toBe('crossing');
        const kept = signedArea(mended.ring) - mended.holes.reduce((sum, hole) => sum + signedArea(hole), 0);
        expect(kept).toBeGreaterThan(0);
        expect(kept).toBeLessThan(total + 0.01);
        for (const hole of mended.holes) expect(signedArea(hole)).toBeGreaterThan(0);
        if (contact === 'none' && Math.abs(signedArea(ring)) > 1)
          expect(kept).toBeCloseTo(Math.abs(signedArea(ring)), 3);
      }),
    );
  });
});

describe('what lies in what', () => {
  test('strips along an edge lie inside, neighbours and overlaps do not, equal ones follow each other', () => {
    const drawing = read(`
      <rect id="cloth" width="100" height="80"/>
      <rect id="strip" width="100" height="5"/>
      <rect id="beside" x="100" width="20" height="80"/>
      <rect id="overlapping" x="90" y="40" width="20" height="10"/>
      <rect id="copy" width="100" height="80"/>
      <path id="c-shape" d="M10 20 H40 V30 H20 V50 H40 V60 H10 Z"/>
      <rect id="in-mouth" x="22" y="35" width="10" height="10"/>
      <path id="slit" fill="none" stroke="red" d="M12 22 V58"/>`);
    const parents = Object.fromEntries(drawing.outlines.map(({ id, parent }) => [id, parent]));
    expect(parents).toEqual({
      cloth: null,
      copy: 'cloth',
      strip: 'copy',
      beside: null,
      overlapping: null,
      'c-shape': 'copy',
      'in-mouth': 'copy',
    });
    expect(drawing.openLines[0]?.parent).toBe('c-shape');
    expect(outlineOf(drawing, 'strip').depth).toBe(2);
  });
});

describe('fewer points', () => {
  test('a simplified ring stays within the tolerance and keeps its box', () => {
    const radius = fc.double({ min: 5, max: 50, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(radius, { minLength: 8, maxLength: 60 }),
        fc.double({ min: 0.01, max: 5, noNaN: true }),
        (radii, tolerance) => {
          const ring: Point[] = radii.map((r, i) => [
            r * Math.cos((2 * Math.PI * i) / radii.length),
            r * Math.sin((2 * Math.PI * i) / radii.length),
          ]);
          const simple = simplifyRing(ring, tolerance, noLimit());
          expect(boundingBox(simple)).toEqual(boundingBox(ring));
          for (const [x, y] of ring) {
            const away = Math.min(
              ...simple.map(([ax, ay], i) => {
                const [bx, by] = simple[(i + 1) % simple.length] as Point;
                const squared = (bx - ax) ** 2 + (by - ay) ** 2;
                const t =
                  squared === 0
                    ? 0
                    : Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / squared));
                return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay));
              }),
            );
            expect(away).toBeLessThanOrEqual(tolerance + 1e-9);
          }
        },
      ),
    );
  });
});

describe('uniting outlines', () => {
  test('a finished rectangle and its four allowance strips become the cut rectangle, hair gaps or not', () => {
    for (const gap of [0, 0.001, 0.3]) {
      const [whole, ...more] = uniteOutlines([
        square(10, 10, 100, 60),
        square(0, 0, 120, 10 - gap),
        square(0, 70 + gap, 120, 10 - gap),
        square(0, 10, 10 - gap, 60),
        square(110 + gap, 10, 10 - gap, 60),
      ]);
      expect(more).toEqual([]);
      expect(whole?.ring).toHaveLength(4);
      expect(whole?.holes).toEqual([]);
      expect(signedArea(whole?.ring ?? [])).toBeCloseTo(120 * 80, 1);
    }
  });

  test('apart stays apart, largest first; a frame keeps its hole', () => {
    const united = uniteOutlines([square(0, 0, 10), square(20, 0, 30)]);
    expect(united.map(({ ring }) => Math.round(signedArea(ring)))).toEqual([900, 100]);
    const [frame] = uniteOutlines([
      square(0, 0, 50, 10),
      square(0, 40, 50, 10),
      square(0, 0, 10, 50),
      square(40, 0, 10, 50),
    ]);
    expect(signedArea(frame?.ring ?? [])).toBeCloseTo(2500, 2);
    expect(frame?.holes.map((hole) => Math.round(signedArea(hole)))).toEqual([900]);
    expect(uniteOutlines([])).toEqual([]);
  });

  test('for rectangles that overlap, the area is that of the exact union', () => {
    const rectangle = fc
      .tuple(
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 5, max: 60 }),
        fc.integer({ min: 5, max: 60 }),
      )
      .map(([x, y, width, height]) => square(x, y, width, height));
    fc.assert(
      fc.property(fc.array(rectangle, { minLength: 1, maxLength: 6 }), (rings) => {
        const area = uniteOutlines(rings).reduce(
          (sum, { ring, holes }) =>
            sum + signedArea(ring) - holes.reduce((inner, hole) => inner + signedArea(hole), 0),
          0,
        );
        // Counted cell by cell of 1 mm: whole numbers, so this is exact.
        let cells = 0;
        for (let x = 0; x < 120; x++)
          for (let y = 0; y < 120; y++)
            if (
              rings.some(
                (ring) =>
                  x + 0.5 > (ring[0]?.[0] ?? 0) &&
                  x + 0.5 < (ring[2]?.[0] ?? 0) &&
                  y + 0.5 > (ring[0]?.[1] ?? 0) &&
                  y + 0.5 < (ring[2]?.[1] ?? 0),
              )
            )
              cells += 1;
        expect(area).toBeCloseTo(cells, 0);
      }),
      { numRuns: 40 },
    );
  });
});
