import type { CommandName } from '../../state/command.ts';
import type { StepName } from '../../state/route.ts';
import { did } from './commands.ts';
import { many } from './words.ts';

/** The frame of the page: header, saving, projects, steps, words used everywhere. */

const stepName: Readonly<Record<StepName, string>> = {
  pieces: 'Pieces',
  cutlist: 'Cut list',
  cloths: 'Cloths',
  plan: 'Lay plan',
  cut: 'Cutting',
};

export const app = {
  name: 'clothlay',
  skip: 'Skip to the work',
  loading: 'Opening your project …',
  failed: 'The project could not be opened.',
  again: 'Try again',
  partMissing: 'This part of the page could not be fetched: there is no connection.',
};

export const header = {
  projects: 'Projects',
  projectName: 'Project name',
  units: 'Units',
  unitNames: { cm: 'cm', mm: 'mm', in: 'inch' },
  undo: 'Undo',
  redo: 'Redo',
  undoWhat: (what: string) => `Undo: ${what}`,
  redoWhat: (what: string) => `Redo: ${what}`,
  theme: 'Light or dark',
  themeNames: { auto: 'Auto', light: 'Light', dark: 'Dark' },
  language: 'Language',
  more: 'Project and settings',
};

export const signIn = {
  title: 'Sign in to the workshop',
  text: 'This clothlay is shared on a network and asks for its password.',
  again: 'Your session has ended. Your work is still here: sign in to go on.',
  password: 'Password',
  show: 'Show what I type',
  go: 'Sign in',
  help: 'Whoever started clothlay knows it. If none was set, the key is at the end of the address it printed.',
  missing: 'Type the password.',
  wrong: 'That is not the password.',
  tooMany: 'Too many wrong passwords. Wait a quarter of an hour and try again.',
  out: 'Sign out',
};

export const saving = {
  saved: 'Saved',
  saving: 'Saving …',
  offline: 'Not saved: no connection',
  unreachable: 'The server does not answer.',
  keptHere: 'Your work is kept in this browser, and sent as soon as it can be.',
  keptNowhere: 'This browser can’t keep your work either: save the project to a file now.',
  refused: 'Not saved',
  refusedWhy: (reason: string) => `The server did not take it: ${reason}`,
  conflict: 'Not saved: changed elsewhere',
  tryAgain: 'Try again',
  toFile: 'Save to a file',
  asNew: 'Keep as a new project',
  details: 'About saving',
};

export const versions = {
  title: 'Earlier versions',
  help: 'Every change is kept for a while: the latest ones all, then one an hour, then one a day. Going back is a step like any other: Undo takes it back.',
  none: 'There is no earlier version yet.',
  look: 'Compare',
  lookAt: (time: string) => `Compare the version of ${time} with now`,
  goBack: 'Go back to this version',
  same: 'The same as now.',
  since: 'Since then:',
  loading: 'Looking …',
  added: (names: string) => `added: ${names}`,
  removed: (names: string) => `removed: ${names}`,
  changed: (names: string) => `changed: ${names}`,
  kinds: {
    pieces: 'Pieces',
    materials: 'Materials',
    cutList: 'Cut list',
    cloths: 'Cloths',
    plans: 'Plans',
    rest: 'Project',
  },
  rest: {
    name: 'name',
    notes: 'notes',
    layChoices: 'how it is laid',
    sets: 'sets',
    matches: 'edges to match',
    cutting: 'work at the table',
  },
};

export const conflict = {
  title: 'Someone else changed this project',
  text: (name: string, time: string) =>
    `“${name}” was saved in another window or by someone else (${time}) while you were working on it. Nothing is overwritten until you choose.`,
  joinable: 'Changes to different things are joined. Both of you changed these:',
  removed: 'removed by one, changed by the other',
  joinMine: 'Join, and keep mine for these',
  joinTheirs: 'Join, and take theirs for these',
  takeTheirs: 'Take their version',
  takeTheirsHelp: 'Yours stays one Undo away.',
  keepBoth: 'Keep mine as a copy',
  keepBothHelp: 'Theirs stays as it is; yours becomes a project of its own.',
};

