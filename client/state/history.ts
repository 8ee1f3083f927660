import { settleProject } from '../../pattern/cutList/index.ts';
import type { Project } from '../../pattern/exchange/project.ts';
import type { Command, CommandName } from './command.ts';

/** A step that can be taken back or made again, with the document on its other side. */
interface Step {
  readonly name: CommandName;
  readonly subject: string;
  readonly project: Project;
}

/** The document and every step of this session around it. Snapshots share what did not change, so none is dropped. */
export interface History {
  readonly past: readonly Step[];
  readonly present: Project;
  readonly future: readonly Step[];
  /** Key of the step that the next command may still join, or null. */
  readonly open: string | null;
}

export function beginHistory(project: Project): History {
  return { past: [], present: project, future: [], open: null };
}

/**
 * Runs a command, and works out what follows from it: variants, layers. A command that changes nothing leaves no step
 * behind.
 */
export function perform(history: History, command: Command): History {
  const changed = command.run(history.present);
  if (changed === history.present) return history;
  const next = settleProject(changed);
  const joins = command.together !== undefined && command.together === history.open;
  const past = joins
    ? history.past
    : [...history.past, { name: command.name, subject: command.subject, project: history.present }];
  return { past, present: next, future: [], open: command.together ?? null };
}

/** Closes the open step: the next command begins a new one. */
export function seal(history: History): History {
  return history.open === null ? history : { ...history, open: null };
}

/** Drops the open step as if it had never been begun: a drag that was called off. */
export function takeBack(history: History, together: string): History {
  const step = history.past.at(-1);
  if (!step || history.open !== together) return history;
  return { past: history.past.slice(0, -1), present: step.project, future: [], open: null };
}

export function undo(history: History): History {
  const step = history.past.at(-1);
  if (!step) return history;
  return {
    past: history.past.slice(0, -1),
    present: step.project,
    future: [{ ...step, project: history.present }, ...history.future],
    open: null,
  };
}

export function redo(history: History): History {
  const step = history.future[0];
  if (!step) return history;
  return {
    past: [...history.past, { ...step, project: history.present }],
    present: step.project,
    future: history.future.slice(1),
    open: null,
  };
}

/**
 * Changes the document in every snapshot, so that undo neither shows nor loses it. For what is no edit: a layout
 * that came back from the engine, the unit lengths are shown in.
 */
export function amendEverywhere(history: History, change: (project: Project) => Project): History {
  const amend = (step: Step): Step => ({ ...step, project: change(step.project) });
  return {
    past: history.past.map(amend),
    present: change(history.present),
    future: history.future.map(amend),
    open: history.open,
  };
}
