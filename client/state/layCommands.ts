import { layTogether } from '../../pattern/cutList/index.ts';
import { CURRENT_PLAN_PREFIX, isCurrentPlan } from '../../pattern/exchange/currentPlan.ts';
import type { ClothLay, LayChoice, Plan, Project } from '../../pattern/exchange/project.ts';
import { type Command, replaceById } from './command.ts';
import { hashText, materialMark, projectMark } from './fingerprint.ts';
import { freshId } from './ids.ts';

export { choiceFor } from './layChoice.ts';

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
function currentPlanId(materialId: string): string {
  return CURRENT_PLAN_PREFIX + (materialId.length <= 58 ? materialId : hashText(materialId));
}

export function currentPlan(project: Project, materialId: string): Plan | undefined {
  const id = currentPlanId(materialId);
  return project.plans.find((plan) => plan.id === id);
}

/** Whether pieces, counts or cloths of the material have changed since the plan was made. */
export function isOutOfDate(project: Project, plan: Plan, materialId: string): boolean {
  return plan.madeFrom !== materialMark(project, materialId);
}

/** Whether a kept plan still is what the project asks for; a plan of one material is judged by that alone. */
export function isKeptOutOfDate(project: Project, plan: Plan): boolean {
  if (plan.madeFrom === projectMark(project)) return false;
  const materials = new Set(plan.results.map((lay) => lay.materialId));
  return ![...materials].every((id) => materials.size === 1 && plan.madeFrom === materialMark(project, id));
}

export function keptPlans(project: Project): readonly Plan[] {
  return project.plans.filter((plan) => !isCurrentPlan(plan));
}

/**
 * Writes what a run gave for one material into the document, as `recordLay` does. Materials that share pieces (one may
 * be cut from another's cloth) are of one run: their layouts tell together what is cut where, so they are taken whole
 * and never mixed with those of another run. Such a material may be left with nothing to cut, and then says so.
 * @param run all its results, and whether it came to its end
 */
export function recordOfRun(
  materialId: string,
  name: string,
  run: { readonly results: readonly ClothLay[]; readonly isDone: boolean },
  mark: string,
  now: string,
): (project: Project) => Project {
  const own = run.results.filter((result) => result.materialId === materialId);
  return (project) => {
    const group = layTogether(project, [materialId]);
    if (group.length <= 1) {
      return own.length === 0 ? project : recordLay(materialId, name, own, mark, now)(project);
    }
    const isWhole = group.every((id) => run.results.some((result) => result.materialId === id));
    return run.isDone || isWhole ? withPlan(project, materialId, name, own, mark, now) : project;
  };
}

function withPlan(
  project: Project,
  materialId: string,
  name: string,
  results: readonly ClothLay[],
  mark: string,
  now: string,
): Project {
  const id = currentPlanId(materialId);
  const at = project.plans.findIndex((entry) => entry.id === id);
  const plan: Plan = { id, name, createdAt: now, madeFrom: mark, results };
  return { ...project, plans: at < 0 ? [...project.plans, plan] : project.plans.with(at, plan) };
}

/**
 * Writes the latest layouts of one material into the document. Not a command: a result is no edit, it goes into
 * every snapshot (see `amendEverywhere`) and is judged out of date by its mark. Better layouts of an earlier run are
 * kept as long as they still are what is asked for, so that laying out again never loses anything.
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
  return (project) => {
    const old = currentPlan(project, materialId);
    const kept = old?.madeFrom === mark ? betterOf(project, old.results, results) : results;
    return old && kept === old.results ? project : withPlan(project, materialId, name, kept, mark, now);
  };
}

/**
 * The better layouts of two runs for the same cloths. Rolls are alternatives to each other and are judged one by one;
 * where a remnant comes first, what it leaves decides the rest, so that only whole runs can be compared.
 */
function betterOf(
  project: Project,
  old: readonly ClothLay[],
  fresh: readonly ClothLay[],
): readonly ClothLay[] {
  const remnants = new Set(project.cloths.flatMap((cloth) => (cloth.kind === 'remnant' ? [cloth.id] : [])));
  const hasRemnant = [...old, ...fresh].some((lay) => remnants.has(lay.clothId));
  if (hasRemnant) return isWorse(worth(fresh), worth(old)) ? old : fresh;
  const keyOf = (lay: ClothLay): string => `${lay.clothId} ${lay.spread}`;
  const known = new Map(old.map((lay) => [keyOf(lay), lay]));
  const better = fresh.map((lay) => {
    const before = known.get(keyOf(lay));
    return before && isWorse(worth([lay]), worth([before])) ? before : lay;
  });
  const found = new Set(fresh.map(keyOf));
  return [...better, ...old.filter((lay) => !found.has(keyOf(lay)))];
}

/** Copies without a place after all cloths, length of the best roll, layouts missing: the first that differs decides. */
type Worth = readonly [unplaced: number, usedMm: number, layouts: number];

function worth(lays: readonly ClothLay[]): Worth {
  const open = lays.map((lay) =>
    lay.unplaced.reduce((sum, entry) => sum + entry.plain + entry.mirrored + entry.onFold, 0),
  );
  const complete = lays.filter((_, index) => open[index] === 0).map((lay) => lay.usedMm);
  return [
    open.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...open),
    complete.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...complete),
    -lays.length,
  ];
}

function isWorse(a: Worth, b: Worth): boolean {
  const differing = a.findIndex((value, index) => value !== b[index]);
  return differing >= 0 && (a[differing] ?? 0) > (b[differing] ?? 0);
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

/**
 * Goes back to a kept plan: its layouts become the latest ones of their materials, which are cut from and printed. What
 * was the latest is there again after an undo; the kept plan stays.
 * @param now ISO time
 */
export function usePlan(plan: Plan, now: string): Command {
  const ids = [...new Set(plan.results.map(({ materialId }) => materialId))];
  return {
    name: 'usePlan',
    subject: plan.name,
    run: (project) => {
      const mark = (id: string): string =>
        isKeptOutOfDate(project, plan) ? 'mixed' : materialMark(project, id);
      return ids.reduce((changed, id) => {
        const name = project.materials.find((material) => material.id === id)?.name;
        const own = plan.results.filter(({ materialId }) => materialId === id);
        return name === undefined ? changed : withPlan(changed, id, name, own, mark(id), now);
      }, project);
    },
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
