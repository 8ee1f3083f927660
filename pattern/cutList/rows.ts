import type { CutRow } from '../exchange/project.ts';

/** The row with so many mirrored pairs instead of single copies: "cut 4 in two mirrored pairs" is `pairs` 2. */
export function setMirroredPairs(row: CutRow, pairs: number): CutRow {
  if (!Number.isInteger(pairs) || pairs < 0) {
    throw new RangeError(`setMirroredPairs: pairs must be a whole number from 0, not ${pairs}`);
  }
  return { ...row, plain: pairs, mirrored: pairs };
}

/** The row with all its single copies plain: for pieces that need no hands. */
export function allPlain(row: CutRow): CutRow {
  return { ...row, plain: row.plain + row.mirrored, mirrored: 0 };
}

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
