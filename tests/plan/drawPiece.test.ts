import { describe, expect, it } from 'vitest';
import { drawPiece } from '../../pattern/plan/drawPiece.ts';
import { bounds } from '../../pattern/plan/intervals.ts';
import { GUSSET, piece, rect, rounded } from '../support/handmadeLays.ts';
import { isInside, paths, textBox, texts, words } from './drawingSupport.ts';

const half = piece(
  'half',
  'Lining half',
  [
    [0, 0],
    [200, 0],
    [180, 250],
    [0, 250],
  ],
  {
    foldEdge: 3,
    marks: [
      {
        kind: 'sewLine',
        points: [
          [0, 10],
          [189, 10],
          [171, 240],
          [0, 240],
        ],
        closed: false,
      },
      { kind: 'notch', points: [[190, 125]], closed: false },
    ],
  },
);
const holed = piece('holed', 'Base', rounded(340, 260, 90), {
  line: 'sew',
  allowanceMm: 10,
  holes: [
    [
      [150, 120],
      [150, 140],
      [190, 140],
      [190, 120],
    ],
  ],
});
const PIECES = {
  half,
  holed,
  gusset: piece('gusset', 'Gusset', GUSSET, { grainDeg: 0, topDeg: 0 }),
  strap: piece('strap', 'Strap', rect(40, 900)),
  tiny: piece('tiny', 'Tiny', rect(6, 4)),
  slanting: piece(
    'slanting',
    'Wedge',
    [
      [0, 0],
      [200, 150],
      [40, 200],
    ],
    { foldEdge: 0 },
  ),
};

describe.each(Object.entries(PIECES))('a card of %s', (_name, source) => {
  describe.each(['mm', 'cm', 'in'] as const)('in %s', (units) => {
    const drawing = drawPiece(source, { units });

    it('stays on its page', () => {
      const box = bounds([
        ...paths(drawing).flatMap((p) => p.lines.flat()),
        ...texts(drawing).flatMap(textBox),
      ]);
      expect(box.minX).toBeGreaterThanOrEqual(0);
      expect(box.minY).toBeGreaterThanOrEqual(0);
      expect(box.maxX).toBeLessThanOrEqual(drawing.widthMm);
      expect(box.maxY).toBeLessThanOrEqual(drawing.heightMm);
    });

    it('draws the outline in its scale, never larger than true', () => {
      expect(drawing.scale).toBeGreaterThanOrEqual(1);
      const box = bounds(paths(drawing).find((p) => p.role === 'piece-plain')!.lines[0]!);
      const own = bounds(source.outline);
      expect((box.maxX - box.minX) * drawing.scale).toBeCloseTo(own.maxX - own.minX, 6);
      expect((box.maxY - box.minY) * drawing.scale).toBeCloseTo(own.maxY - own.minY, 6);
    });
  });
});

describe('drawPiece', () => {
  it('gives width and height, of the whole piece where half of it is drawn', () => {
    expect(words(drawPiece(PIECES.gusset, { units: 'mm' }))).toBe('top\n320 mm\n160 mm');
    const said = words(drawPiece(half, { units: 'mm' }));
    expect(said).toContain('400 mm');
    expect(said).toContain('250 mm');
    expect(said).toContain('size opened out');
    expect(said).toContain('FOLD');
  });

  it('gives both lengths in one line where one of them has no room along its side', () => {
    expect(words(drawPiece(PIECES.strap, { units: 'cm' }))).toContain('4 × 90 cm');
  });

  it('shows the other half mirrored in the fold', () => {
    const ghost = paths(drawPiece(half, { units: 'mm' })).find((p) => p.role === 'ghost')!;
    const own = paths(drawPiece(half, { units: 'mm' })).find((p) => p.role === 'piece-plain')!;
    expect(bounds(ghost.lines[0]!).maxX).toBeCloseTo(bounds(own.lines[0]!).minX, 9);
    const size = (line: Parameters<typeof bounds>[0]) => bounds(line).maxX - bounds(line).minX;
    expect(size(ghost.lines[0]!)).toBeCloseTo(size(own.lines[0]!), 9);
  });

  it('draws marks, holes and the sew line as what they are', () => {
    const roles = paths(drawPiece(half, { units: 'mm' })).map((p) => p.role);
    expect(roles).toContain('sew-line');
    expect(roles).toContain('leader-dot');
    const sewn = drawPiece(holed, { units: 'mm' });
    expect(paths(sewn).find((p) => p.role === 'sew-edge')!.lines).toHaveLength(2);
    expect(words(sewn)).toContain('sew line + 10 mm');
  });

  it('points the grain line along the grain, inside the piece and out of its holes', () => {
    const drawing = drawPiece(holed, { units: 'mm' });
    const rings = paths(drawing).find((p) => p.role === 'piece-plain')!.lines;
    const [a, b] = paths(drawing).find((p) => p.role === 'grain')!.lines[0]!;
    expect(a![0]).toBeCloseTo(b![0], 9);
    for (let i = 0; i <= 10; i++) {
      const y = a![1] + ((b![1] - a![1]) * i) / 10;
      expect(isInside(rings, [a![0], y], 0.01)).toBe(true);
    }
  });
});
