import type { CutRow, Piece, Project } from '../exchange/project.ts';
import { checkPiece, cutShape, shapeSize } from '../pieces/index.ts';

/** What is to be cut from one material. */
export interface MaterialTotals {
  readonly materialId: string;
  readonly plain: number;
  readonly mirrored: number;
  /** Whole pieces cut from halves on the fold. */
  readonly onFold: number;
  /** All of them. */
  readonly copies: number;
  /** Area of the cut pieces in mm², holes taken out, a piece on the fold counted whole. Faulty pieces add nothing. */
  readonly areaMm2: number;
}

/** Totals of each material in the project's order, those without a row too. Rows that point nowhere are left out. */
export function totals(project: Project): MaterialTotals[] {
  const pieces = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const areas = new Map<string, number>();
  const areaOf = (piece: Piece): number => {
    const known = areas.get(piece.id) ?? pieceArea(piece);
    areas.set(piece.id, known);
    return known;
  };
  return project.materials.map(({ id }) => {
    const sum = { plain: 0, mirrored: 0, onFold: 0, areaMm2: 0 };
    for (const row of project.cutList) {
      const piece = pieces.get(row.pieceId);
      if (row.materialId !== id || !piece) continue;
      sum.plain += row.plain;
      sum.mirrored += row.mirrored;
      sum.onFold += row.onFold;
      // A row on the fold gives the whole of a half piece: twice its area.
      const copies = row.plain + row.mirrored + (piece.foldEdge === null ? 1 : 2) * row.onFold;
      if (copies > 0) sum.areaMm2 += copies * areaOf(piece);
    }
    return { materialId: id, ...sum, copies: sum.plain + sum.mirrored + sum.onFold };
  });
}

function pieceArea(piece: Piece): number {
  if (checkPiece(piece).some((problem) => problem.level === 'error')) return 0;
  return shapeSize(cutShape(piece), piece.grainDeg).areaMm2;
}

/** Copies that a row calls for. */
export function copiesOf(row: Pick<CutRow, 'plain' | 'mirrored' | 'onFold'>): number {
  return row.plain + row.mirrored + row.onFold;
}

/** Copies that the whole cut list calls for. */
export function totalCopies(project: Pick<Project, 'cutList'>): number {
  return project.cutList.reduce((sum, row) => sum + copiesOf(row), 0);
}
