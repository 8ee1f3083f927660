import type { CutRow, Material, Piece, Project } from '../exchange/project.ts';
import { checkPiece, cutShape, shapeSize } from '../pieces/index.ts';
import { type OneSize, pieceOfSize, setsTimes, sizesOf } from './sets.ts';
import { pieceIn } from './sizing.ts';

/** What is to be cut from one material, for all sets. */
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
  const sizes = sizesOf(project);
  const times = sizes.reduce((sum, { numbers }) => sum + numbers.length, 0);
  return project.materials.map((material) => {
    const sum = { plain: 0, mirrored: 0, onFold: 0, areaMm2: 0 };
    const areas = new Map<Piece, number>();
    for (const row of project.cutList) {
      const piece = pieces.get(row.pieceId);
      if (row.materialId !== material.id || !piece) continue;
      sum.plain += times * row.plain;
      sum.mirrored += times * row.mirrored;
      sum.onFold += times * row.onFold;
      // A row on the fold gives the whole of a half piece: twice its area.
      const copies = row.plain + row.mirrored + (piece.foldEdge === null ? 1 : 2) * row.onFold;
      if (copies === 0) continue;
      const area = areas.get(piece) ?? areaOfSets(piece, material, sizes);
      areas.set(piece, area);
      sum.areaMm2 += copies * area;
    }
    return { materialId: material.id, ...sum, copies: sum.plain + sum.mirrored + sum.onFold };
  });
}

/** Area of one copy a set, added up over the sets. */
function areaOfSets(piece: Piece, material: Material, sizes: readonly OneSize[]): number {
  if (checkPiece(piece).some((problem) => problem.level === 'error')) return 0;
  return sizes.reduce((sum, size) => {
    const scaled = pieceOfSize(piece, size);
    const sized = scaled && pieceIn(scaled, material);
    if (!sized?.ok) return sum;
    return sum + size.numbers.length * shapeSize(cutShape(sized.piece), sized.piece.grainDeg).areaMm2;
  }, 0);
}

/** Copies that a row calls for. */
export function copiesOf(row: Pick<CutRow, 'plain' | 'mirrored' | 'onFold'>): number {
  return row.plain + row.mirrored + row.onFold;
}

/** Copies that the whole cut list calls for, for all sets. */
export function totalCopies(project: Pick<Project, 'cutList' | 'sets'>): number {
  return setsTimes(project) * project.cutList.reduce((sum, row) => sum + copiesOf(row), 0);
}
