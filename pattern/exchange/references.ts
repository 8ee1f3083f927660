import { type Language, USUAL_LANGUAGE } from '../language.ts';
import type { Notice } from './lay.ts';
import type { Project } from './project.ts';
import { exchangeWords } from './words/index.ts';

/** Checks between the parts of a project that no schema of a single part can make: ids that meet their things. */

/** Two things with one id: such a project can't be edited safely. */
export function duplicateIds(project: Project, language: Language = USUAL_LANGUAGE): Notice[] {
  const words = exchangeWords(language);
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
      const text = words.sameId(words.kinds[kind], first, thing.name, thing.id);
      return [{ level: 'error', code: 'duplicateId', text }];
    });
  });
}

/** Ids that point nowhere: rows, cloths and choices that can't be worked with until they are mended. */
export function danglingIds(project: Project, language: Language = USUAL_LANGUAGE): Notice[] {
  const words = exchangeWords(language);
  const pieces = new Set(project.pieces.map((piece) => piece.id));
  const materials = new Map(project.materials.map((material) => [material.id, material.name]));
  const cloths = new Set(project.cloths.map((cloth) => cloth.id));
  const found: Notice[] = [];
  const error = (text: string, about: Partial<Notice> = {}): void => {
    found.push({ level: 'error', code: 'danglingId', text, ...about });
  };
  project.cutList.forEach(({ pieceId, materialId }, index) => {
    if (!pieces.has(pieceId)) error(words.rowPiece(index + 1, pieceId));
    if (!materials.has(materialId)) {
      error(words.rowMaterial(index + 1, materialId));
    }
  });
  for (const { id, name, materialId } of project.cloths) {
    if (materials.has(materialId)) continue;
    error(words.clothMaterial(name, materialId), { clothId: id });
  }
  for (const { materialId, clothIds } of project.layChoices) {
    const material = materials.get(materialId);
    if (material === undefined) {
      error(words.choiceMaterial(materialId));
    }
    for (const clothId of clothIds) {
      if (cloths.has(clothId)) continue;
      error(words.choiceCloth(material ?? materialId, clothId));
    }
  }
  return found;
}
