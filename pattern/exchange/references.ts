import type { Notice } from './lay.ts';
import type { Project } from './project.ts';

/** Checks between the parts of a project that no schema of a single part can make: ids that meet their things. */

/** Two things with one id: such a project can't be edited safely. */
export function duplicateIds(project: Project): Notice[] {
  const kinds = [
    ['pieces', project.pieces],
    ['materials', project.materials],
    ['cloths', project.cloths],
    ['plans', project.plans],
  ] as const;
  return kinds.flatMap(([kind, things]) => {
    const seen = new Map<string, string>();
    return things.flatMap((thing): Notice[] => {
      const first = seen.get(thing.id);
      if (first === undefined) {
        seen.set(thing.id, thing.name);
        return [];
      }
      const text = `two ${kind}, “${first}” and “${thing.name}”, have the same id “${thing.id}”.`;
      return [{ level: 'error', code: 'duplicateId', text }];
    });
  });
}

/** Ids that point nowhere: rows, cloths and choices that can't be worked with until they are mended. */
export function danglingIds(project: Project): Notice[] {
  const pieces = new Set(project.pieces.map((piece) => piece.id));
  const materials = new Map(project.materials.map((material) => [material.id, material.name]));
  const cloths = new Set(project.cloths.map((cloth) => cloth.id));
  const found: Notice[] = [];
  const error = (text: string, about: Partial<Notice> = {}): void => {
    found.push({ level: 'error', code: 'danglingId', text, ...about });
  };
  project.cutList.forEach(({ pieceId, materialId }, index) => {
    const row = `Row ${index + 1} of the cut list`;
    if (!pieces.has(pieceId)) error(`${row} calls for the piece “${pieceId}”, which is not in the project.`);
    if (!materials.has(materialId)) {
      error(`${row} calls for the material “${materialId}”, which is not in the project.`);
    }
  });
  for (const { id, name, materialId } of project.cloths) {
    if (materials.has(materialId)) continue;
    error(`The cloth “${name}” is for the material “${materialId}”, which is not in the project.`, {
      clothId: id,
    });
  }
  for (const { materialId, clothIds } of project.layChoices) {
    const material = materials.get(materialId);
    if (material === undefined) {
      error(`A lay choice is for the material “${materialId}”, which is not in the project.`);
    }
    for (const clothId of clothIds) {
      if (cloths.has(clothId)) continue;
      error(
        `The lay of “${material ?? materialId}” names the cloth “${clothId}”, which is not in the project.`,
      );
    }
  }
  return found;
}
