import { describe, expect, test } from 'vitest';
import { pieceSchema } from '../../../pattern/exchange/project.ts';
import { unfold } from '../../../pattern/pieces/unfold.ts';
import { pieceFromOutline } from '../../../pattern/reading/index.ts';
import { box, line, type Rec } from '../dxfText.ts';
import { expectSize } from '../readings.ts';
import { readParts } from './readParts.ts';

describe('pieces by ASTM D6673', () => {
  const drawing = readParts({
    header: {},
    blocks: {
      'PANNIER-LID': [
        ['TEXT', 8, '1', 1, 'Piece Name: LID', 40, 5],
        ['TEXT', 8, '1', 1, 'Quantity: 2', 40, 5],
        ['TEXT', 8, '1', 1, 'Material: LINING', 40, 5],
        ['POLYLINE', 8, '1', 66, 1, 70, 0],
        ...[
          [0, 0],
          [120, 0],
          [120, 90],
          [0, 90],
          [0, 0],
        ].map(([x, y]): Rec => ['VERTEX', 8, '1', 10, x!, 20, y!]),
        ['SEQEND', 8, '1'],
        line('6', 120, 0, 120, 90),
        line('7', 20, 20, 80, 20),
        line('80', 60, 90, 60, 85),
        ['POINT', 8, '4', 10, 30, 20, 0],
        ['CIRCLE', 8, '11', 10, 60, 20, 45, 40, 8],
        ['POINT', 8, '13', 10, 100, 20, 45],
        ['LWPOLYLINE', 8, '14', 70, 1, 10, 10, 20, 10, 10, 120, 20, 10, 10, 120, 20, 80, 10, 10, 20, 80],
        line('8', 10, 45, 40, 45),
        line('9', 0, 60, 120, 60),
        line('10', 60, 0, 60, 90),
      ],
      'PANNIER-TAB': [['TEXT', 8, '1', 1, 'Piece Name: TAB', 40, 5], ...box('1', 30, 20)],
    },
    entities: [
      ['TEXT', 8, '1', 1, 'Units: METRIC', 40, 5],
      ['INSERT', 8, '1', 2, 'PANNIER-LID', 10, 0, 20, 0],
      ['INSERT', 8, '1', 2, 'PANNIER-TAB', 10, 0, 20, 0],
    ],
  });
  const [lid, tab] = drawing.proposals ?? [];

  test('each block is a piece by itself, though all lie on one another in the file', () => {
    expect(drawing.proposals).toHaveLength(2);
    expect(lid).toMatchObject({ name: 'LID', quantity: 2, material: 'LINING', size: null, grainDeg: 0 });
    expect(tab).toMatchObject({ name: 'TAB', quantity: null, foldEdge: null, notches: [], holeIds: [] });
    const ring = drawing.outlines.find(({ id }) => id === lid!.outlineId)!;
    expectSize(ring, 120, 90, 1e-9);
    expect(ring.suggestedName).toBe('LID');
    expect(drawing.outlines.find(({ id }) => id === tab!.outlineId)!.parent).toBeNull();
    expect(drawing.pages).toHaveLength(2);
  });

  test('layers say what lines are', () => {
    const { at } = drawing.pages![0]!;
    expect(lid!.notches.map(([x, y]) => [x - at[0], y - at[1]])).toEqual([
      [30, 0],
      [60, 90],
    ]);
    expect(lid!.drillHoles.map(([x, y]) => [x - at[0], y - at[1]])).toEqual([[100, 45]]);
    expect(lid!.stripeIds).toHaveLength(2);
    expect([lid!.holeIds, lid!.sewLineIds, lid!.internalIds].map((ids) => ids.length)).toEqual([1, 1, 1]);
  });

  test('the mirror line is the fold edge: unfolded the piece is twice as wide', () => {
    const outline = drawing.outlines.find(({ id }) => id === lid!.outlineId)!;
    const piece = pieceFromOutline(outline, {
      id: 'lid',
      name: lid!.name,
      fileName: 'a.dxf',
      foldEdge: lid!.foldEdge,
    });
    expect(pieceSchema.parse(piece).foldEdge).toBe(lid!.foldEdge);
    const a = piece.outline[lid!.foldEdge!]!;
    const b = piece.outline[(lid!.foldEdge! + 1) % piece.outline.length]!;
    expect([a[0], b[0]]).toEqual([120, 120]);
    const xs = unfold({ outline: piece.outline, holes: [], fold: [a, b] }).outline.map(([x]) => x);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(240, 9);
  });
});
