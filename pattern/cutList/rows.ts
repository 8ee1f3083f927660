import type { CutRow } from '../exchange/project.ts';

/** Rows for the same piece and material joined to one, in the place of the first, counts added. */
export function mergeRows(rows: readonly CutRow[]): CutRow[] {
  const merged = new Map<string, CutRow>();
  for (const row of rows) {
    // Ids hold no blanks.
    const key = `${row.pieceId} ${row.materialId}`;
    const first = merged.get(key);
    merged.set(
      key,
      first
        ? {
            ...first,
            plain: first.plain + row.plain,
            mirrored: first.mirrored + row.mirrored,
            onFold: first.onFold + row.onFold,
          }
        : row,
    );
  }
  return [...merged.values()];
}
