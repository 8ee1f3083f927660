import { describe, expect, it } from 'vitest';
import { sizeHints } from '../../../pattern/cutList/index.ts';
import { emptyProject } from '../../../pattern/exchange/emptyProject.ts';
import type { Piece, Project } from '../../../pattern/exchange/project.ts';
import { pieceOf, rectangle } from '../pieces/shapes.ts';

function cutting(...pieces: Piece[]): Project {
  return {
    ...emptyProject('Test', 'cm'),
    pieces,
    materials: [{ id: 'm', name: 'Canvas', role: 'main' }],
    cutList: pieces.map(({ id }) => ({ pieceId: id, materialId: 'm', plain: 1, mirrored: 0, onFold: 0 })),
  };
}

const piece = (name: string, width: number, height: number, more: Partial<Piece> = {}): Piece => ({
  ...pieceOf(rectangle(width, height), more),
  id: name.replaceAll(/\W/g, ''),
  name,
});
const codes = (project: Project): string[] => sizeHints(project).map(({ code }) => code);

describe('sizes across a cut list', () => {
  it('asks about pieces of one name that are nearly alike, and only about those', () => {
    const outer = piece('Panel, outer', 300, 400);
    const [hint] = sizeHints(cutting(outer, piece('Panel lining', 295, 400)));
    expect(hint).toMatchObject({ level: 'info', code: 'nearlyAlike', pieceId: 'Panellining' });
    expect(hint!.text).toContain('0.5 cm in width');
    expect(codes(cutting(outer, piece('Panel lining', 300, 400.2)))).toEqual([]);
    expect(codes(cutting(outer, piece('Panel small', 200, 300)))).toEqual([]);
    expect(codes(cutting(outer, piece('Pocket', 295, 400)))).toEqual([]);
    const variant = piece('Panel lining', 295, 400, { variant: { from: 'Panelouter', steps: [] } });
    expect(codes(cutting(outer, variant))).toEqual([]);
  });

  it('tells of allowances that differ, or that only some pieces tell', () => {
    const [flap, side, base] = ['Flap', 'Side', 'Base'].map((name) =>
      piece(name, 100, 200, { allowanceMm: 10 }),
    );
    expect(codes(cutting(flap!, side!, base!))).toEqual([]);
    expect(codes(cutting(flap!, side!, { ...base!, allowanceMm: 6 }))).toEqual(['allowancesDiffer']);
    expect(codes(cutting(flap!, side!, { ...base!, allowanceMm: 0 }))).toEqual(['allowanceUntold']);
    expect(codes({ ...cutting(flap!, { ...base!, allowanceMm: 6 }), cutList: [] })).toEqual([]);
  });
});
