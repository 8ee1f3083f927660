import { endLossMm } from '../../pattern/cloths/measures.ts';
import type { Cloth, ClothLay, Project, Roll } from '../../pattern/exchange/project.ts';
import { currentPlan, isOutOfDate } from './layCommands.ts';
import type { RunState } from './layRun.ts';

/** Layouts of one material as they are shown: live ones while a lay runs, else the kept ones. */
export interface MaterialLays {
  readonly results: readonly ClothLay[];
  readonly standing: 'none' | 'running' | 'fresh' | 'outOfDate';
  /** ISO time, where the layouts are not live. */
  readonly madeAt: string | null;
}

export function laysOf(project: Project, materialId: string, run: RunState): MaterialLays {
  const plan = currentPlan(project, materialId);
  if (run.kind === 'running' && run.materialIds.includes(materialId)) {
    const live = run.lay?.results.filter((result) => result.materialId === materialId) ?? [];
    return { results: live, standing: 'running', madeAt: null };
  }
  if (!plan) return { results: [], standing: 'none', madeAt: null };
  const standing = isOutOfDate(project, plan, materialId) ? 'outOfDate' : 'fresh';
  return { results: plan.results, standing, madeAt: plan.createdAt };
}

/** Remnants, and rolls with the ways to lay each: these are alternatives for what the remnants leave. */
export interface LayGroup {
  readonly cloth: Cloth;
  readonly lays: readonly ClothLay[];
}

/** Results by cloth, in their order; those whose cloth has gone are left out. */
export function byCloth(project: Project, results: readonly ClothLay[]): readonly LayGroup[] {
  const groups = new Map<string, { cloth: Cloth; lays: ClothLay[] }>();
  for (const lay of results) {
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
 * trace; null where there is none.
 */
export function bestOnRoll(results: readonly ClothLay[]): ClothLay | null {
  const complete = results.filter((lay) => lay.verdict === 'fits' && lay.usedMm > 0);
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

/** One layout a cloth: of several ways to lay a roll the best, as the page shows them at first. */
export function onePerCloth(project: Project, results: readonly ClothLay[]): readonly ClothLay[] {
  return byCloth(project, results).flatMap(({ cloth, lays }) => {
    const best = cloth.kind === 'roll' ? (bestOnRoll(lays) ?? lays[0]) : undefined;
    return best ? [best] : lays;
  });
}

/** How a length to buy comes about, for the words beside it. */
export interface Purchase {
  readonly boughtMm: number;
  /** What the pieces take. */
  readonly piecesMm: number;
  /** Squaring, and margins at both ends. */
  readonly endsMm: number;
  readonly stepMm: number;
}

export function purchaseOf(lay: ClothLay, roll: Roll): Purchase {
  const endsMm = Math.min(endLossMm(roll), lay.usedMm);
  return { boughtMm: lay.buyMm, piecesMm: lay.usedMm - endsMm, endsMm, stepMm: roll.shopStepMm };
}
