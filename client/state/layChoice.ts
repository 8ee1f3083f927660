import type { LayChoice, Project } from '../../pattern/exchange/project.ts';

/** How a material is to be laid: what the maker chose, or each of its cloths in a single layer. */
export function choiceFor(project: Project, materialId: string): LayChoice {
  const own = project.cloths.filter((cloth) => cloth.materialId === materialId).map((cloth) => cloth.id);
  const chosen = project.layChoices.find((choice) => choice.materialId === materialId);
  if (!chosen) return { materialId, clothIds: own, spread: 'single' };
  const clothIds = chosen.clothIds.filter((id) => own.includes(id));
  return { ...chosen, clothIds: clothIds.length > 0 ? clothIds : own };
}
