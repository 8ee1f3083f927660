import type { ClothLay, LayChoice, Plan, Project } from '../../pattern/exchange/project.ts';
import { type Command, replaceById } from './command.ts';
import { hashText, materialMark, projectMark } from './fingerprint.ts';
import { freshId } from './ids.ts';

/** How a material is to be laid: what the maker chose, or each of its cloths in a single layer. */
export function choiceFor(project: Project, materialId: string): LayChoice {
  const own = project.cloths.filter((cloth) => cloth.materialId === materialId).map((cloth) => cloth.id);
  const chosen = project.layChoices.find((choice) => choice.materialId === materialId);
  if (!chosen) return { materialId, clothIds: own, spread: 'single' };
  const clothIds = chosen.clothIds.filter((id) => own.includes(id));
  return { ...chosen, clothIds: clothIds.length > 0 ? clothIds : own };
}

/** Materials that something is to be cut from, in the order of the project. */
export function materialsToCut(project: Project): Project['materials'] {
  return project.materials.filter((material) =>
    project.cutList.some(
      (row) => row.materialId === material.id && row.plain + row.mirrored + row.onFold > 0,
    ),
  );
}

export function chooseLay(project: Project, choice: LayChoice): Command {
  return {
    name: 'chooseLay',
    subject: project.materials.find((material) => material.id === choice.materialId)?.name ?? '',
    run: (current) => {
      const at = current.layChoices.findIndex((entry) => entry.materialId === choice.materialId);
      return {
        ...current,
        layChoices: at < 0 ? [...current.layChoices, choice] : current.layChoices.with(at, choice),
      };
    },
  };
}

/** Id of the one plan that holds the latest layouts of a material. */
export function currentPlanId(materialId: string): string {
  return materialId.length <= 58 ? `now.${materialId}` : `now.${hashText(materialId)}`;
}

export function currentPlan(project: Project, materialId: string): Plan | undefined {
  const id = currentPlanId(materialId);
  return project.plans.find((plan) => plan.id === id);
}

/** Whether pieces, counts or cloths of the material have changed since the plan was made. */
export function isOutOfDate(project: Project, plan: Plan, materialId: string): boolean {
  return plan.madeFrom !== materialMark(project, materialId);
}

/** Whether a kept plan still is what the project asks for. */
export function isKeptOutOfDate(project: Project, plan: Plan): boolean {
  return plan.madeFrom !== projectMark(project);
}

export function keptPlans(project: Project): readonly Plan[] {
  return project.plans.filter((plan) => !plan.id.startsWith('now.'));
}

/**
 * Writes the latest layouts of one material into the document. Not a command: a result is no edit, it goes into
 * every snapshot (see `amendEverywhere`) and is judged out of date by its mark.
 * @param mark what `materialMark` gave when the lay was asked for
 * @param now ISO time
 */
export function recordLay(
  materialId: string,
  name: string,
  results: readonly ClothLay[],
  mark: string,
  now: string,
): (project: Project) => Project {
  const plan: Plan = { id: currentPlanId(materialId), name, createdAt: now, madeFrom: mark, results };
  return (project) => {
    const at = project.plans.findIndex((entry) => entry.id === plan.id);
    return {
      ...project,
      plans: at < 0 ? [...project.plans, plan] : project.plans.with(at, plan),
    };
  };
}

/** Keeps the latest layouts of all materials under a name of their own. */
export function keepPlan(project: Project, name: string, now: string): Command {
  const id = freshId('plan');
  const latest = project.materials.flatMap((material) => {
    const plan = currentPlan(project, material.id);
    return plan ? [{ plan, fresh: !isOutOfDate(project, plan, material.id) }] : [];
  });
  const plan: Plan = {
    id,
    name,
    createdAt: now,
    // A plan put together from layouts of different days is out of date from the start.
    madeFrom: latest.every((entry) => entry.fresh) ? projectMark(project) : 'mixed',
    results: latest.flatMap((entry) => entry.plan.results),
  };
  return {
    name: 'keepPlan',
    subject: name,
    run: (current) => ({ ...current, plans: [...current.plans, plan] }),
  };
}

export function renamePlan(plan: Plan, name: string): Command {
  return {
    name: 'renamePlan',
    subject: plan.name,
    together: `plan ${plan.id}`,
    run: (project) => {
      const plans = replaceById(project.plans, plan.id, (old) =>
        old.name === name ? old : { ...old, name },
      );
      return plans === project.plans ? project : { ...project, plans };
    },
  };
}

export function removePlan(plan: Plan): Command {
  return {
    name: 'removePlan',
    subject: plan.name,
    run: (project) =>
      project.plans.some((entry) => entry.id === plan.id)
        ? { ...project, plans: project.plans.filter((entry) => entry.id !== plan.id) }
        : project,
  };
}
