import type { ClothLay, Project } from '../../pattern/exchange/project.ts';
import type { LayProgress } from '../../pattern/lay/runLay.ts';

/** Exit codes: part of what the command promises. */
export const EXIT = { fits: 0, 'cannot fit': 1, 'not found': 2, error: 3 } as const;
export type Outcome = keyof typeof EXIT;

/** Notices that mean a piece or a cloth was left out, so that no verdict can be given. */
const ERRORS = new Set(['pieceMissing', 'pieceFaulty', 'noCloth', 'noUsableCloth']);

export interface MaterialOutcome {
  readonly materialId: string;
  readonly name: string;
  readonly outcome: Outcome;
  /** Why, in words, where it doesn't fit. */
  readonly reasons: readonly string[];
}

/**
 * What the results of a lay say of each material. Remnants are filled one after the other and the last to be filled
 * settles it; what they leave goes to the rolls, which are alternatives: one that fits is enough. `cannot fit` only
 * where that is proved for the material as a whole, so not where several cloths had to share the pieces.
 */
export function materialOutcomes(project: Project, { results, notices }: LayProgress): MaterialOutcome[] {
  return project.materials.flatMap((material): MaterialOutcome[] => {
    const lays = results.filter((lay) => lay.materialId === material.id);
    const errors = notices.filter((n) => n.materialId === material.id && ERRORS.has(n.code));
    const about = { materialId: material.id, name: material.name };
    if (errors.length > 0) return [{ ...about, outcome: 'error', reasons: errors.map(({ text }) => text) }];
    if (lays.length === 0) {
      if (notices.some((n) => n.materialId === material.id && n.code === 'nothingToCut')) return [];
      return [{ ...about, outcome: 'not found', reasons: ['The search ended before there was a layout.'] }];
    }
    const outcome = outcomeOf(project, lays);
    const reasons = outcome === 'fits' ? [] : lays.flatMap((lay) => lay.reason ?? []);
    return [{ ...about, outcome, reasons: [...new Set(reasons)] }];
  });
}

function outcomeOf(project: Project, lays: readonly ClothLay[]): Outcome {
  if (lays.some((lay) => lay.verdict === 'fits')) return 'fits';
  const remnants = lays.filter(
    (lay) => project.cloths.find((cloth) => cloth.id === lay.clothId)?.kind === 'remnant',
  ).length;
  const proved = lays.every((lay) => lay.verdict === 'cannot fit');
  return proved && (remnants === 0 || lays.length === 1) ? 'cannot fit' : 'not found';
}

/** The worst of all: an error hides what else might be, a proof outweighs a search without success. */
export function overall(outcomes: readonly MaterialOutcome[]): Outcome {
  for (const outcome of ['error', 'cannot fit', 'not found'] as const) {
    if (outcomes.some((entry) => entry.outcome === outcome)) return outcome;
  }
  return 'fits';
}
