import type { Layout, Outline, Problem } from '../packing/types.ts';

/**
 * Orders layouts of one problem: negative if `a` is better, positive if `b` is, 0 if neither. First comes the area
 * left without a place; then on a strip the length, on sheets how many are used and, at equal number, earlier ones.
 */
export function compareLayouts(problem: Problem, a: Layout, b: Layout): number {
  const left = unplacedArea(problem, a) - unplacedArea(problem, b);
  if (left !== 0) return left;
  const left2 = a.unplaced.length - b.unplaced.length;
  if (left2 !== 0) return left2;
  if (problem.containers.some(({ kind }) => kind === 'strip')) return a.length - b.length;
  const usedByA = sheetsUsed(problem, a);
  const usedByB = sheetsUsed(problem, b);
  if (usedByA.length !== usedByB.length) return usedByA.length - usedByB.length;
  const first = usedByA.findIndex((sheet, i) => sheet !== usedByB[i]);
  return first < 0 ? 0 : usedByA[first]! - usedByB[first]!;
}

/** Places in the problem's list of the containers that hold anything, one entry a sheet, in rising order. */
function sheetsUsed({ containers }: Problem, { placements }: Layout): number[] {
  const used = new Map<string, number>();
  for (const { container, containerCopy } of placements) {
    used.set(
      `${containerCopy} of ${container}`,
      containers.findIndex(({ id }) => id === container),
    );
  }
  return [...used.values()].sort((i, j) => i - j);
}

function unplacedArea({ items }: Problem, { unplaced }: Layout): number {
  if (unplaced.length === 0) return 0;
  const area = new Map(items.map(({ id, outline }) => [id, areaOf(outline)]));
  return unplaced.reduce((sum, { item }) => sum + (area.get(item) ?? 0), 0);
}

function areaOf(outline: Outline): number {
  const twice = outline.reduce((sum, [x, y], i) => {
    const [u, v] = outline[(i + 1) % outline.length]!;
    return sum + x * v - u * y;
  }, 0);
  return Math.abs(twice) / 2;
}
