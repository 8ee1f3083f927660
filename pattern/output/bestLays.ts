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

/** Layouts of one material's rolls, and which of them is cut. */
export interface RollChoice {
  /** Those on which something lies; all where nothing lies on any. */
  readonly rolls: readonly ClothLay[];
  /** The one the maker chose, else the best, else the first; null where there is no roll. */
  readonly roll: ClothLay | null;
}

/**
 * Rolls, and the ways to lay each, are alternatives to one another: of all of a material one is cut.
 * @param lays of any materials
 */
export function rollToCut(project: Project, materialId: string, lays: readonly ClothLay[]): RollChoice {
  const kinds = new Map(project.cloths.map(({ id, kind }) => [id, kind]));
  const own = lays.filter((lay) => lay.materialId === materialId && kinds.get(lay.clothId) === 'roll');
  const laid = own.filter(isLaid);
  const rolls = laid.length > 0 ? laid : own;
  const wish = project.cutting.cutBy.find((entry) => entry.materialId === materialId);
  const chosen = wish && rolls.find((lay) => lay.clothId === wish.clothId && lay.spread === wish.spread);
  return { rolls, roll: chosen ?? bestOnRoll(rolls) ?? rolls[0] ?? null };
}

/** Whether anything lies on the cloth. */
export function isLaid({ segments }: ClothLay): boolean {
  return segments.some(({ placed }) => placed.length > 0);
}

/**
 * The layouts that are cut: every remnant and, of each material, one roll laid one way. All that is taken to the table
 * goes by these; those whose cloth has gone are left out.
 */
export function laysToCut(project: Project, lays: readonly ClothLay[]): readonly ClothLay[] {
  const kinds = new Map(project.cloths.map(({ id, kind }) => [id, kind]));
  const taken = new Map(
    [...new Set(lays.map(({ materialId }) => materialId))].map((materialId) => [
      materialId,
      rollToCut(project, materialId, lays).roll,
    ]),
  );
  return lays.filter((lay) => kinds.get(lay.clothId) === 'remnant' || taken.get(lay.materialId) === lay);
}
