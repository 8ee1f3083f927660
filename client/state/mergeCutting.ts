import type { Cutting, Project } from '../../pattern/exchange/project.ts';

/**
 * Two pages at one table: what both did to ticks, notions and table since they had the same state. A tick that either
 * set stays set, one that either took away is gone; of a line that both changed, ours counts.
 */
export function mergeCutting(base: Cutting, ours: Cutting, theirs: Cutting): Cutting {
  const before = new Set(base.ticks);
  const mine = new Set(ours.ticks);
  const ticks = new Set(theirs.ticks);
  for (const mark of ours.ticks) if (!before.has(mark)) ticks.add(mark);
  for (const mark of base.ticks) if (!mine.has(mark)) ticks.delete(mark);
  return {
    tableMm: ours.tableMm === base.tableMm ? theirs.tableMm : ours.tableMm,
    ticks: [...ticks].sort(),
    notions: mergeById(base.notions, ours.notions, theirs.notions),
    cutBy: mergeChoices(base.cutBy, ours.cutBy, theirs.cutBy),
  };
}

function mergeById<T extends { readonly id: string }>(
  base: readonly T[],
  ours: readonly T[],
  theirs: readonly T[],
): T[] {
  const before = new Map(base.map((entry) => [entry.id, JSON.stringify(entry)]));
  const mine = new Map(ours.map((entry) => [entry.id, entry]));
  const merged = theirs.flatMap((entry): T[] => {
    const own = mine.get(entry.id);
    if (own) return [JSON.stringify(own) === before.get(entry.id) ? entry : own];
    return before.has(entry.id) ? [] : [entry];
  });
  const known = new Set(theirs.map(({ id }) => id));
  const added = ours.filter(({ id }) => !known.has(id) && !before.has(id));
  return [...merged, ...added];
}

/** Of a material for which both chose, ours counts. */
function mergeChoices(
  base: Cutting['cutBy'],
  ours: Cutting['cutBy'],
  theirs: Cutting['cutBy'],
): Cutting['cutBy'] {
  const withId = (list: Cutting['cutBy']) => list.map((entry) => ({ ...entry, id: entry.materialId }));
  return mergeById(withId(base), withId(ours), withId(theirs)).map(({ id: _id, ...entry }) => entry);
}

/**
 * The document with what two pages did to it, if at least one of them did nothing but work at the table; null where
 * both changed the pattern, the cloths or the plans, so that the maker has to choose.
 */
export function mergeDocuments(base: Project, ours: Project, theirs: Project): Project | null {
  const cutting = mergeCutting(base.cutting, ours.cutting, theirs.cutting);
  const start = besides(base);
  if (besides(theirs) === start) return { ...ours, cutting };
  if (besides(ours) === start) return { ...theirs, cutting };
  return null;
}

/** Whether two documents differ in nothing but work at the table. */
export function differOnlyInCutting(one: Project, other: Project): boolean {
  return besides(one) === besides(other);
}

/** All but the work at the table, with fields in one order: the server's is that of the schema. */
function besides({ cutting: _cutting, ...rest }: Project): string {
  return JSON.stringify(rest, (_key, value: unknown) =>
    typeof value === 'object' && value !== null && !Array.isArray(value)
      ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
      : value,
  );
}