export const session = {
  untitled: 'New project',
  undoLabel: 'Undo',
  copyOf: (name: string) => `${name} (copy)`,
  mineOf: (name: string) => `${name} (mine)`,
  deleted: (name: string) => `“${name}” is deleted.`,
  opened: (name: string) => `“${name}” is open.`,
  updatedElsewhere: 'Brought up to date: this project was changed in another window.',
  restoredUnsent: 'Work that had not been sent when you left is back.',
  fromCopy:
    'No connection. This is the project as this browser had it last. Go on working: it is kept here, and sent when the server answers.',
  newerPage: 'clothlay was updated. This page is still the one before.',
  loadAnew: 'Load the new one',
  joined: 'This project was changed elsewhere too. Both are joined: nothing of either is lost.',
  wentBack: (time: string) => `The project is as it was on ${time}.`,
  stepsNotKept:
    'This browser keeps no steps (it has no room, or forbids it): Undo reaches back as far as this visit.',
  layers: (material: string, added: readonly string[], gone: readonly string[]) =>
    [
      added.length > 0
        ? `${material} follows: ${added.join(', ')} ${added.length === 1 ? 'is' : 'are'} cut from it now.`
        : '',
      gone.length > 0
        ? `${gone.join(', ')} ${gone.length === 1 ? 'is' : 'are'} no longer asked for in ${material} and ${gone.length === 1 ? 'is' : 'are'} gone from it.`
        : '',
    ]
      .filter((part) => part !== '')
      .join(' '),
  undid: (name: CommandName, subject: string) => `Undone: ${did[name](subject)}`,
  redid: (name: CommandName, subject: string) => `Done again: ${did[name](subject)}`,
  layLost: 'The server lost this lay. Lay out again to go on.',
  layFailed: 'The lay failed. Lay out again; if it keeps failing, save the project to a file and tell us.',
  unreachable: 'The server does not answer. Is it still running?',
};

export const projects = {
  title: 'Projects',
  new: 'New project',
  open: 'Open',
  isOpen: 'open now',
  duplicate: 'Duplicate',
  delete: 'Delete',
  changed: (time: string) => `changed ${time}`,
  openFile: 'Open a file',
  saveFile: 'Save to a file',
  fileHelp: 'A file holds the whole project: keep it as a backup or pass it on.',
  fileTooBig: 'This file is too large to be a project.',
  openNamed: (name: string) => `Open ${name}`,
  duplicateNamed: (name: string) => `Duplicate ${name}`,
  deleteNamed: (name: string) => `Delete ${name}`,
  notes: 'Notes on this project',
};

/** Refusals of the server by the last part of their type, for whoever does not read its own words. */
export const serverProblems: Readonly<Record<string, string>> = {
  'stale-revision': 'It was changed in another window meanwhile. Nothing was stored.',
  'body-too-large': 'It is larger than the server takes.',
  'too-many-requests': 'So many requests came within a minute that the next ones wait.',
  'queue-full': 'So many lays are waiting that no more fit. Try again when one has ended.',
  'your-queue-full': 'As many lays wait for you as one may have. Try again when one has ended.',
  'queue-unreachable': 'The queue of lays does not answer. Try again in a moment.',
  'files-full': 'So many files are being made that this one finds no place. Try again in a moment.',
  'file-too-much': 'This file takes more than one may. Ask for fewer pieces, or one cloth at a time.',
  'file-broke-down': 'Making the file broke down. Nothing that is stored is changed; try again.',
  restoring: 'A backup is being restored. Wait until it is done.',
  backup: 'This is no backup that can be restored.',
  shelf: 'That is not possible on the shelf: it has changed since.',
  'storage-full': 'The disk is full: nothing was stored. What was stored before is kept.',
  'storage-readOnly': 'The data folder can’t be written: nothing was stored.',
  'storage-damaged': 'The file with the projects is damaged. It was left as it is.',
  'storage-foreign': 'The file with the projects belongs to another program. It was left as it is.',
  'storage-newer': 'The file with the projects was written by a newer version of this program.',
  'storage-busy': 'The file with the projects is in use by another process. Try again in a moment.',
  'storage-moved': 'The file with the projects was moved or deleted: nothing was stored.',
  'storage-unreadable': 'What is stored can’t be read. It was left as it is.',
  'storage-unavailable': 'The file with the projects can’t be opened: nothing was stored.',
  internal: 'The server met a fault of its own; it is in its log. Nothing that was stored is changed.',
  unknown: 'The server does not have it any longer.',
};

