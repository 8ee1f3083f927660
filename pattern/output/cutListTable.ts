import { pieceIn, setsTimes } from '../cutList/index.ts';
import type { Project } from '../exchange/project.ts';
import { checkPiece, pieceSize } from '../pieces/index.ts';
import { type DataTable, tenth } from './table.ts';

/**
 * The cut list, a row for each piece and material, in the project's order: counts for one set, and how many sets.
 * Sizes are those at which the material is cut; of faulty pieces they stay empty.
 */
export function cutListTable(project: Project): DataTable {
  const pieces = new Map(project.pieces.map((piece) => [piece.id, piece]));
  const materials = new Map(project.materials.map((material) => [material.id, material]));
  const times = setsTimes(project);
  return {
    columns: [
      'piece',
      'material',
      'plain',
      'mirrored',
      'on_fold',
      'total',
      'sets',
      'width_mm',
      'height_mm',
      'area_cm2',
      'grain_deg',
      'drawn_as',
      'notes',
      'piece_id',
      'material_id',
    ],
    rows: project.cutList.map((row) => {
      const piece = pieces.get(row.pieceId);
      const sound = piece && !checkPiece(piece).some((problem) => problem.level === 'error');
      const sized = sound ? pieceIn(piece, materials.get(row.materialId)) : null;
      const size = sized?.ok ? pieceSize(sized.piece) : null;
      return [
        piece?.name ?? row.pieceId,
        materials.get(row.materialId)?.name ?? row.materialId,
        row.plain,
        row.mirrored,
        row.onFold,
        row.plain + row.mirrored + row.onFold,
        times,
        size && tenth(size.widthMm),
        size && tenth(size.heightMm),
        size && tenth(size.areaMm2 / 100),
        piece?.grainDeg ?? null,
        piece && piece.foldEdge !== null ? 'half' : 'whole',
        piece?.notes ?? '',
        row.pieceId,
        row.materialId,
      ];
    }),
  };
}
