import {
  cellId,
  type DesignerTable,
  type TableCell,
  type TableRequest,
  type TableSize,
} from '../../exchange/designerTable.ts';
import type { LayRequestInput, Notice } from '../../exchange/lay.ts';
import type { ClothLay, Project } from '../../exchange/project.ts';
import { cellOf, cellWork, tableKeys } from './cells.ts';

/** Lays one project: the engine at hand, or a server. Rejects where it could not be done. */
export type LayOnce = (
  request: LayRequestInput,
) => Promise<{ readonly results: readonly ClothLay[]; readonly notices: readonly Notice[] }>;

export interface TableRun {
  readonly project: Project;
  readonly request: TableRequest;
  /** Mark of the project, such as a hash; figures of another mark are worked out anew. */
  readonly madeFrom: string;
  /** A table begun before: its figures are taken over where they are of the same project, effort and seed. */
  readonly begun?: DesignerTable | null;
  /** Figures worked out side by side. */
  readonly atOnce: number;
  readonly lay: LayOnce;
  readonly report: (table: DesignerTable, done: number, total: number) => void;
  readonly signal: AbortSignal;
}

/**
 * Works out a designer's table figure by figure and reports after each. Stopped by the signal it resolves with what it
 * has; given back as `begun` it goes on from there. Rejects with what `lay` rejects with, after reporting the rest.
 */
export async function runTable(run: TableRun): Promise<DesignerTable> {
  const { project, request, madeFrom, begun, report, signal } = run;
  const keys = tableKeys(project, request);
  const known = new Map<string, TableCell>();
  if (begun && begun.madeFrom === madeFrom && sameEffort(begun.request, request)) {
    for (const cell of begun.cells) known.set(cellId(cell), cell);
  }
  const cells = new Map<string, TableCell>();
  for (const key of keys) {
    const cell = known.get(cellId(key));
    if (cell) cells.set(cellId(key), cell);
  }
  const table = (): DesignerTable => ({
    request,
    madeFrom,
    cells: settled(keys.flatMap((key) => cells.get(cellId(key)) ?? [])),
  });
  const open = keys.filter((key) => !cells.has(cellId(key)));
  report(table(), cells.size, keys.length);
  let next = 0;
  const worker = async (): Promise<void> => {
    while (next < open.length && !signal.aborted) {
      const key = open[next++];
      if (!key) return;
      const work = cellWork(project, request, key);
      let cell: TableCell;
      if (work.kind === 'known') cell = work.cell;
      else {
        const { results, notices } = await run.lay(work.request);
        // A figure that was cut short would look like a worse cloth.
        if (signal.aborted) return;
        cell = cellOf(key, results, notices);
      }
      cells.set(cellId(key), cell);
      report(table(), cells.size, keys.length);
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, run.atOnce) }, worker));
  return table();
}

/**
 * A layout that was found holds for wider cloth as well, and one that keeps to a nap where there is none: where such a
 * figure is shorter than what the search itself found, it stands.
 */
export function settled(cells: readonly TableCell[]): TableCell[] {
  return cells.map((cell) => {
    if (cell.verdict === 'not allowed') return cell;
    const better = cells.filter(
      (other) =>
        other.verdict === 'fits' &&
        other.materialId === cell.materialId &&
        other.size === cell.size &&
        other.spread === cell.spread &&
        other.widthMm <= cell.widthMm &&
        (other.nap === cell.nap || cell.nap === 'none'),
    );
    const best = better.reduce<TableCell | null>(
      (least, other) => (least && least.usedMm <= other.usedMm ? least : other),
      null,
    );
    if (!best || (cell.verdict === 'fits' && cell.usedMm <= best.usedMm)) return cell;
    const { usedMm, buyMm, piecesToTrace, costCents } = best;
    const { reason: _reason, ...rest } = cell;
    return { ...rest, verdict: 'fits', usedMm, buyMm, piecesToTrace, costCents };
  });
}

/** Sizes are told apart by name, so a size of the same name but another measure is another table. */
function sameEffort(one: TableRequest, other: TableRequest): boolean {
  const sizes = new Map(one.sizes.map((size) => [size.name, size]));
  const isSame = (a: TableSize, b: TableSize): boolean =>
    a.acrossPercent === b.acrossPercent && a.alongPercent === b.alongPercent;
  return (
    one.seconds === other.seconds &&
    one.seed === other.seed &&
    other.sizes.every((size) => isSame(sizes.get(size.name) ?? size, size))
  );
}