export const backup = {
  title: 'Backup of everything',
  help: 'One file with all projects, their earlier versions, deleted ones and the shelf with its pictures. Restoring it never overwrites: what is missing comes back, what differs is put beside.',
  save: 'Save a backup',
  restore: 'Restore a backup',
  working: 'Restoring …',
  done: (time: string) => `Restored the backup of ${time}.`,
  nothingToDo: 'Everything in it is here already.',
  added: (names: string) => `Back again: ${names}.`,
  beside: (names: string) => `Different here, so put beside yours: ${names}.`,
  binned: (names: string) => `Back among the deleted projects: ${names}.`,
  unchanged: (count: number) => `Here already: ${many(count, 'project')}.`,
  shelfAdded: (count: number) => `Back on the shelf: ${many(count, 'cloth')}.`,
  shelfKept: (names: string) => `Changed on the shelf since, and left as they are: ${names}.`,
  leftOut: (names: string) => `Could not be read: ${names}`,
};

export const steps = {
  label: 'Steps of the work',
  name: stepName,
  /** Read out with the name of a step that lacks something. */
  lacks: (count: number) => many(count, 'thing to settle', 'things to settle'),
  next: (name: string) => `On to: ${name}`,
  nothingYet: 'nothing yet',
  pieces: (count: number) => many(count, 'piece'),
  copies: (count: number) => `${count} to cut`,
  cloths: (count: number) => many(count, 'cloth'),
  running: 'laying out …',
  laidOut: 'laid out',
  toLay: (count: number) => `${count} to lay out`,
  cut: (done: number, total: number) => `${done} of ${total} cut`,
};

/** Steps with nothing in them yet. */
export const empty = {
  label: 'Nothing here yet',
  cutlist: [
    'Here each piece gets its counts: from which material, and how many as drawn, mirrored or on the fold.',
    'Totals, linings and interfacing that follow, and hands that don’t pair are worked out from them.',
  ],
  cloths: [
    'A cloth is a roll with its width, or a remnant with its outline and flaws.',
    'What it is like (grain, nap, print, two layers or not) decides how pieces may lie on it. Every material of the cut list is cut from one or more.',
  ],
  plan: [
    'Here the pieces are laid on the cloth: how much to buy, whether a remnant is enough, and the drawing you cut from.',
    'It needs pieces with counts, and a cloth for their material.',
  ],
  cut: [
    'Once it is laid out the cuts stand here in order, straight ones first, to be ticked at the table, on a phone too.',
    'Without a lay plan the pieces of the cut list can be ticked as well.',
  ],
};

export const lacks = {
  title: 'To settle',
  noPieces: 'No pieces yet.',
  pieceFaulty: (name: string, text: string) => `${name}: ${text}`,
  noMaterials: 'No material yet: name what the pieces are cut from.',
  notCut: (names: string) => `Not cut from any material: ${names}.`,
  noCloth: (material: string) => `No cloth for ${material}.`,
  notLaid: (material: string) => `${material}: not laid out yet.`,
  outOfDate: (material: string) => `${material}: changed since it was laid out.`,
  unplaced: (material: string) => `${material}: pieces without a place.`,
  goTo: 'Show',
  goToStep: (name: string) => `Go to: ${name}`,
  goes: {
    pieces: 'Show the piece',
    cutlist: 'Show the cut list',
    cloths: 'Show the cloth',
    plan: 'Show it on the lay plan',
    cut: 'Show the cutting',
  },
  more: (count: number) => `${count} more`,
};

export const common = {
  cancel: 'Cancel',
  close: 'Close',
  remove: 'Remove',
  duplicate: 'Duplicate',
  name: 'Name',
  notes: 'Notes',
  help: 'What does this mean?',
  copyName: (name: string) => `${name} 2`,
  and: (names: readonly string[]) =>
    names.length <= 1 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`,
  andMore: (names: readonly string[], most: number) =>
    names.length <= most
      ? names.join(', ')
      : `${names.slice(0, most).join(', ')} and ${names.length - most} more`,
  needNumber: 'Write a whole number.',
  atMost: (count: number) => `At most ${count}.`,
  needAngle: 'Write an angle in degrees, such as 45.',
  needName: 'A name is missing.',
  needPrice: 'Write an amount such as 12.50.',
};
