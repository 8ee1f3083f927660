import { endLossMm, reserveOf } from '../../pattern/cloths/measures.ts';
import type { ClothLay, Project, Roll } from '../../pattern/exchange/project.ts';
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

/** How a length to buy comes about, for the words beside it. */
export interface Purchase {
  readonly boughtMm: number;
  /** What the pieces take. */
  readonly piecesMm: number;
  /** Squaring, and margins at both ends. */
  readonly endsMm: number;
  /** Beyond the need, for safety. */
  readonly reserveMm: number;
  readonly stepMm: number;
}

export function purchaseOf(lay: ClothLay, roll: Roll): Purchase {
  const endsMm = Math.min(endLossMm(roll), lay.usedMm);
  return {
    boughtMm: lay.buyMm,
    piecesMm: lay.usedMm - endsMm,
    endsMm,
    reserveMm: reserveOf(roll, lay.usedMm),
    stepMm: roll.shopStepMm,
  };
}
