import type { Plan } from './project.ts';

/** Ids of the plans that hold the latest layouts of a material begin so; all others were kept under a name. */
export const CURRENT_PLAN_PREFIX = 'now.';

/** Whether the plan holds the latest layouts of a material, written over by the next lay. */
export function isCurrentPlan(plan: Plan): boolean {
  return plan.id.startsWith(CURRENT_PLAN_PREFIX);
}
