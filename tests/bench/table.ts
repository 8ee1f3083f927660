/** Prints rows of cells as a table with aligned columns; cells of numbers line up at the right. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = head.map((title, column) =>
    Math.max(title.length, ...rows.map((row) => (row[column] ?? '').length)),
  );
  const numeric = head.map((_, column) =>
    rows.every((row) => /^[-+]?[\d\s.,–±%/ ]*$/.test(row[column] ?? '')),
  );
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, column) =>
        numeric[column] ? cell.padStart(widths[column]!) : cell.padEnd(widths[column]!),
      )
      .join('  ')
      .trimEnd();
  return [line(head), widths.map((width) => '-'.repeat(width)).join('  '), ...rows.map(line)].join('\n');
}

export const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / (values.length || 1);

export const fixed = (value: number | null | undefined, digits = 2) =>
  value === null || value === undefined || Number.isNaN(value) ? '–' : value.toFixed(digits);
