import { PROJECT_FORMAT, PROJECT_VERSION, type Project } from './project.ts';

/** A project with nothing in it yet. */
export function emptyProject(name: string, units: Project['units'] = 'cm'): Project {
  return {
    format: PROJECT_FORMAT,
    version: PROJECT_VERSION,
    name,
    notes: '',
    units,
    pieces: [],
    materials: [],
    cutList: [],
    cloths: [],
    layChoices: [],
    plans: [],
    cutting: { tableMm: null, ticks: [], notions: [], cutBy: [] },
  };
}
