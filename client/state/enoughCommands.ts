import { type Concession, concede } from '../../pattern/enough/index.ts';
import type { Cloth, LayChoice, Project } from '../../pattern/exchange/project.ts';
import type { Command } from './command.ts';
import { choiceFor } from './layChoice.ts';

/** Makes a concession in the project; one that makes no sense any longer changes nothing. */
export function makeConcession(materialId: string, concession: Concession, subject: string): Command {
  return {
    name: 'concede',
    subject,
    run: (project) => concede(project, choiceFor(project, materialId), concession)?.project ?? project,
  };
}

/**
 * What is asked about: on a remnant, whether the remnants alone hold everything, though a roll may take what they
 * leave; on a roll the whole choice.
 */
export function choiceAskedAbout(project: Project, cloth: Cloth): LayChoice {
  const choice = choiceFor(project, cloth.materialId);
  if (cloth.kind === 'roll') return choice;
  const isRemnant = (id: string): boolean =>
    project.cloths.some((entry) => entry.id === id && entry.kind === 'remnant');
  const own = project.cloths.filter(({ materialId }) => materialId === cloth.materialId).map(({ id }) => id);
  const chosen = choice.clothIds.length === 0 ? own : choice.clothIds;
  return { ...choice, clothIds: chosen.filter(isRemnant) };
}
