import type { Project } from '../../../pattern/exchange/project.ts';
import { t } from '../../strings/index.ts';

/** The material that pieces go to when none is named, so that their counts have a place: the main one. */
export function usualMaterial(project: Pick<Project, 'materials'>): string {
  const main = project.materials.find((material) => material.role === 'main') ?? project.materials[0];
  return main?.name ?? t.cloths.firstMaterial;
}
