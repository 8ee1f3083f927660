import type { ClothLay, Plan, Project } from '../../pattern/exchange/project.ts';
import { type Command, type CommandName, replaceById } from './command.ts';
import { materialMark } from './fingerprint.ts';
import { freshId } from './ids.ts';

/** One lay of a kept plan: what the maker arranges by hand. Latest layouts are written over, so they are copied first. */
export interface LayAddress {
  readonly planId: string;
  readonly clothId: string;
  readonly spread: ClothLay['spread'];
}

const PREFIX = 'hand:';

/** The address as the part of the page's address that says what is open; none of its ids holds a colon. */
export function writeLayAddress({ planId, clothId, spread }: LayAddress): string {
  return [PREFIX.slice(0, -1), planId, clothId, spread].join(':');
}

/** Null for anything else that may be open. */
export function readLayAddress(open: string | null): LayAddress | null {
  if (!open?.startsWith(PREFIX)) return null;
  const [, planId, clothId, spread] = open.split(':');
  if (!planId || !clothId || !spread) return null;
  return { planId, clothId, spread: spread as ClothLay['spread'] };
}

export function layAt(project: Project, { planId, clothId, spread }: LayAddress): ClothLay | null {
  const plan = project.plans.find(({ id }) => id === planId);
  return plan?.results.find((lay) => lay.clothId === clothId && lay.spread === spread) ?? null;
}

/**
 * Keeps the layouts of one material as a plan of their own, to be arranged by hand. The engine's own go on being the
 * latest ones: laying out again never touches what was made by hand.
 */
export function keepForHand(
  project: Project,
  from: Plan,
  materialId: string,
  nameOf: (number: number) => string,
  now: string,
): { command: Command; planId: string } {
  const planId = freshId('plan');
  const names = new Set(project.plans.map((plan) => plan.name));
  let number = 1;
  while (names.has(nameOf(number))) number++;
  const name = nameOf(number);
  const isFresh = from.madeFrom === materialMark(project, materialId);
  const plan: Plan = {
    id: planId,
    name,
    createdAt: now,
    madeFrom: isFresh ? from.madeFrom : 'mixed',
    results: from.results.filter((lay) => lay.materialId === materialId),
  };
  return {
    planId,
    command: {
      name: 'keepPlan',
      subject: name,
      run: (current) => ({ ...current, plans: [...current.plans, plan] }),
    },
  };
}

/** Puts changed lays in the place of those with the same cloth and spread. */
export function arrange(
  { planId }: LayAddress,
  changed: readonly ClothLay[],
  name: CommandName,
  subject: string,
  together?: string,
): Command {
  const isSame = (a: ClothLay, b: ClothLay): boolean => a.clothId === b.clothId && a.spread === b.spread;
  return {
    name,
    subject,
    ...(together === undefined ? {} : { together }),
    run: (project) => {
      const plans = replaceById(project.plans, planId, (plan) => ({
        ...plan,
        results: plan.results.map((lay) => changed.find((other) => isSame(other, lay)) ?? lay),
      }));
      return plans === project.plans ? project : { ...project, plans };
    },
  };
}
