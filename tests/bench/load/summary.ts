/** The value below which this part (0 to 1) of the values lies, by nearest rank; NaN of none. */
export function quantile(values: readonly number[], part: number): number {
  if (values.length === 0) return Number.NaN;
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[Math.max(0, Math.ceil(part * sorted.length) - 1)]!;
}

/** How many times as long the slowest took as the fastest; 1 is perfectly fair. */
export function unevenness(values: readonly number[]): number {
  return values.length === 0 ? Number.NaN : Math.max(...values) / Math.min(...values);
}

/**
 * Growth between the first and the last quarter of what was measured, as a share of the first: medians, so that one
 * garbage collection more or less does not count.
 */
export function growth(values: readonly number[]): number {
  const quarter = Math.floor(values.length / 4);
  if (quarter === 0) return Number.NaN;
  const [first, last] = [quantile(values.slice(0, quarter), 0.5), quantile(values.slice(-quarter), 0.5)];
  return (last - first) / first;
}
