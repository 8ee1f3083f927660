import { describe, expect, test } from 'vitest';
import { signedArea } from '../../nesting/geometry/rings.ts';
import { pieceSchema } from '../../pattern/exchange/project.ts';
import { grainFromLine, pieceFromOutline } from '../../pattern/reading/index.ts';
import { outlineOf, read } from './readings.ts';

const drawing = read(`
  <path id="panel" d="M20 20 H120 V80 H40 Z"/>
  <path id="sew" d="M45 30 H110 V70 Z"/>
  <circle id="rivet" cx="100" cy="40" r="3"/>
  <circle id="elsewhere" cx="180" cy="20" r="3"/>
  <path id="slit" fill="none" stroke="red" d="M60 40 L80 40"/>`);
const panel = outlineOf(drawing, 'panel');

describe('a piece from an outline', () => {
  const piece = pieceFromOutline(panel, {
    id: 'p1',
    name: '  Side panel ',
    fileName: 'panel.svg',
    holes: [outlineOf(drawing, 'rivet')],
    sewLines: [outlineOf(drawing, 'sew')],
    internalLines: drawing.openLines,
  });

  test('is a valid piece of the project, moved to the origin, with its source', () => {
    expect(pieceSchema.parse(piece)).toEqual(piece);
    expect(piece.name).toBe('Side panel');
    expect(piece.source).toEqual({ kind: 'drawing', file: 'panel.svg', element: 'panel' });
    expect(Math.min(...piece.outline.map(([x]) => x))).toBe(0);
    expect(Math.min(...piece.outline.map(([, y]) => y))).toBe(0);
    expect(signedArea(piece.outline)).toBeCloseTo(panel.areaMm2, 3);
  });

  test('edges keep their numbers', () => {
    panel.ring.forEach(([x, y], i) => {
      expect(piece.outline[i]?.[0]).toBeCloseTo(x - panel.box.minX, 4);
      expect(piece.outline[i]?.[1]).toBeCloseTo(y - panel.box.minY, 4);
    });
  });

  test('holes run clockwise, lines move along', () => {
    expect(signedArea(piece.holes[0] ?? [])).toBeLessThan(0);
    expect(piece.marks).toEqual([
      { kind: 'sewLine', closed: true, points: expect.any(Array) },
      {
        kind: 'internal',
        closed: false,
        points: [
          [40, 40],
          [60, 40],
        ],
      },
    ]);
  });

  test('grain, top, fold, line and allowance are taken over', () => {
    const half = pieceFromOutline(panel, {
      id: 'p2',
      name: '',
      fileName: 'panel.svg',
      grainDeg: grainFromLine(drawing.openLines[0] ?? { points: [] }),
      topDeg: 180,
      foldEdge: 2,
      line: 'sew',
      allowanceMm: 10,
    });
    expect(half).toMatchObject({
      name: 'Piece',
      grainDeg: 0,
      topDeg: 180,
      foldEdge: 2,
      line: 'sew',
      allowanceMm: 10,
      holes: [],
      marks: [],
    });
  });

  test('a hole elsewhere is refused in a sentence', () => {
    const options = { id: 'p3', name: 'x', fileName: 'panel.svg' };
    expect(() => pieceFromOutline(panel, { ...options, holes: [outlineOf(drawing, 'elsewhere')] })).toThrow(
      /"elsewhere" does not lie inside the outline "panel"/,
    );
    const rivet = outlineOf(drawing, 'rivet');
    expect(() =>
      pieceFromOutline(panel, { ...options, holes: Array.from({ length: 501 }, () => rivet) }),
    ).toThrow(/at most 500 holes/);
  });

  test('the grain of an arrow is a line: up and down are one', () => {
    expect(
      grainFromLine({
        points: [
          [0, 0],
          [0, 5],
        ],
      }),
    ).toBeCloseTo(90, 9);
    expect(
      grainFromLine({
        points: [
          [0, 5],
          [0, 0],
        ],
      }),
    ).toBeCloseTo(90, 9);
    expect(
      grainFromLine({
        points: [
          [5, 0],
          [0, 0],
        ],
      }),
    ).toBeCloseTo(0, 9);
    expect(
      grainFromLine({
        points: [
          [0, 0],
          [-3, 3],
        ],
      }),
    ).toBeCloseTo(135, 9);
  });
});
