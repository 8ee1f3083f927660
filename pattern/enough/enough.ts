import { signedArea } from '../../nesting/geometry/rings.ts';
import type { Solve, StopSignal } from '../../nesting/index.ts';
import { layRequestSchema } from '../exchange/lay.ts';
import type { ClothLay, LayChoice, Project } from '../exchange/project.ts';
import { demandsFor } from '../lay/demands.ts';
import { layProject } from '../lay/layProject.ts';
import { type Conceded, type Concession, concede, concessionsFor } from './concessions.ts';

/** Whether the cloth at hand is enough for a material, and if not, how near it comes. */
export interface Judgement {
  readonly verdict: 'fits' | 'cannot fit' | 'not found';
  readonly results: readonly ClothLay[];
  /** What has no place in the best of them: how many copies of which piece. */
  readonly missing: readonly { readonly pieceId: string; readonly copies: number }[];
  /** By how much the shortest lay exceeds what there is of a roll, in mm; 0 if it doesn't. */
  readonly shortMm: number;
  /** Why it cannot fit, or what is missing, in words for the maker. */
  readonly reason?: string;
}

/** A concession that makes everything fit, with the layouts that show it. */
export interface Remedy {
  readonly concession: Concession;
  readonly conceded: Conceded;
  readonly results: readonly ClothLay[];
}

export interface EnoughProgress {
  readonly judgement: Judgement | null;
  readonly remedies: readonly Remedy[];
  /** How many concessions have been tried, and how many there are. */
  readonly tried: number;
  readonly of: number;
}

export interface EnoughRequest {
  readonly project: Project;
  readonly choice: LayChoice;
  /** How long to look, for the lay itself and for each concession. */
  readonly seconds: number;
  readonly seed: number;
  /** As in a lay: stops each search after so many steps. */
  readonly maxSteps?: number;
}

/** Amounts of a concession are narrowed down to this, mm. */
const FINEST_MM = 1;

/**
 * Is it enough? Lays the material as chosen, and if not everything has a place tries single concessions one after the
 * other, cheapest first; each that makes it fit is reported with its layouts as soon as it is found. Where a concession
 * has an amount, the least that is enough is looked for. Nothing is said about a concession that was not found to work:
 * the search may only have been too short.
 */
export async function isItEnough(
  request: EnoughRequest,
  solve: Solve,
  report: (progress: EnoughProgress) => void,
  signal: StopSignal,
): Promise<EnoughProgress> {
  const judge = async ({ project, choice }: Conceded): Promise<Judgement> =>
    judgementOf(project, choice, await lay(request, project, choice, solve, signal));
  const asked: Conceded = { project: request.project, choice: request.choice };
  const judgement = await judge(asked);
  const missing = judgement.missing.map(({ pieceId }) => pieceId);
  const candidates =
    judgement.verdict === 'fits' || signal.aborted
      ? []
      : concessionsFor(request.project, request.choice, missing).filter(
          ({ kind }) => !lacksArea(request) || CHANGES_AREA.has(kind),
        );
  const remedies: Remedy[] = [];
  let tried = 0;
  const progress = (): EnoughProgress => ({
    judgement,
    remedies: [...remedies],
    tried,
    of: candidates.length,
  });
  report(progress());
  /** The concession and what it gives, if it is enough. */
  const attempt = async (concession: Concession): Promise<Remedy | null> => {
    const conceded = concede(request.project, request.choice, concession);
    if (!conceded || signal.aborted) return null;
    const after = await judge(conceded);
    if (after.verdict !== 'fits') return null;
    if (concession.kind !== 'otherMaterial') return { concession, conceded, results: after.results };
    // The piece must not be missing there instead.
    const there = choiceOf(conceded.project, concession.toMaterialId);
    const other = await judge({ project: conceded.project, choice: there });
    if (other.verdict !== 'fits') return null;
    return { concession, conceded, results: [...after.results, ...other.results] };
  };
  for (const concession of candidates) {
    if (signal.aborted) break;
    const most = await attempt(concession);
    if (most) remedies.push(await least(most, attempt, request.project));
    tried++;
    report(progress());
  }
  return progress();
}

/** Concessions that leave less to be cut, or more cloth to cut it from. */
const CHANGES_AREA: ReadonlySet<Concession['kind']> = new Set(['alsoCloth', 'otherMaterial', 'shorter']);

