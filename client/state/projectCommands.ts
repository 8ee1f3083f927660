import type { Project } from '../../pattern/exchange/project.ts';
import type { Command } from './command.ts';

export function renameProject(name: string): Command {
  return {
    name: 'renameProject',
    subject: name,
    together: 'project name',
    run: (project) => (project.name === name ? project : { ...project, name }),
  };
}

export function noteProject(notes: string): Command {
  return {
    name: 'noteProject',
    subject: '',
    together: 'project notes',
    run: (project) => (project.notes === notes ? project : { ...project, notes }),
  };
}

/** Which units lengths are shown in: a way of looking, so it is written into every snapshot and never undone. */
export function withUnits(units: Project['units']): (project: Project) => Project {
  return (project) => (project.units === units ? project : { ...project, units });
}

/** Puts someone else's saved version in place of ours, as a step that can be taken back. */
export function takeTheirs(theirs: Project): Command {
  return { name: 'takeTheirs', subject: theirs.name, run: () => theirs };
}

/** Our document joined with someone else's, as a step that can be taken back. */
export function joinTheirs(joined: Project): Command {
  return { name: 'joinTheirs', subject: joined.name, run: () => joined };
}

/** The document as it was at an earlier time; what was made since stays one undo away. @param time as shown */
export function restoreVersion(version: Project, time: string): Command {
  return { name: 'restoreVersion', subject: time, run: () => version };
}
