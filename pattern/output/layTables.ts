import type { ClothLay, Project } from '../exchange/project.ts';
import { layPositions } from './positions.ts';
import { type DataTable, layNames, tenth } from './table.ts';

/** Where every piece of the lays lies: four points for each piece, a row for each point. */
export function positionsTable(lays: readonly ClothLay[], project: Project): DataTable {
  const names = layNames(project);
  return {
    columns: [
      'material',
      'cloth',
      'part',
      'spread',
      'key',
      'piece',
      'hand',
      'copy',
      'of',
      'turned_deg',
      'point',
      'along_mm',
      'across_mm',
      'across_from',
      'piece_id',
      'cloth_id',
      'material_id',
    ],
    rows: lays.flatMap((lay) =>
      layPositions(lay, project).flatMap(({ segment, spread, from, pieces }) =>
        pieces.flatMap((piece) =>
          (['near', 'far', 'low', 'high'] as const).map((point) => [
            ...names(lay),
            segment + 1,
            spread,
            piece.tag,
            piece.name,
            piece.hand,
            piece.copy,
            piece.of,
            tenth(piece.rotation),
            point,
            tenth(piece[point].along),
            tenth(piece[point].across),
            from,
            piece.pieceId,
            lay.clothId,
            lay.materialId,
          ]),
        ),
      ),
    ),
  };
}

/** What each lay takes of its cloth, and what it costs. */
export function consumptionTable(lays: readonly ClothLay[], project: Project): DataTable {
  const cloths = new Map(project.cloths.map((cloth) => [cloth.id, cloth]));
  const materials = new Map(project.materials.map((material) => [material.id, material.name]));
  return {
    columns: [
      'material',
      'cloth',
      'kind',
      'spread',
      'verdict',
      'width_mm',
      'used_mm',
      'buy_mm',
      'use_percent',
      'pieces_cm2',
      'cloth_cm2',
      'pieces_to_trace',
      'not_placed',
      'cost_cents',
      'reason',
      'cloth_id',
      'material_id',
    ],
    rows: lays.map((lay) => {
      const cloth = cloths.get(lay.clothId);
      return [
        materials.get(lay.materialId) ?? lay.materialId,
        cloth?.name ?? lay.clothId,
        cloth?.kind ?? null,
        lay.spread,
        lay.verdict,
        cloth?.kind === 'roll' ? tenth(cloth.widthMm) : null,
        cloth?.kind === 'remnant' ? null : tenth(lay.usedMm),
        cloth?.kind === 'remnant' ? null : tenth(lay.buyMm),
        tenth(lay.usePercent),
        tenth(lay.pieceAreaMm2 / 100),
        tenth(lay.clothAreaMm2 / 100),
        lay.piecesToTrace,
        lay.unplaced.reduce((sum, { plain, mirrored, onFold }) => sum + plain + mirrored + onFold, 0),
        lay.costCents,
        lay.reason ?? null,
        lay.clothId,
        lay.materialId,
      ];
    }),
  };
}