/** Whether the pieces have more area than all remnants chosen: however they are laid, that many do not fit. */
function lacksArea({ project, choice }: EnoughRequest): boolean {
  const own = project.cloths.filter(({ materialId }) => materialId === choice.materialId);
  const chosen = choice.clothIds.length === 0 ? own : own.filter(({ id }) => choice.clothIds.includes(id));
  let cloth = 0;
  for (const entry of chosen) {
    if (entry.kind === 'roll') return false;
    cloth += entry.quantity * Math.abs(signedArea(entry.outline));
  }
  const pieces = demandsFor(project, choice.materialId).demands.reduce(
    (sum, { demand, areaMm2 }) => sum + areaMm2 * (demand.plain + demand.mirrored),
    0,
  );
  return pieces > cloth;
}

/** Halves the amount of a concession that works until the least that still works is known to a millimetre. */
async function least(
  remedy: Remedy,
  attempt: (concession: Concession) => Promise<Remedy | null>,
  project: Project,
): Promise<Remedy> {
  let best = remedy;
  const clothOf = (id: string) => project.cloths.find((cloth) => cloth.id === id);
  const { concession } = remedy;
  if (concession.kind === 'shorter') {
    let [tooLittle, enough] = [0, concession.byMm];
    while (enough - tooLittle > FINEST_MM) {
      const byMm = Math.round((tooLittle + enough) / 2);
      const found = await attempt({ ...concession, byMm });
      if (found) [best, enough] = [found, byMm];
      else tooLittle = byMm;
    }
  } else if (concession.kind === 'gap' || concession.kind === 'margin') {
    const cloth = clothOf(concession.clothId);
    let tooMuch = (concession.kind === 'gap' ? cloth?.gapMm : cloth?.edgeMarginMm) ?? 0;
    let enough = concession.toMm;
    while (tooMuch - enough > FINEST_MM) {
      const toMm = Math.round((tooMuch + enough) / 2);
      const found = await attempt({ ...concession, toMm });
      if (found) [best, enough] = [found, toMm];
      else tooMuch = toMm;
    }
  }
  return best;
}

async function lay(
  { seconds, seed, maxSteps }: EnoughRequest,
  project: Project,
  choice: LayChoice,
  solve: Solve,
  signal: StopSignal,
): Promise<readonly ClothLay[]> {
  const bare = { ...project, plans: [] };
  const request = layRequestSchema.parse({
    project: bare,
    choices: [choice],
    seconds,
    seed,
    ...(maxSteps === undefined ? {} : { maxSteps }),
  });
  return (await layProject(request, solve, () => undefined, signal)).results;
}

/** The project's own way to lay a material. */
export function choiceOf(project: Project, materialId: string): LayChoice {
  return (
    project.layChoices.find((choice) => choice.materialId === materialId) ?? {
      materialId,
      clothIds: [],
      spread: 'single',
    }
  );
}

/** What the layouts of one material come to: remnants first, and what they leave on one of the rolls. */
export function judgementOf(project: Project, choice: LayChoice, results: readonly ClothLay[]): Judgement {
  const kindOf = (lay: ClothLay) => project.cloths.find(({ id }) => id === lay.clothId)?.kind;
  const own = results.filter((lay) => lay.materialId === choice.materialId);
  const onRolls = own.filter((lay) => kindOf(lay) === 'roll');
  const remnants = own.filter((lay) => kindOf(lay) === 'remnant');
  // Each remnant gets what those before it have left, so the last one tells what is left of all.
  const last = remnants.at(-1);
  const complete = onRolls.find((lay) => lay.verdict === 'fits');
  if (complete || (last && last.unplaced.length === 0 && onRolls.length === 0))
    return { verdict: 'fits', results: own, missing: [], shortMm: 0 };
  const copies = (lay: ClothLay): number =>
    lay.unplaced.reduce((sum, entry) => sum + entry.plain + entry.mirrored + entry.onFold, 0);
  const ends = onRolls.length > 0 ? onRolls : last ? [last] : [];
  const nearest = [...ends].sort((a, b) => copies(a) - copies(b) || a.usedMm - b.usedMm)[0];
  const roll = project.cloths.find(({ id }) => id === nearest?.clothId);
  const available = roll?.kind === 'roll' ? roll.availableMm : null;
  const shortMm =
    available === null || available === undefined || !nearest ? 0 : Math.max(0, nearest.usedMm - available);
  const isProved = ends.length > 0 && ends.every((lay) => lay.verdict === 'cannot fit');
  return {
    verdict: isProved ? 'cannot fit' : 'not found',
    results: own,
    missing: (nearest?.unplaced ?? []).map(({ pieceId, plain, mirrored, onFold }) => ({
      pieceId,
      copies: plain + mirrored + onFold,
    })),
    shortMm,
    ...(nearest?.reason === undefined ? {} : { reason: nearest.reason }),
  };
}
