import type { Solve } from '../../nesting/index.ts';
import type { LayRequest, Notice } from '../exchange/lay.ts';
import type { ClothLay } from '../exchange/project.ts';

/** What a running lay has to show so far. */
export interface LayProgress {
  readonly results: readonly ClothLay[];
  readonly notices: readonly Notice[];
}

/**
 * Lays every material asked for: works out the rules, packs each cloth and spread through `solve`, and reports
 * each better result. Resolves with the last state; rejects only on a fault of ours, never on bad input (that
 * becomes notices). An aborted `signal` ends it soon with what it has.
 */
export async function runLay(
  _request: LayRequest,
  _solve: Solve,
  _report: (progress: LayProgress) => void,
  _signal: AbortSignal,
): Promise<LayProgress> {
  throw new Error('not built yet');
}
