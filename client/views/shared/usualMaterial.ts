import type { Project } from '../../../pattern/exchange/project.ts';
import type { NameMaterial } from '../../reading/picking.ts';
import { t } from '../../strings/index.ts';

/** The material that pieces go to when none is named, so that their counts have a place: the main one. */
export function usualMaterial(project: Pick<Project, 'materials'>): string {
  const main = project.materials.find((material) => material.role === 'main') ?? project.materials[0];
  return main?.name ?? t.cloths.firstMaterial;
}

/**
 * The project's material for a word of the pattern: one called so, else one that is for the same, else a new one with
 * the usual name, whatever the pattern calls it here and there.
 */
export function materialNamer({ materials }: Pick<Project, 'materials'>): NameMaterial {
  return (role, word) => {
    if (role === null || word === null) return '';
    const called = materials.find(({ name }) => name.toLocaleLowerCase().includes(word));
    const alike = materials.find((material) => material.role === role);
    const usual =
      role === 'other' ? word.charAt(0).toLocaleUpperCase() + word.slice(1) : t.drawing.usualNames[role];
    return called?.name ?? alike?.name ?? usual;
  };
}
