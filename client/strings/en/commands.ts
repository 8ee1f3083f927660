import type { CommandName } from '../../state/command.ts';
import { many } from './words.ts';

/** What each command is called on the undo button; `subject` is the maker's own name of the thing. */
export const did: Readonly<Record<CommandName, (subject: string) => string>> = {
  addPieces: (subject) =>
    /^\d+$/.test(subject) ? `add ${many(Number(subject), 'piece')}` : `add ${subject}`,
  renamePiece: (subject) => `rename ${subject}`,
  turnGrain: (subject) => `turn the grain of ${subject}`,
  turnTop: (subject) => `turn the top of ${subject}`,
  setFold: (subject) => `change the fold edge of ${subject}`,
  setLine: (subject) => `cut or sew line of ${subject}`,
  setAllowance: (subject) => `allowance of ${subject}`,
  resizePiece: (subject) => `size of ${subject}`,
  swapGrain: (subject) => `swap along and across of ${subject}`,
  swapAllGrains: (subject) => `swap along and across of ${many(Number(subject), 'piece')}`,
  mendPiece: (subject) => `mend ${subject}`,
  removeHole: (subject) => `close a hole of ${subject}`,
  notePiece: (subject) => `notes on ${subject}`,
  copyPiece: (subject) => `duplicate ${subject}`,
  removePieces: (subject) =>
    /^\d+$/.test(subject) ? `remove ${many(Number(subject), 'piece')}` : `remove ${subject}`,
  addMaterial: (subject) => `add ${subject}`,
  renameMaterial: (subject) => `rename ${subject}`,
  setRole: (subject) => `what ${subject} is for`,
  removeMaterial: (subject) => `remove ${subject}`,
  setCount: (subject) => `count of ${subject}`,
  makePairs: (subject) => `mirrored pairs of ${subject}`,
  moveRow: (subject) => `material of ${subject}`,
  addCloth: (subject) => `add ${subject}`,
  changeCloth: (subject) => `change ${subject}`,
  reshapeRemnant: (subject) => `outline of ${subject}`,
  changeFlaws: (subject) => `flaws of ${subject}`,
  copyCloth: (subject) => `duplicate ${subject}`,
  removeCloth: (subject) => `remove ${subject}`,
  chooseLay: (subject) => `how ${subject} is laid`,
  keepPlan: (subject) => `keep ${subject}`,
  renamePlan: (subject) => `rename ${subject}`,
  removePlan: (subject) => `remove ${subject}`,
  renameProject: () => 'rename the project',
  noteProject: () => 'project notes',
  takeTheirs: () => 'take the other version',
};
