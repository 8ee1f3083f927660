import { cellId, type DesignerTable, type TableCell } from '../exchange/designerTable.ts';
import { type Language, USUAL_LANGUAGE } from '../language.ts';
import { cleanText, isolate } from '../plan/text.ts';
import type { PAPERS } from '../plan/tokens.ts';
import { formatLength, formatNumber, formatPurchase, type ShownUnits } from '../units/index.ts';
import { drawTable } from './pageTable.ts';
import type { Sheet } from './sheet.ts';
import { type DataTable, tenth } from './table.ts';
import { outputWords } from './words/index.ts';

/** Names that the table is written under. */
export interface TableNames {
  readonly project: string;
  readonly units: ShownUnits;
  /** English where left out. */
  readonly language?: Language;
  readonly materials: readonly { readonly id: string; readonly name: string }[];
}

/** The table for other programs: a row for each figure. */
export function designerData({ cells, request }: DesignerTable, { materials }: TableNames): DataTable {
  const names = new Map(materials.map(({ id, name }) => [id, name]));
  return {
    columns: [
      'material',
      'size',
      'width_mm',
      'nap',
      'spread',
      'verdict',
      'used_mm',
      'buy_mm',
      'pieces_to_trace',
      'cost_cents',
      'seconds',
      'reason',
      'material_id',
    ],
    rows: cells.map((cell) => {
      const fits = cell.verdict === 'fits';
      return [
        names.get(cell.materialId) ?? cell.materialId,
        cell.size,
        tenth(cell.widthMm),
        cell.nap,
        cell.spread,
        cell.verdict,
        fits ? tenth(cell.usedMm) : null,
        fits ? tenth(cell.buyMm) : null,
        fits ? cell.piecesToTrace : null,
        cell.costCents,
        request.seconds,
        cell.reason ?? null,
        cell.materialId,
      ];
    }),
  };
}

/** What stands in a place of the table. */
export function cellWords(
  cell: TableCell | undefined,
  units: ShownUnits,
  language: Language = USUAL_LANGUAGE,
): string {
  const words = outputWords(language).table;
  if (!cell) return words.open;
  return cell.verdict === 'fits' ? formatPurchase(cell.buyMm, units, language) : words.verdicts[cell.verdict];
}

/** The ways to spread and nap, in columns. */
export function tableColumns({
  request,
}: DesignerTable): { nap: TableCell['nap']; spread: TableCell['spread'] }[] {
  return request.naps.flatMap((nap) => request.spreads.map((spread) => ({ nap, spread })));
}

/** More columns than this can't be read across a page: the naps then come one below the other. */
const MOST_COLUMNS = 7;

/** The table on paper: for each material what to buy, sizes and widths down, naps and spreads across. */
export function designerSheets(
  table: DesignerTable,
  { project, units, materials, language = USUAL_LANGUAGE }: TableNames,
  page: keyof typeof PAPERS,
): Sheet[] {
  const words = outputWords(language).table;
  const found = new Map(table.cells.map((cell) => [cellId(cell), cell]));
  const { sizes, widthsMm, naps, spreads, seconds } = table.request;
  const groups =
    naps.length * spreads.length <= MOST_COLUMNS ? [naps] : naps.map((nap): typeof naps => [nap]);
  const shown = materials.filter(({ id }) => table.cells.some((cell) => cell.materialId === id));
  return shown.flatMap(({ id, name }) =>
    groups.flatMap((group, part): Sheet[] => {
      const columns = group.flatMap((nap) => spreads.map((spread) => ({ nap, spread })));
      const title = words.title(isolate(cleanText(name)));
      const drawings = drawTable(
        {
          title,
          subtitle: isolate(cleanText(project)),
          notes: [words.what, words.quality(formatNumber(seconds, language)), words.signs],
          groups: group.map((nap, i) => ({
            title: words.naps[nap],
            from: 2 + i * spreads.length,
            to: 1 + (i + 1) * spreads.length,
          })),
          columns: [
            { title: words.size, share: 18, strong: true },
            { title: words.width, share: 14, align: 'end' },
            ...columns.map(
              ({ spread }) => ({ title: words.spreads[spread], share: 22, align: 'end' }) as const,
            ),
          ],
          rows: sizes.flatMap(({ name: size }) =>
            [...new Set(widthsMm)].map((widthMm, i) => [
              i === 0 ? isolate(cleanText(size)) : '',
              formatLength(widthMm, units, language),
              ...columns.map((column) =>
                cellWords(found.get(cellId({ materialId: id, size, widthMm, ...column })), units, language),
              ),
            ]),
          ),
        },
        page,
        language,
      );
      return drawings.map((drawing, i) => (i + part === 0 ? { drawing, bookmark: title } : { drawing }));
    }),
  );
}
