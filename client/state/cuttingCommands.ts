import type { CutByLay, Notion, Project } from '../../pattern/exchange/project.ts';
import type { Command } from './command.ts';
import { freshId } from './ids.ts';

/**
 * Sets or takes away ticks. No command: a piece that is cut stays cut, whatever step of the pattern is taken back, so
 * it goes into every snapshot (see `amendEverywhere`).
 */
export function withTicks(marks: readonly string[], on: boolean): (project: Project) => Project {
  return (project) => {
    const ticks = new Set(project.cutting.ticks);
    const before = ticks.size;
    const had = marks.filter((mark) => ticks.has(mark)).length;
    if (on ? had === marks.length : had === 0) return project;
    for (const mark of marks) {
      if (on) ticks.add(mark);
      else ticks.delete(mark);
    }
    return ticks.size === before ? project : changed(project, { ticks: [...ticks].sort() });
  };
}

function changed(project: Project, part: Partial<Project['cutting']>): Project {
  return { ...project, cutting: { ...project.cutting, ...part } };
}

export function clearTicks(): Command {
  return {
    name: 'clearTicks',
    subject: '',
    run: (project) => (project.cutting.ticks.length === 0 ? project : changed(project, { ticks: [] })),
  };
}

export function setTable(tableMm: number | null): Command {
  return {
    name: 'setTable',
    subject: '',
    run: (project) => (project.cutting.tableMm === tableMm ? project : changed(project, { tableMm })),
  };
}

/** Which of several layouts of a material's rolls is cut: all that is taken to the table goes by it. */
export function chooseToCut(choice: CutByLay, material: string): Command {
  return {
    name: 'chooseToCut',
    subject: material,
    run: (project) => {
      const { cutBy } = project.cutting;
      const at = cutBy.findIndex(({ materialId }) => materialId === choice.materialId);
      const old = cutBy[at];
      if (old?.clothId === choice.clothId && old.spread === choice.spread) return project;
      return changed(project, { cutBy: at < 0 ? [...cutBy, choice] : cutBy.with(at, choice) });
    },
  };
}

export function addNotion(name: string): Command {
  const id = freshId('notion');
  return {
    name: 'addNotion',
    subject: name,
    run: (project) =>
      changed(project, {
        notions: [...project.cutting.notions, { id, name, amount: '', costCents: null, bought: false }],
      }),
  };
}

export function changeNotion(notion: Notion, part: Partial<Omit<Notion, 'id'>>): Command {
  return {
    name: 'changeNotion',
    subject: notion.name,
    together: `notion ${notion.id} ${Object.keys(part).join(' ')}`,
    run: (project) =>
      changed(project, {
        notions: project.cutting.notions.map((entry) =>
          entry.id === notion.id ? { ...entry, ...part } : entry,
        ),
      }),
  };
}

export function removeNotion(notion: Notion): Command {
  return {
    name: 'removeNotion',
    subject: notion.name,
    run: (project) =>
      changed(project, { notions: project.cutting.notions.filter(({ id }) => id !== notion.id) }),
  };
}
