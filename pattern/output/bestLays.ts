import type { Cloth, ClothLay, Project } from '../exchange/project.ts';

/** Which of several layouts is taken: on the page, on paper and on the shopping list the same. */

/** Remnants, and rolls with the ways to lay each: these are alternatives for what the remnants leave. */
export interface LayGroup {
  readonly cloth: Cloth;
  readonly lays: readonly ClothLay[];
}

/** Layouts by cloth, in their order; those whose cloth has gone are left out. */
export function byCloth(project: Project, lays: readonly ClothLay[]): readonly LayGroup[] {
  const groups = new Map<string, { cloth: Cloth; lays: ClothLay[] }>();
  for (const lay of lays) {
    const cloth = project.cloths.find((entry) => entry.id === lay.clothId);
    if (!cloth) continue;
    const group = groups.get(cloth.id);
    if (group) group.lays.push(lay);
    else groups.set(cloth.id, { cloth, lays: [lay] });
  }
  return [...groups.values()];
}

/** Lengths that differ by less are one length to a maker, mm. */
const SAME_LENGTH_MM = 1;

/**
 * The cheapest of the complete layouts on rolls, of these the shortest, of these the one with the fewest pieces to
 * trace; null where there is none. Where a price is missing the length to buy counts instead.
 */
export function bestOnRoll(lays: readonly ClothLay[]): ClothLay | null {
  const complete = lays.filter((lay) => lay.verdict === 'fits' && lay.usedMm > 0);
  const priced = complete.every((lay) => lay.costCents !== null);
  const cost = (lay: ClothLay): number => (priced ? (lay.costCents ?? 0) : lay.buyMm);
  const least = Math.min(...complete.map(cost));
  const cheapest = complete.filter((lay) => cost(lay) === least);
  const shortest = Math.min(...cheapest.map(({ usedMm }) => usedMm));
  return cheapest
    .filter(({ usedMm }) => usedMm < shortest + SAME_LENGTH_MM)
    .reduce<ClothLay | null>(
      (best, lay) => (best === null || lay.piecesToTrace < best.piecesToTrace ? lay : best),
      null,
    );
}

/** One layout a cloth, to cut from: of several ways to lay a roll the best, or the first where none is complete. */
export function onePerCloth(project: Project, lays: readonly ClothLay[]): readonly ClothLay[] {
  return byCloth(project, lays).flatMap(({ cloth, lays: ways }) => {
    const best = cloth.kind === 'roll' ? (bestOnRoll(ways) ?? ways[0]) : undefined;
    return best ? [best] : ways;
  });
}
