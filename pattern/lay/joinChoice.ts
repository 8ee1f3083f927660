import type { Solve, StopSignal } from '../../nesting/index.ts';
import type { LayRequest } from '../exchange/lay.ts';
import type { ClothLay, CutRow, Project } from '../exchange/project.ts';
import type { LaidRow } from './demands.ts';
import { runLay } from './runLay.ts';

/** Numbers of joins worth a trial; between them little changes. */
const TRIED = [0, 1, 2, 3, 4, 6, 9, 13, 20];
/** A trial gets this share of the time for the lay, at most so many seconds. */
const TRIAL_SHARE = 0.2;
const TRIAL_MOST_S = 2;

/** The project with all rows of a material in so many joins, each at most as many as it may have. */
export function withJoins(project: Project, materialId: string, joins: number): Project {
  return {
    ...project,
    cutList: project.cutList.map(
      (row): LaidRow =>
        row.materialId === materialId && row.joins
          ? { ...row, joinsMade: Math.min(joins, row.joins.most) }
          : row,
    ),
  };
}

/**
 * How many joins the long pieces of a material get: as few as serve. A short lay is tried for each number; the best
 * leaves the fewest copies without a place, then buys the least, and of equal ones it has the fewest joins.
 */
export async function chooseJoins(
  request: LayRequest,
  materialId: string,
  solve: Solve,
  signal: StopSignal,
): Promise<number> {
  const { project } = request;
  const rows = project.cutList.filter((row) => row.materialId === materialId && mayBeJoined(row));
  const most = Math.max(0, ...rows.map((row) => row.joins?.most ?? 0));
  const tried = [...new Set([...TRIED.filter((joins) => joins < most), most])];
  if (most === 0) return 0;
  const seconds = Math.max(0.1, Math.min(TRIAL_MOST_S, TRIAL_SHARE * request.seconds));
  let best = { joins: 0, worth: [Number.POSITIVE_INFINITY, 0] };
  for (const joins of tried) {
    if (signal.aborted) break;
    const trial = { ...request, project: withJoins(project, materialId, joins), seconds };
    const { results } = await runLay(trial, solve, () => {}, signal);
    const worth = worthOf(results.filter((lay) => lay.materialId === materialId));
    if (isBetter(worth, best.worth)) best = { joins, worth };
  }
  return best.joins;
}

const mayBeJoined = (row: CutRow): boolean =>
  row.joins !== undefined && row.plain + row.mirrored + row.onFold > 0;

/** Copies left over, and length to buy, of the best of several lays; less is better. */
function worthOf(results: readonly ClothLay[]): number[] {
  const worths = results.map((lay) => {
    const left = lay.unplaced.reduce(
      (sum, { plain, mirrored, onFold }) => sum + plain + mirrored + onFold,
      0,
    );
    return [lay.verdict === 'fits' ? 0 : 1 + left, lay.buyMm];
  });
  return worths.reduce(
    (best, worth) => (isBetter(worth, best) ? worth : best),
    [Number.POSITIVE_INFINITY, 0],
  );
}

function isBetter(
  [left = 0, buy = 0]: readonly number[],
  [leftThere = 0, buyThere = 0]: readonly number[],
): boolean {
  return left < leftThere || (left === leftThere && buy < buyThere);
}
