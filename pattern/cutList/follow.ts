import type { Project } from '../exchange/project.ts';
import { followVariants } from '../variants/index.ts';
import { followLayers } from './layers.ts';

/**
 * Everything in a project that follows from something else, worked out: variants from their pieces, layers from the
 * materials that ask for them. To be run after each change, so that whoever reads the document finds it settled. The
 * same object comes back where nothing changed.
 */
export function settleProject(project: Project): Project {
  return followLayers(followVariants(project));
}
