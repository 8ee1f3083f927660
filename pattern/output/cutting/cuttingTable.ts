import type { ClothLay, Project } from '../../exchange/project.ts';
import { type DataTable, layNames, tenth } from '../table.ts';
import { cuttingOrder } from './cuttingOrder.ts';

/**
 * The order of cutting for other programs: a row for each ruler's line, then one for each piece that a step frees.
 * Lengths along from the cut end, across from the edge that is measured from, as in the positions.
 */
export function cuttingTable(lays: readonly ClothLay[], project: Project): DataTable {
  const names = layNames(project);
  return {
    columns: [
      'material',
      'cloth',
      'part',
      'spread',
      'step',
      'work',
      'block',
      'direction',
      'at_mm',
      'from_mm',
      'to_mm',
      'key',
      'cloth_id',
      'material_id',
    ],
    rows: lays.flatMap((lay) => {
      const about = names(lay);
      const ids = [lay.clothId, lay.materialId] as const;
      return cuttingOrder(lay, project).stretches.flatMap((stretch) =>
        stretch.steps.flatMap(({ number, work, frees }) => {
          const step = [...about, stretch.segment + 1, stretch.spread, number] as const;
          const block = work.kind === 'straight' && work.block > 0 ? work.block : null;
          const across = stretch.originMm;
          const lines =
            work.kind === 'straight'
              ? work.lines.map(({ at, from, to, fold }) => [
                  ...step,
                  fold ? 'open the fold' : 'cut',
                  block,
                  work.across ? 'crosswise' : 'lengthwise',
                  tenth(work.across ? at - across : at),
                  tenth(work.across ? from : from - across),
                  tenth(work.across ? to : to - across),
                  null,
                  ...ids,
                ])
              : work.kind === 'off'
                ? [
                    ...work.squareMm.map((at) => ['square', at] as const),
                    ...(work.offMm === null ? [] : [['cut off', work.offMm] as const]),
                  ].map(([what, at]) => [
                    ...step,
                    what,
                    null,
                    'crosswise',
                    tenth(at),
                    null,
                    null,
                    null,
                    ...ids,
                  ])
                : [];
          const what = { straight: 'free', outline: 'outline', held: 'held back', off: 'free' }[work.kind];
          const pieces = frees.map((key) => [...step, what, block, null, null, null, null, key, ...ids]);
          return [...lines, ...pieces];
        }),
      );
    }),
  };
}
