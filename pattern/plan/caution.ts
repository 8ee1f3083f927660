import type { Cloth, Material, Project } from '../exchange/project.ts';
import type { Language } from '../language.ts';
import { planWords } from './words/index.ts';

/** Materials that give off harmful fumes when heated, by the words that makers use for them in any language. */
const NO_HEAT = /vinyl|pvc|foam|schaum|leatherette|faux leather|kunstleder|polyurethan|\bpu\b/iu;
const FOR_CHILDREN = /child|kids?\b|baby|babies|babys|toddler|infant|\bkind(?:er|s)?/iu;
const CORDS = /cord\b|cords\b|drawstring|strap|\bstring|\bties?\b|kordel|schnur|schnür|träger|\w*band\b/iu;

/** One line of caution for this job. */
export function caution(
  material: Material | undefined,
  cloth: Cloth | undefined,
  project: Pick<Project, 'name' | 'notes' | 'pieces'>,
  language: Language,
): string {
  const words = planWords(language).caution;
  const parts = [words.blade];
  if (isNotToBeHeated(material, cloth)) parts.push(words.heat);
  if (hasCordsForChildren(project)) parts.push(words.cords);
  return parts.join(' ');
}

/** Whether heating the cloth would give off harmful fumes, as far as its names tell. */
export function isNotToBeHeated(material: Material | undefined, cloth: Cloth | undefined): boolean {
  return material?.role === 'foam' || NO_HEAT.test(`${material?.name ?? ''} ${cloth?.name ?? ''}`);
}

/** Such as 16 CFR 1120 on drawstrings; which rules hold where, the maker must know. */
function hasCordsForChildren({ name, notes, pieces }: Pick<Project, 'name' | 'notes' | 'pieces'>): boolean {
  const said = [name, notes, ...pieces.flatMap((piece) => [piece.name, piece.notes])].join(' ');
  return FOR_CHILDREN.test(said) && pieces.some((piece) => CORDS.test(piece.name));
}
