import type { Project } from '../../pattern/exchange/project.ts';

/** Every change to the document has one of these names; the words for it live in the strings. */
export const COMMAND_NAMES = [
  'addPieces',
  'renamePiece',
  'turnGrain',
  'turnTop',
  'setFold',
  'setMotif',
  'setMatches',
  'splitPiece',
  'setLine',
  'setAllowance',
  'resizePiece',
  'swapGrain',
  'swapAllGrains',
  'removeHole',
  'mendPiece',
  'settleSize',
  'notePiece',
  'copyPiece',
  'addVariant',
  'changeVariant',
  'detachVariant',
  'joinParts',
  'takeApart',
  'forgetJoint',
  'setCorners',
  'setEdgeAllowance',
  'removePieces',
  'addMaterial',
  'renameMaterial',
  'setRole',
  'removeMaterial',
  'setCount',
  'makePairs',
  'moveRow',
  'moveAll',
  'setCompanion',
  'setSizing',
  'setByArea',
  'fuseBlock',
  'unfuseBlock',
  'followAgain',
  'holdBack',
  'setElsewhere',
  'setJoins',
  'setSets',
  'addCloth',
  'changeCloth',
  'reshapeRemnant',
  'changeFlaws',
  'copyCloth',
  'removeCloth',
  'chooseLay',
  'setOffers',
  'takeBasket',
  'keepPlan',
  'renamePlan',
  'removePlan',
  'usePlan',
  'movePlaced',
  'turnPlaced',
  'mirrorPlaced',
  'swapPlaced',
  'parkPlaced',
  'putPlaced',
  'lockPlaced',
  'handOver',
  'packRest',
  'tidyLay',
  'clearTicks',
  'setTable',
  'chooseToCut',
  'addNotion',
  'changeNotion',
  'removeNotion',
  'concede',
  'renameProject',
  'noteProject',
  'takeTheirs',
  'joinTheirs',
  'restoreVersion',
] as const;
export type CommandName = (typeof COMMAND_NAMES)[number];

/** One change, named and pure: the same command on the same document gives the same document. */
export interface Command {
  readonly name: CommandName;
  /** What it is done to, in the maker's words, for the undo button: "Flap". */
  readonly subject: string;
  /** Commands in a row with the same key become one undo step: a name typed letter by letter, a drag. */
  readonly together?: string;
  readonly run: (project: Project) => Project;
}

/** Replaces the entry with this id; the list itself comes back when nothing changed, so that it compares equal. */
export function replaceById<T extends { readonly id: string }>(
  list: readonly T[],
  id: string,
  change: (entry: T) => T,
): readonly T[] {
  let touched = false;
  const next = list.map((entry) => {
    if (entry.id !== id) return entry;
    const changed = change(entry);
    if (changed !== entry) touched = true;
    return changed;
  });
  return touched ? next : list;
}
